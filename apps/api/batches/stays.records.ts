import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';

export interface Stay {
  id: string;
  batchId: string;
  bayCode: string;
  fromAt: Date;
  toAt: Date | null;
}

export interface NewStay {
  id: string;
  batchId: string;
  bayId: string;
  fromAt: Date;
  recordedBy: string;
}

const STAY = `SELECT id, batch_id AS "batchId", bay_code AS "bayCode", from_at AS "fromAt", to_at AS "toAt"
  FROM bay_stay_named`;

@Injectable()
export class StaysRecords {
  constructor(private readonly database: Database) {}

  async find(id: string, sql: Sql = this.database.sql): Promise<Stay | null> {
    const [row] = await sql.query<Stay>(`${STAY} WHERE id = $1`, [id], 'stay-find');
    return row ?? null;
  }

  /** In order of time. */
  async ofBatch(batchId: string, sql: Sql = this.database.sql): Promise<Stay[]> {
    return sql.query<Stay>(`${STAY} WHERE batch_id = $1 ORDER BY from_at`, [batchId], 'stays-of-batch');
  }

  /** False when the id is there already. */
  async insert(sql: Sql, stay: NewStay): Promise<boolean> {
    const rows = await sql.query(
      `INSERT INTO bay_stay (id, batch_id, bay_id, from_at, recorded_by) VALUES ($1, $2, $3, $4, $5)
       ON CONFLICT (id) DO NOTHING RETURNING id`,
      [stay.id, stay.batchId, stay.bayId, stay.fromAt, stay.recordedBy],
    );
    return rows.length === 1;
  }

  /** The batch leaves the bay it lies in, if it lies in one. */
  async close(sql: Sql, batchId: string, toAt: Date): Promise<void> {
    await sql.query(`UPDATE bay_stay SET to_at = $2 WHERE batch_id = $1 AND to_at IS NULL`, [batchId, toAt]);
  }
}
