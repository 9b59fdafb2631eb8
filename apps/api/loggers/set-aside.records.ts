import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { SetAside } from '#libs/process';
import type { SqlWrite } from '../http/writes/work.js';
import { IS_OF_PROBE, TARGET_SPANS } from './series-sql.js';

export interface NewSetAside {
  id: string;
  deviceId: string;
  /** Of what it tells of; null: all. */
  targetId: number | null;
  /** Of its probes; null: all. */
  position: string | null;
  fromAt: Date;
  /** Included. */
  toAt: Date;
  reason: string;
  bodySha256: Buffer;
}

export interface SetAsideRow extends Omit<NewSetAside, 'targetId'> {
  siteId: string;
  bay: string | null;
  batchId: string | null;
  /** As many as there are now. */
  readings: number;
  recordedAt: Date;
  recordedBy: string;
  voidedAt: Date | null;
  voidReason: string | null;
}

/** A bay or batch that a device tells of, with the names of its probes there. */
export interface TargetProbes {
  id: number;
  bay: string | null;
  batchId: string | null;
  positions: string[];
}

const ms = (instant: string) => `(extract(epoch FROM ${instant}) * 1000)::int8`;

const SELECT = `
  SELECT a.id, a.device_id AS "deviceId", d.site_id AS "siteId", bay.code AS bay, t.batch_id AS "batchId", a.position,
    a.from_at AS "fromAt", a.to_at AS "toAt", a.reason, a.body_sha256 AS "bodySha256", a.recorded_at AS "recordedAt",
    a.recorded_by AS "recordedBy", a.voided_at AS "voidedAt", a.void_reason AS "voidReason",
    (SELECT count(*) FROM device_target own JOIN logger_probe p ON p.target_id = own.id
       JOIN logger_reading r ON r.probe_id = p.id AND r.at BETWEEN a.from_at AND a.to_at
     WHERE own.device_id = a.device_id AND own.id = coalesce(a.target_id, own.id)
       AND p.position = coalesce(a.position, p.position)) AS readings
  FROM logger_set_aside a JOIN device d ON d.id = a.device_id
    LEFT JOIN device_target t ON t.id = a.target_id LEFT JOIN bay ON bay.id = t.bay_id`;

const TARGETS = `
  SELECT t.id, bay.code AS bay, t.batch_id AS "batchId",
    ARRAY(SELECT p.position FROM logger_probe p WHERE p.target_id = t.id) AS positions
  FROM device_target t LEFT JOIN bay ON bay.id = t.bay_id WHERE t.device_id = $1`;

const OF_BATCH = `${TARGET_SPANS}
  SELECT d.code AS logger, a.position, a.reason, ${ms('a.recorded_at')} AS "recordedAtMs", setter.display_name AS "by",
    ${ms('min(greatest(a.from_at, span.from_at))')} AS "fromMs", ${ms('max(least(a.to_at, span.to_at))')} AS "toMs",
    sum(told.readings)::int8 AS readings
  FROM span JOIN device d ON d.id = span.device_id JOIN logger_probe p ON p.target_id = span.target_id
    JOIN logger_set_aside a ON ${IS_OF_PROBE}
      AND a.from_at < span.to_at AND a.to_at >= greatest(span.from_at, $2)
    JOIN person setter ON setter.id = a.recorded_by
    CROSS JOIN LATERAL (
      SELECT count(*) AS readings FROM logger_reading r
      WHERE r.probe_id = p.id AND r.at BETWEEN greatest(a.from_at, span.from_at) AND a.to_at AND r.at < span.to_at) AS told
  GROUP BY a.id, d.code, setter.id HAVING sum(told.readings) > 0
  ORDER BY a.from_at, a.id`;

const BEGINNING = new Date(0);

@Injectable()
export class SetAsideRecords {
  constructor(private readonly database: Database) {}

  async find(id: string): Promise<SetAsideRow | null> {
    const [row] = await this.database.sql.query<SetAsideRow>(`${SELECT} WHERE a.id = $1`, [id]);
    return row ?? null;
  }

  /** The latest first; `sites` null means every site. */
  page(
    { deviceId, sites }: { deviceId: string; sites: string[] | null },
    limit: number,
    after: readonly (string | number)[] | null,
  ): Promise<SetAsideRow[]> {
    return this.database.sql.query<SetAsideRow>(
      `${SELECT} WHERE a.device_id = $1 AND ($2::uuid[] IS NULL OR d.site_id = ANY ($2))
         AND ($3::timestamptz IS NULL OR (a.from_at, a.id) < ($3, $4::uuid))
       ORDER BY a.from_at DESC, a.id DESC LIMIT $5`,
      [deviceId, sites, after?.[0] ?? null, after?.[1] ?? null, limit + 1],
    );
  }

  targets(deviceId: string): Promise<TargetProbes[]> {
    return this.database.sql.query<TargetProbes>(TARGETS, [deviceId]);
  }

  /** What stands of all that was told of a batch before `until`, in order of time; `by` is the full name. */
  ofBatch(batchId: string, until: Date, sql: Sql = this.database.sql): Promise<SetAside[]> {
    return sql.query<SetAside>(OF_BATCH, [batchId, BEGINNING, until], 'set-aside-of-batch');
  }

  /** False when the id is taken already. */
  async insert({ sql, actor }: SqlWrite, setAside: NewSetAside): Promise<boolean> {
    const { id, deviceId, targetId, position, fromAt, toAt, reason, bodySha256 } = setAside;
    const rows = await sql.query(
      `INSERT INTO logger_set_aside (id, device_id, target_id, position, from_at, to_at, reason, body_sha256, recorded_by)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9) ON CONFLICT (id) DO NOTHING RETURNING id`,
      [id, deviceId, targetId, position, fromAt, toAt, reason, bodySha256, actor.personId],
    );
    return rows.length === 1;
  }

  /** False when it was voided before. */
  async void({ sql, actor }: SqlWrite, id: string, reason: string): Promise<boolean> {
    const rows = await sql.query(
      `UPDATE logger_set_aside SET voided_at = now(), voided_by = $2, void_reason = $3
       WHERE id = $1 AND voided_at IS NULL RETURNING id`,
      [id, actor.personId, reason],
    );
    return rows.length === 1;
  }
}
