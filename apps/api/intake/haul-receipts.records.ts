import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { SqlWrite } from '../http/writes/work.js';
import type { HaulWeight } from './haul-amount.js';

export interface NewReceipt {
  id: string;
  haulId: string;
  occurredAt: Date;
  weight: HaulWeight;
  explanation: string | null;
  note: string | null;
  bodySha256: Buffer;
}

export interface KeptReceipt {
  id: string;
  haulId: string;
  bodySha256: Buffer;
  recordedAt: Date;
  recordedBy: string;
  voidedAt: Date | null;
  voidReason: string | null;
}

const KEPT = `
  SELECT id, haul_id AS "haulId", body_sha256 AS "bodySha256", recorded_at AS "recordedAt", recorded_by AS "recordedBy",
    voided_at AS "voidedAt", void_reason AS "voidReason"
  FROM haul_receipt`;

@Injectable()
export class HaulReceiptsRecords {
  constructor(private readonly database: Database) {}

  /** By its id, voided ones included. */
  async find(id: string): Promise<KeptReceipt | null> {
    const [row] = await this.database.sql.query<KeptReceipt>(`${KEPT} WHERE id = $1`, [id]);
    return row ?? null;
  }

  /** The one of a haul that stands or, where none does, that was voided last. */
  async latest(haulId: string): Promise<KeptReceipt | null> {
    const [row] = await this.database.sql.query<KeptReceipt>(
      `${KEPT} WHERE haul_id = $1 ORDER BY voided_at DESC NULLS FIRST LIMIT 1`,
      [haulId],
    );
    return row ?? null;
  }

  /** Keeps the lots of a haul as they are until this is committed, so that they are shared as they were read. */
  async holdLots(sql: Sql, haulId: string): Promise<void> {
    await sql.query(
      `SELECT FROM drop_off WHERE id IN (SELECT drop_off_id FROM haul_lot WHERE haul_id = $1) ORDER BY id FOR UPDATE`,
      [haulId],
    );
  }

  /** False when there is one of that id already. */
  async insert({ sql, actor }: SqlWrite, receipt: NewReceipt): Promise<boolean> {
    const { id, haulId, occurredAt, weight, explanation, note, bodySha256 } = receipt;
    const values = [id, haulId, occurredAt, weight.massG, explanation, note, JSON.stringify(weight.entered)];
    const rows = await sql.query(
      `INSERT INTO haul_receipt (id, haul_id, occurred_at, in_g, explanation, note, entered, body_sha256, recorded_by)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9) ON CONFLICT (id) DO NOTHING RETURNING id`,
      [...values, bodySha256, actor.personId],
    );
    if (rows.length === 0) return false;
    await sql.query(
      `INSERT INTO haul_receipt_container (receipt_id, container_id, count)
       SELECT $1, "containerId", count FROM jsonb_to_recordset($2::jsonb) AS c("containerId" uuid, count int)`,
      [id, JSON.stringify(weight.containers)],
    );
    return true;
  }

  /** False when it was voided meanwhile. */
  async void({ sql, actor }: SqlWrite, id: string, reason: string): Promise<boolean> {
    const rows = await sql.query(
      `UPDATE haul_receipt SET voided_at = now(), voided_by = $2, void_reason = $3
       WHERE id = $1 AND voided_at IS NULL RETURNING id`,
      [id, actor.personId, reason],
    );
    return rows.length === 1;
  }
}
