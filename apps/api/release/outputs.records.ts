import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';

export interface BatchTotals {
  inputG: number;
  outputG: number;
  /** Those of the drop-offs and of what came from stock, in order of their codes; water and overs left out. */
  materials: { code: string; name: string }[];
}

/** What screening gave and what of it has left. */
export interface CompostTotals {
  compostG: number;
  distributedG: number;
  /** Of the screenings of which both are known. */
  measuredG: number;
  measuredMl: number;
}

// What was merged in brought its materials with it.
const TOTALS = `
  WITH RECURSIVE part (batch_id) AS (
    SELECT $1::uuid
    UNION ALL
    SELECT m.from_batch_id FROM part JOIN batch_merge m ON m.batch_id = part.batch_id)
  SELECT coalesce(sum(mass_g) FILTER (WHERE direction = 'in'), 0)::int8 AS "inputG",
    coalesce(sum(mass_g) FILTER (WHERE direction = 'out'), 0)::int8 AS "outputG",
    coalesce((SELECT json_agg(json_build_object('code', code, 'name', name) ORDER BY code) FROM material
      WHERE code <> 'water' AND code IN (SELECT label FROM batch_flow
        WHERE batch_id IN (SELECT batch_id FROM part) AND direction = 'in' AND kind IN ('drop-off', 'amendment'))), '[]') AS materials
  FROM batch_flow WHERE batch_id = $1`;

const COMPOST = `
  SELECT coalesce(sum(compost_g), 0)::int8 AS "compostG",
    coalesce(sum(compost_g) FILTER (WHERE compost_volume_ml IS NOT NULL), 0)::int8 AS "measuredG",
    coalesce(sum(compost_volume_ml), 0)::int8 AS "measuredMl",
    (SELECT coalesce(sum(mass_g), 0)::int8 FROM distribution WHERE batch_id = $1 AND voided_at IS NULL)
      AS "distributedG"
  FROM screening WHERE batch_id = $1 AND voided_at IS NULL`;

/** A batch to the gram: what went in, what came out, what has left. */
@Injectable()
export class OutputsRecords {
  constructor(private readonly database: Database) {}

  async totals(batchId: string, sql: Sql = this.database.sql): Promise<BatchTotals> {
    return this.one<BatchTotals>(TOTALS, batchId, sql, 'batch-totals');
  }

  async compost(batchId: string, sql: Sql = this.database.sql): Promise<CompostTotals> {
    return this.one<CompostTotals>(COMPOST, batchId, sql, 'compost-totals');
  }

  /**
   * Lets one write at a time weigh the batch. Taken before anything is inserted: the triggers that watch the stage share
   * this lock, and two writes that both share it could never both raise it.
   */
  async lock(sql: Sql, batchId: string): Promise<void> {
    await sql.query(`SELECT 1 FROM batch WHERE id = $1 FOR UPDATE`, [batchId], 'lock-batch');
  }

  private async one<Row extends object>(text: string, batchId: string, sql: Sql, name: string): Promise<Row> {
    const [row] = await sql.query<Row>(text, [batchId], name);
    if (!row) throw new Error('an aggregate answers one row');
    return row;
  }
}
