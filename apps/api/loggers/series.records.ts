import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import { boilingDeciC, lacks, type LoggerSeries, type ProbeTerms } from '#libs/process';
import { dayMs } from '#libs/quantities';
import { NO_LACK, PROBE_SPANS, probeClasses, seriesSql } from './series-sql.js';

/** A probe in one of its places, for as long as what it told is of the batch and was not set aside. */
export interface ProbeSpan {
  deviceId: string;
  /** Code of the device. */
  logger: string;
  probeId: number;
  position: string;
  placement: number;
  zone: string | null;
  depthMm: number | null;
  fromMs: number;
  /** Excluded. */
  toMs: number;
  /** Readings of the probe in all hours that the span touches, and the last of them. */
  readings: number;
  lastMs: number;
}

// Hours at the edge of a span are counted whole: enough to see that something was added.
const SPANS = `
  ${PROBE_SPANS}
  SELECT d.id AS "deviceId", d.code AS logger, span.probe_id AS "probeId", span.position, l.number AS placement, l.zone,
    l.depth_mm AS "depthMm", (extract(epoch FROM span.from_at) * 1000)::int8 AS "fromMs",
    (extract(epoch FROM span.to_at) * 1000)::int8 AS "toMs", told.readings, told."lastMs"
  FROM probe_span AS span JOIN device d ON d.id = span.device_id JOIN logger_placement l ON l.probe_id = span.probe_id
    CROSS JOIN LATERAL (
      SELECT sum(h.readings)::int8 AS readings, (extract(epoch FROM max(h.last_at)) * 1000)::int8 AS "lastMs"
      FROM logger_hour h
      WHERE h.probe_id = span.probe_id AND h.hour > span.from_at - interval '1 hour' AND h.hour < span.to_at) AS told
  WHERE told.readings > 0
  ORDER BY d.code, d.id, span.probe_id, l.number, span.from_at`;

const FIRST_AND_LAST = `
  SELECT (extract(epoch FROM min(h.first_at)) * 1000)::int8 AS "firstMs",
    (extract(epoch FROM max(h.last_at)) * 1000)::int8 AS "lastMs"
  FROM logger_hour h WHERE h.probe_id = ANY ($1::int[])`;

/** So many days are asked for at once: what is on its way stays small beside what it becomes. */
const DAYS_A_STATEMENT = 31;
const BYTES_AN_INSTANT = 26;
const EPOCH_2000_MS = Date.UTC(2000, 0, 1);

@Injectable()
export class SeriesRecords {
  constructor(private readonly database: Database) {}

  /** Every probe that told anything of a batch from `from` until before `to`, logger by logger. */
  spans(batchId: string, from: Date, to: Date, sql: Sql = this.database.sql): Promise<ProbeSpan[]> {
    return sql.query<ProbeSpan>(SPANS, [batchId, from, to], 'logger-spans');
  }

  /** What probes of one logger show a rule, put together in the database instant by instant. */
  async series(
    logger: string,
    spans: readonly ProbeSpan[],
    terms: ProbeTerms,
    sql: Sql = this.database.sql,
  ): Promise<LoggerSeries> {
    const [told] = await sql.query<{ firstMs: number; lastMs: number }>(FIRST_AND_LAST, [
      spans.map(({ probeId }) => probeId),
    ]);
    const from = Math.max(told?.firstMs ?? Infinity, least(spans.map(({ fromMs }) => fromMs)));
    const to = Math.min((told?.lastMs ?? -Infinity) + 1, -least(spans.map(({ toMs }) => -toMs)));
    const someUnsure = spans.some((span) => classOf(span, terms) === probeClasses.heard);
    const text = seriesSql(terms, someUnsure);
    const days: Buffer[] = [];
    for (let at = from; at < to; at += DAYS_A_STATEMENT * dayMs) {
      const until = Math.min(at + DAYS_A_STATEMENT * dayMs, to);
      const rows = await sql.query<{ columns: Buffer }>(text, valuesOf(spans, terms, at, until));
      days.push(...rows.map(({ columns }) => columns));
    }
    return columnsOf(logger, days);
  }
}

const least = (numbers: readonly number[]): number => numbers.reduce((a, b) => Math.min(a, b), Infinity);

function valuesOf(spans: readonly ProbeSpan[], terms: ProbeTerms, fromMs: number, toMs: number): unknown[] {
  const zones = new Map<string, number>();
  const zoneOf = ({ zone, position }: ProbeSpan) => {
    const name = zone === null ? `at ${position}` : `zone ${zone}`;
    const number = zones.get(name) ?? zones.size;
    zones.set(name, number);
    return number;
  };
  return [
    ...[new Date(fromMs), new Date(toMs)],
    ...[spans.map(({ probeId }) => probeId), spans.map(({ placement }) => placement)],
    ...[spans.map((span) => classOf(span, terms)), spans.map(zoneOf)],
    spans.map((span) => new Date(span.fromMs)),
    spans.map((span) => new Date(Math.min(span.toMs, toMs))),
    ...[terms.minimumProbes, terms.minimumZones, boilingDeciC],
  ];
}

/** Known to be too shallow: set aside. Of unknown depth: can count against the batch only. */
function classOf({ depthMm }: ProbeSpan, { minimumDepthMm }: ProbeTerms): number {
  if (minimumDepthMm === null) return probeClasses.counted;
  if (depthMm === null) return probeClasses.heard;
  return depthMm < minimumDepthMm ? probeClasses.aside : probeClasses.counted;
}

/** The bytes of the days as columns. */
function columnsOf(logger: string, days: readonly Buffer[]): LoggerSeries {
  const length = days.reduce((sum, day) => sum + day.length / BYTES_AN_INSTANT, 0);
  const series = {
    logger,
    atMs: new Float64Array(length),
    lowDeciC: new Float64Array(length),
    highDeciC: new Float64Array(length),
    enough: new Uint8Array(length),
    lack: new Uint8Array(length),
  };
  let row = 0;
  for (const day of days) {
    for (let at = 0; at < day.length; at += BYTES_AN_INSTANT, row += 1) {
      const microseconds = day.readInt32BE(at) * 2 ** 32 + day.readUInt32BE(at + 4);
      series.atMs[row] = EPOCH_2000_MS + microseconds / 1000;
      series.lowDeciC[row] = day.readDoubleBE(at + 8);
      series.highDeciC[row] = day.readDoubleBE(at + 16);
      const lack = day.readUInt16BE(at + 24);
      series.enough[row] = lack === NO_LACK ? 1 : 0;
      series.lack[row] = lack === NO_LACK ? 0 : Math.min(lack, lacks.length - 1);
    }
  }
  return series;
}
