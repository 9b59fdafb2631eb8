import { Injectable } from '@nestjs/common';
import type { Hold, Merge, PileMeasurement } from '#libs/documents';
import type { Sql } from '#libs/database';

export interface MergeRow extends Pick<Merge, 'direction' | 'batch' | 'basis' | 'note'> {
  occurredAt: Date;
  massG: number;
}

export interface PileRow extends Pick<PileMeasurement, 'shape' | 'note' | 'densityKgM3'> {
  occurredAt: Date;
  lengthMm: number | null;
  widthMm: number;
  topWidthMm: number | null;
  heightMm: number;
  volumeMl: number;
  massG: number | null;
  recordedBy: string;
}

export interface HoldRow extends Pick<Hold, 'reason' | 'liftReason'> {
  occurredAt: Date;
  liftedAt: Date | null;
}

const MERGES = `
  SELECT m.occurred_at AS "occurredAt", CASE WHEN m.batch_id = $1 THEN 'in' ELSE 'on' END AS direction,
    other.code AS batch, m.mass_g AS "massG", m.basis, m.note
  FROM batch_merge m
  JOIN batch other ON other.id = CASE WHEN m.batch_id = $1 THEN m.from_batch_id ELSE m.batch_id END
  WHERE m.batch_id = $1 OR m.from_batch_id = $1 ORDER BY m.occurred_at, m.id`;

const PILES = `
  SELECT occurred_at AS "occurredAt", shape, length_mm AS "lengthMm", width_mm AS "widthMm",
    top_width_mm AS "topWidthMm", height_mm AS "heightMm", volume_ml AS "volumeMl", density_kg_m3 AS "densityKgM3",
    mass_g AS "massG", note, recorded_by AS "recordedBy"
  FROM pile_measurement WHERE batch_id = $1 AND voided_at IS NULL ORDER BY occurred_at, id`;

const HOLDS = `
  SELECT occurred_at AS "occurredAt", reason, lifted_at AS "liftedAt", lift_reason AS "liftReason"
  FROM batch_hold WHERE batch_id = $1 ORDER BY occurred_at, id`;

/** What a record tells of merges, of the size of the pile, and of holds. */
@Injectable()
export class AccountsRecords {
  merges(sql: Sql, batchId: string): Promise<MergeRow[]> {
    return sql.query<MergeRow>(MERGES, [batchId], 'record-merges');
  }

  piles(sql: Sql, batchId: string): Promise<PileRow[]> {
    return sql.query<PileRow>(PILES, [batchId], 'record-piles');
  }

  holds(sql: Sql, batchId: string): Promise<HoldRow[]> {
    return sql.query<HoldRow>(HOLDS, [batchId], 'record-holds');
  }
}
