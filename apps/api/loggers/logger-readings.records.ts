import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { Admitted, Target, TargetBatch } from './arrivals.js';

/** A probe that is known, in one of the places it was put. */
export interface ProbeRow {
  id: number;
  targetId: number;
  position: string;
  placement: number;
  zone: string | null;
  depthMm: number | null;
}

export interface HourRow {
  probe: number;
  bay: string | null;
  batchId: string | null;
  position: string;
  hour: Date;
  readings: number;
  minDeciC: number;
  maxDeciC: number;
  meanDeciC: number;
  firstAt: Date;
  lastAt: Date;
}

const TARGETS = `
  SELECT t.id, bay.code AS bay, t.batch_id AS "batchId",
    (extract(epoch FROM coalesce(t.released_at, d.revoked_at)) * 1000)::int8 AS "untilMs"
  FROM device d JOIN device_target t ON t.device_id = d.id LEFT JOIN bay ON bay.id = t.bay_id WHERE d.id = $1`;

const PROBES = `
  SELECT p.id, p.target_id AS "targetId", p.position, l.number AS placement, l.zone, l.depth_mm AS "depthMm"
  FROM logger_probe p JOIN logger_placement l ON l.probe_id = p.id
  WHERE p.target_id = ANY ($1::int[])`;

// A batch is held as long as readings of it are looked at: whoever would close it meanwhile waits.
const HOLD_BATCHES = `
  SELECT b.id FROM batch b
  WHERE b.id IN (SELECT t.batch_id FROM device_target t WHERE t.id = ANY ($1::int[]))
     OR b.id IN (SELECT s.batch_id FROM device_target t JOIN bay_stay s ON s.bay_id = t.bay_id
                 WHERE t.id = ANY ($1::int[]) AND tstzrange(s.from_at, s.to_at) && tstzrange($2, $3, '[]'))
  ORDER BY b.id FOR SHARE`;

const BATCHES = `
  SELECT x."targetId", b.code, (extract(epoch FROM x.from_at) * 1000)::int8 AS "fromMs",
    (extract(epoch FROM x.to_at) * 1000)::int8 AS "toMs",
    closing.stage AS closed, (extract(epoch FROM closing.entered_at) * 1000)::int8 AS "closedMs"
  FROM (
    SELECT t.id AS "targetId", b.id AS batch_id, b.occurred_at AS from_at, NULL::timestamptz AS to_at
      FROM device_target t JOIN batch b ON b.id = t.batch_id WHERE t.id = ANY ($1::int[])
    UNION ALL
    SELECT t.id, s.batch_id, s.from_at, s.to_at FROM device_target t JOIN bay_stay s ON s.bay_id = t.bay_id
      WHERE t.id = ANY ($1::int[]) AND tstzrange(s.from_at, s.to_at) && tstzrange($2, $3, '[]')
  ) AS x JOIN batch b ON b.id = x.batch_id
  LEFT JOIN batch_stage closing ON closing.batch_id = b.id AND closing.stage IN ('released', 'condemned', 'merged')`;

const NEW_PROBES = `
  WITH given AS (
    SELECT * FROM unnest($1::int[], $2::text[], $3::text[], $4::int[])
      AS g (target_id, position, zone, depth_mm)),
  probe AS (
    INSERT INTO logger_probe (target_id, position) SELECT DISTINCT target_id, position FROM given
    ON CONFLICT (target_id, position) DO NOTHING RETURNING id, target_id, position),
  known AS (
    SELECT * FROM probe UNION SELECT p.id, p.target_id, p.position FROM logger_probe p JOIN given USING (target_id, position))
  INSERT INTO logger_placement (probe_id, number, zone, depth_mm)
  SELECT k.id, (SELECT count(*) FROM logger_placement l WHERE l.probe_id = k.id)
      + row_number() OVER (PARTITION BY k.id) - 1, g.zone, g.depth_mm
  FROM given g JOIN known k USING (target_id, position)`;

// What was there before is compared, since the statement sees only that; what it adds itself is not among it.
const KEEP = `
  WITH given AS (
    SELECT index, probe_id, to_timestamp(at_ms / 1000) AS at, deci_c, placement
    FROM unnest($1::int[], $2::int[], $3::float8[], $4::int2[], $5::int2[]) AS g (index, probe_id, at_ms, deci_c, placement)),
  added AS (
    INSERT INTO logger_reading (at, probe_id, temperature_deci_c, placement)
    SELECT at, probe_id, deci_c, placement FROM given ORDER BY probe_id, at
    ON CONFLICT (probe_id, at) DO NOTHING)
  SELECT g.index, r.temperature_deci_c AS "deciC", r.placement
  FROM given g JOIN logger_reading r ON r.probe_id = g.probe_id AND r.at = g.at`;

const HOURS = `
  SELECT h.probe_id AS probe, bay.code AS bay, t.batch_id AS "batchId", p.position, h.hour, h.readings,
    h.min_deci_c AS "minDeciC", h.max_deci_c AS "maxDeciC",
    round(h.sum_deci_c::numeric / h.readings)::int AS "meanDeciC", h.first_at AS "firstAt", h.last_at AS "lastAt"
  FROM device d JOIN device_target t ON t.device_id = d.id JOIN logger_probe p ON p.target_id = t.id
    JOIN logger_hour h ON h.probe_id = p.id LEFT JOIN bay ON bay.id = t.bay_id
  WHERE d.id = $1 AND ($2::uuid[] IS NULL OR d.site_id = ANY ($2))
    AND ($3::timestamptz IS NULL OR h.hour >= $3) AND ($4::timestamptz IS NULL OR h.hour < $4)
    AND ($5::timestamptz IS NULL OR (h.hour, h.probe_id) < ($5, $6::int))
  ORDER BY h.hour DESC, h.probe_id DESC LIMIT $7`;

/** The driver writes lists out far more slowly. For numbers only. */
const list = (numbers: readonly number[]) => `{${numbers.join(',')}}`;

@Injectable()
export class LoggerReadingsRecords {
  constructor(private readonly database: Database) {}

  /**
   * What one device sends is kept one delivery after the other, and before its key is revoked or after. Answers whether
   * the key is good still.
   */
  async hold(sql: Sql, deviceId: string): Promise<boolean> {
    const text = 'SELECT revoked_at IS NULL AS good FROM device WHERE id = $1 FOR NO KEY UPDATE';
    const [device] = await sql.query<{ good: boolean }>(text, [deviceId], 'device-hold');
    return device?.good ?? false;
  }

  targets(sql: Sql, deviceId: string): Promise<Target[]> {
    return sql.query<Target>(TARGETS, [deviceId], 'device-targets');
  }

  probes(sql: Sql, targetIds: readonly number[]): Promise<ProbeRow[]> {
    return sql.query<ProbeRow>(PROBES, [list(targetIds)], 'logger-probes');
  }

  /** The batches that these targets were about between two instants, held until the write is over. */
  async holdBatches(sql: Sql, targetIds: readonly number[], from: Date, to: Date): Promise<TargetBatch[]> {
    const values = [list(targetIds), from, to];
    await sql.query(HOLD_BATCHES, values, 'logger-hold-batches');
    return sql.query<TargetBatch>(BATCHES, values, 'logger-batches');
  }

  /** Probes, and places of probes, that were never told of before. */
  async insertProbes(
    sql: Sql,
    probes: readonly Pick<ProbeRow, 'targetId' | 'position' | 'zone' | 'depthMm'>[],
  ): Promise<void> {
    const columns = [
      probes.map(({ targetId }) => targetId),
      probes.map(({ position }) => position),
      probes.map(({ zone }) => zone),
      probes.map(({ depthMm }) => depthMm),
    ];
    await sql.query(NEW_PROBES, columns, 'logger-new-probes');
  }

  /** Adds what is new. Answers what was there before in the place of the others. */
  keep(
    sql: Sql,
    readings: readonly Admitted[],
  ): Promise<{ index: number; deciC: number; placement: number }[]> {
    const columns = (['index', 'probeId', 'atMs', 'deciC', 'placement'] as const).map((name) =>
      list(readings.map((reading) => reading[name])),
    );
    return sql.query(KEEP, columns, 'logger-keep');
  }

  /** The latest first; `sites` null means every site. */
  hours(
    asked: { deviceId: string; sites: string[] | null; from: Date | null; to: Date | null },
    limit: number,
    after: readonly (string | number)[] | null,
  ): Promise<HourRow[]> {
    const { deviceId, sites, from, to } = asked;
    const values = [deviceId, sites, from, to, after?.[0] ?? null, after?.[1] ?? null, limit + 1];
    return this.database.sql.query<HourRow>(HOURS, values);
  }
}
