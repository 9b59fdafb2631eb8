import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { SqlWrite } from '../http/writes/work.js';

/** While it is not lifted nothing of the batch is released, handed out or put into another batch. */
export interface HoldRow {
  id: string;
  batchId: string;
  occurredAt: Date;
  reason: string;
  bodySha256: Buffer;
  recordedAt: Date;
  recordedBy: string;
  liftedAt: Date | null;
  liftedBy: string | null;
  liftReason: string | null;
}

export type NewHold = Pick<HoldRow, 'id' | 'batchId' | 'occurredAt' | 'reason' | 'bodySha256'>;

const HOLD = `SELECT id, batch_id AS "batchId", occurred_at AS "occurredAt", reason, body_sha256 AS "bodySha256",
  recorded_at AS "recordedAt", recorded_by AS "recordedBy", lifted_at AS "liftedAt", lifted_by AS "liftedBy",
  lift_reason AS "liftReason" FROM batch_hold`;

const PAGE = `${HOLD} WHERE batch_id = $1 AND ($2::timestamptz IS NULL OR (occurred_at, id) < ($2, $3::uuid))
  ORDER BY occurred_at DESC, id DESC LIMIT $4`;

@Injectable()
export class HoldsRecords {
  constructor(private readonly database: Database) {}

  async find(id: string): Promise<HoldRow | null> {
    const [row] = await this.database.sql.query<HoldRow>(`${HOLD} WHERE id = $1`, [id], 'hold-find');
    return row ?? null;
  }

  /** The latest first; `after` is the key (time, id) of the last one of the page before. */
  async page(batchId: string, limit: number, after: readonly (string | number)[] | null): Promise<HoldRow[]> {
    const values = [batchId, after?.[0] ?? null, after?.[1] ?? null, limit + 1];
    return this.database.sql.query<HoldRow>(PAGE, values, 'hold-page');
  }

  /** The one that stands; the database lets no second stand beside it. */
  async standing(batchId: string, sql: Sql = this.database.sql): Promise<HoldRow | null> {
    const text = `${HOLD} WHERE batch_id = $1 AND lifted_at IS NULL`;
    const [row] = await sql.query<HoldRow>(text, [batchId], 'hold-standing');
    return row ?? null;
  }

  /** False when the id is taken already. */
  async insert({ sql, actor }: SqlWrite, hold: NewHold): Promise<boolean> {
    const rows = await sql.query(
      `INSERT INTO batch_hold (id, batch_id, occurred_at, reason, body_sha256, recorded_by)
       VALUES ($1, $2, $3, $4, $5, $6) ON CONFLICT (id) DO NOTHING RETURNING id`,
      [hold.id, hold.batchId, hold.occurredAt, hold.reason, hold.bodySha256, actor.personId],
    );
    return rows.length === 1;
  }

  /** False when it was lifted before. */
  async lift({ sql, actor }: SqlWrite, id: string, reason: string): Promise<boolean> {
    const rows = await sql.query(
      `UPDATE batch_hold SET lifted_at = now(), lifted_by = $2, lift_reason = $3
       WHERE id = $1 AND lifted_at IS NULL RETURNING id`,
      [id, actor.personId, reason],
    );
    return rows.length === 1;
  }
}
