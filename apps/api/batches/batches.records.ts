import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { BatchMethod } from '#libs/process';
import type { Stage } from './stages.js';

export interface StageEntry {
  stage: Stage;
  enteredAt: Date;
  reason: string | null;
}

export interface BatchLine {
  id: string;
  siteId: string;
  code: string;
  method: BatchMethod;
  processRule: string | null;
  occurredAt: Date;
  stage: Stage;
  stageEnteredAt: Date;
  /** Code of the bay it lies in; null once it has left. */
  bayCode: string | null;
}

/** A batch as it stands. */
export interface BatchNow extends BatchLine {
  note: string | null;
  /** In order. */
  stages: StageEntry[];
  recordedAt: Date;
  recordedBy: string;
}

export interface BatchRow extends BatchNow {
  bodySha256: Buffer;
}

export interface NewBatch {
  id: string;
  siteId: string;
  code: string;
  method: BatchMethod;
  processRule: string | null;
  occurredAt: Date;
  note: string | null;
  bodySha256: Buffer;
  recordedBy: string;
}

export interface BatchFilter {
  /** Sites that may be seen; null for all. */
  siteIds: string[] | null;
  siteId: string | null;
  stage: Stage | null;
  limit: number;
  after: { occurredAt: string; id: string } | null;
}

const LINE = `b.id, b.site_id AS "siteId", b.code, b.method, b.process_rule AS "processRule",
  b.occurred_at AS "occurredAt", b.stage, b.stage_entered_at AS "stageEnteredAt", stay.bay_code AS "bayCode"`;

const NOW = `batch_now b LEFT JOIN bay_stay_named stay ON stay.batch_id = b.id AND stay.to_at IS NULL`;

const ONE = `
  SELECT ${LINE}, b.note, b.recorded_at AS "recordedAt", b.recorded_by AS "recordedBy", b.body_sha256 AS "bodySha256",
    (SELECT jsonb_agg(jsonb_build_object('stage', s.stage, 'enteredAt', s.entered_at, 'reason', s.reason)
                      ORDER BY s.entered_at, stage_rank(s.stage) NULLS LAST)
     FROM batch_stage s WHERE s.batch_id = b.id) AS stages
  FROM ${NOW} WHERE b.id = $1`;

const PAGE = `
  SELECT ${LINE} FROM ${NOW}
  WHERE ($1::uuid[] IS NULL OR b.site_id = ANY($1)) AND ($2::uuid IS NULL OR b.site_id = $2)
    AND ($3::text IS NULL OR b.stage = $3)
    AND ($4::timestamptz IS NULL OR (b.occurred_at, b.id) < ($4, $5::uuid))
  ORDER BY b.occurred_at DESC, b.id DESC LIMIT $6`;

const NEXT_NUMBER = `
  SELECT coalesce(max(substring(code FROM length($2) + 1)::int), 0) + 1 AS number
  FROM batch WHERE site_id = $1 AND starts_with(code, $2) AND substring(code FROM length($2) + 1) ~ '^[0-9]{1,9}$'`;

@Injectable()
export class BatchesRecords {
  constructor(private readonly database: Database) {}

  async find(id: string, sql: Sql = this.database.sql): Promise<BatchRow | null> {
    const [row] = await sql.query<BatchRow>(ONE, [id], 'batch-find');
    if (!row) return null;
    const stages = row.stages.map((entry) => ({ ...entry, enteredAt: new Date(entry.enteredAt) }));
    return { ...row, stages };
  }

  async page({ siteIds, siteId, stage, limit, after }: BatchFilter): Promise<BatchLine[]> {
    const values = [siteIds, siteId, stage, after?.occurredAt, after?.id, limit + 1];
    return this.database.sql.query<BatchLine>(PAGE, values, 'batch-page');
  }

  /** The next running number among the codes of a yard that begin so. Whoever asks next waits until this is committed. */
  async nextNumber(sql: Sql, siteId: string, prefix: string): Promise<number> {
    await sql.query(`SELECT pg_advisory_xact_lock(hashtextextended('batch-code-of:' || $1, 0))`, [siteId]);
    const [row] = await sql.query<{ number: number }>(NEXT_NUMBER, [siteId, prefix]);
    return row?.number ?? 1;
  }

  /** False when the id is there already. */
  async insert(sql: Sql, batch: NewBatch): Promise<boolean> {
    const rows = await sql.query(
      `INSERT INTO batch (id, site_id, code, method, process_rule, occurred_at, note, body_sha256, recorded_by)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9) ON CONFLICT (id) DO NOTHING RETURNING id`,
      [
        batch.id,
        batch.siteId,
        batch.code,
        batch.method,
        batch.processRule,
        batch.occurredAt,
        batch.note,
        batch.bodySha256,
        batch.recordedBy,
      ],
    );
    return rows.length === 1;
  }

  async enterStage(sql: Sql, batchId: string, entry: StageEntry, personId: string): Promise<void> {
    await sql.query(
      `INSERT INTO batch_stage (batch_id, stage, entered_at, reason, recorded_by) VALUES ($1, $2, $3, $4, $5)`,
      [batchId, entry.stage, entry.enteredAt, entry.reason, personId],
    );
  }

  /** Until the end of the transaction nobody else changes its stage or its bay. */
  async lock(sql: Sql, id: string): Promise<void> {
    await sql.query(`SELECT FROM batch WHERE id = $1 FOR UPDATE`, [id]);
  }

  /** Refuses ("batch_is_building") unless the batch is being built; it stays so until the end of the transaction. */
  async requireBuilding(sql: Sql, id: string): Promise<void> {
    await sql.query(`SELECT require_stage($1, ARRAY['building'], 'batch_is_building')`, [id]);
  }
}
