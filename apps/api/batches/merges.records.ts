import { Injectable } from '@nestjs/common';
import type { FlowBasis } from '#libs/accounting';
import { Database, type Sql } from '#libs/database';

/** All that lay there of one batch, put into another. */
export interface MergeRow {
  id: string;
  batchId: string;
  batchCode: string;
  fromBatchId: string;
  fromBatchCode: string;
  occurredAt: Date;
  basis: FlowBasis;
  massG: number;
  note: string | null;
  /** What was typed of its mass. */
  entered: object;
  bodySha256: Buffer;
  recordedAt: Date;
  recordedBy: string;
}

export interface NewMerge {
  id: string;
  batchId: string;
  fromBatchId: string;
  occurredAt: Date;
  basis: FlowBasis;
  massG: number;
  note: string | null;
  entered: string;
  bodySha256: Buffer;
}

const MERGE = `
  SELECT m.id, m.batch_id AS "batchId", taker.code AS "batchCode", m.from_batch_id AS "fromBatchId",
    giver.code AS "fromBatchCode", m.occurred_at AS "occurredAt", m.basis, m.mass_g AS "massG", m.note, m.entered,
    m.body_sha256 AS "bodySha256", m.recorded_at AS "recordedAt", m.recorded_by AS "recordedBy"
  FROM batch_merge m JOIN batch taker ON taker.id = m.batch_id JOIN batch giver ON giver.id = m.from_batch_id`;

const PAGE = `${MERGE}
  WHERE (m.batch_id = $1 OR m.from_batch_id = $1)
    AND ($2::timestamptz IS NULL OR (m.occurred_at, m.id) < ($2, $3::uuid))
  ORDER BY m.occurred_at DESC, m.id DESC LIMIT $4`;

// A batch is merged once, so the merges that led into one batch are a tree, and the steps to its root tell the order.
const TREE = `
  WITH RECURSIVE way (merge_id, giver_id, steps) AS (
    SELECT id, from_batch_id, 1 FROM batch_merge WHERE batch_id = $1
    UNION ALL
    SELECT m.id, m.from_batch_id, way.steps + 1 FROM way JOIN batch_merge m ON m.batch_id = way.giver_id)
  ${MERGE} JOIN way ON way.merge_id = m.id ORDER BY way.steps DESC, m.occurred_at, m.id`;

const LEFT = `
  SELECT coalesce(sum(CASE direction WHEN 'in' THEN mass_g ELSE -mass_g END), 0)::int8 AS "leftG"
  FROM batch_flow WHERE batch_id = $1`;

@Injectable()
export class MergesRecords {
  constructor(private readonly database: Database) {}

  async find(id: string, sql: Sql = this.database.sql): Promise<MergeRow | null> {
    const [row] = await sql.query<MergeRow>(`${MERGE} WHERE m.id = $1`, [id], 'merge-find');
    return row ?? null;
  }

  /** Merges into a batch and, at most one, of it; the latest first. */
  async page(
    batchId: string,
    limit: number,
    after: readonly (string | number)[] | null,
  ): Promise<MergeRow[]> {
    const values = [batchId, after?.[0] ?? null, after?.[1] ?? null, limit + 1];
    return this.database.sql.query<MergeRow>(PAGE, values, 'merge-page');
  }

  /** Every merge that led into a batch, by however many steps: what came into a batch before what it gave on. */
  async tree(batchId: string, sql: Sql = this.database.sql): Promise<MergeRow[]> {
    return sql.query<MergeRow>(TREE, [batchId], 'merge-tree');
  }

  /** What the records leave of a batch: all that went in less all that came out. */
  async leftG(batchId: string, sql: Sql): Promise<number> {
    const [row] = await sql.query<{ leftG: number }>(LEFT, [batchId], 'batch-left');
    return row?.leftG ?? 0;
  }

  /** Until the end of the transaction nobody else changes either; in one order, so that nobody waits in a circle. */
  async lock(sql: Sql, ...batchIds: string[]): Promise<void> {
    await sql.query(`SELECT FROM batch WHERE id = ANY ($1::uuid[]) ORDER BY id FOR UPDATE`, [batchIds]);
  }

  /** False when the id is there already. The database closes the record of the batch that went. */
  async insert(sql: Sql, merge: NewMerge, personId: string): Promise<boolean> {
    const { id, batchId, fromBatchId, occurredAt, basis, massG, note, entered, bodySha256 } = merge;
    const rows = await sql.query(
      `INSERT INTO batch_merge (id, batch_id, from_batch_id, occurred_at, basis, mass_g, note, entered, body_sha256,
         recorded_by) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10) ON CONFLICT (id) DO NOTHING RETURNING id`,
      [id, batchId, fromBatchId, occurredAt, basis, massG, note, entered, bodySha256, personId],
    );
    return rows.length === 1;
  }
}
