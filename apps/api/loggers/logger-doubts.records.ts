import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { ProbeHour, Verification } from '#libs/process';
import { PROBE_SPANS } from './series-sql.js';

export interface LoggerHour extends ProbeHour {
  deviceId: string;
  logger: string;
}

/** The coldest or the hottest reading of a probe beside a check. */
export interface ReadingBesideRow {
  deviceId: string;
  logger: string;
  atMs: number;
  position: string;
  temperatureDeciC: number;
}

export interface LoggerInstrument {
  deviceId: string;
  instrument: string;
  verifyEveryDays: number | null;
  verifications: Verification[];
}

const ms = (instant: string) => `(extract(epoch FROM ${instant}) * 1000)::int8`;

// Hours in which the batch came or left, or something was set aside, are told only where all that was read in them counts.
const HOURS = `${PROBE_SPANS}
  SELECT d.id AS "deviceId", d.code AS logger, span.position AS probe, ${ms('h.hour')} AS "atMs", h.readings,
    h.min_deci_c AS "minDeciC", h.max_deci_c AS "maxDeciC", h.sum_deci_c::float8 / h.readings AS "meanDeciC"
  FROM probe_span AS span JOIN device d ON d.id = span.device_id
    JOIN logger_hour h ON h.probe_id = span.probe_id AND h.hour > span.from_at - interval '1 hour'
      AND h.hour < span.to_at
  WHERE h.first_at >= span.from_at AND h.last_at < span.to_at`;

// Of each probe the two that lie furthest apart: what is held against the hand is the range.
const BESIDE = `${PROBE_SPANS}
  SELECT d.id AS "deviceId", d.code AS logger, ${ms('extreme.at')} AS "atMs", span.position,
    extreme.t AS "temperatureDeciC"
  FROM unnest($4::timestamptz[]) AS checked CROSS JOIN probe_span AS span JOIN device d ON d.id = span.device_id
    CROSS JOIN LATERAL (
      (SELECT at, temperature_deci_c AS t FROM logger_reading r WHERE r.probe_id = span.probe_id
         AND r.at BETWEEN greatest(checked - $5::interval, span.from_at) AND checked + $5::interval AND r.at < span.to_at
       ORDER BY temperature_deci_c, at LIMIT 1)
      UNION
      (SELECT at, temperature_deci_c FROM logger_reading r WHERE r.probe_id = span.probe_id
         AND r.at BETWEEN greatest(checked - $5::interval, span.from_at) AND checked + $5::interval AND r.at < span.to_at
       ORDER BY temperature_deci_c DESC, at LIMIT 1)) AS extreme`;

const INSTRUMENTS = `
  SELECT d.id AS "deviceId", i.code AS instrument, i.verify_every_days AS "verifyEveryDays",
    coalesce((SELECT json_agg(json_build_object('passed', v.passed, 'occurredAtMs', ${ms('v.occurred_at')})
                ORDER BY v.occurred_at, v.id)
              FROM instrument_verification v WHERE v.instrument_id = i.id AND v.occurred_at <= $2), '[]') AS verifications
  FROM device d JOIN instrument i ON i.id = d.instrument_id WHERE d.id = ANY ($1)`;

const BEGINNING = new Date(0);

/** What is needed to doubt the loggers of a batch. `until` is excluded. */
@Injectable()
export class LoggerDoubtsRecords {
  constructor(private readonly database: Database) {}

  /** `from` is where an hour begins. */
  hours(
    batchId: string,
    until: Date,
    from: Date = BEGINNING,
    sql: Sql = this.database.sql,
  ): Promise<LoggerHour[]> {
    return sql.query<LoggerHour>(HOURS, [batchId, from, until], 'logger-doubt-hours');
  }

  beside(
    batchId: string,
    until: Date,
    checks: readonly Date[],
    withinMs: number,
    sql: Sql = this.database.sql,
  ): Promise<ReadingBesideRow[]> {
    const values = [batchId, BEGINNING, until, checks, `${withinMs} ms`];
    return sql.query<ReadingBesideRow>(BESIDE, values, 'logger-doubt-beside');
  }

  instruments(
    deviceIds: readonly string[],
    until: Date,
    sql: Sql = this.database.sql,
  ): Promise<LoggerInstrument[]> {
    return sql.query<LoggerInstrument>(INSTRUMENTS, [deviceIds, until], 'logger-doubt-instruments');
  }
}
