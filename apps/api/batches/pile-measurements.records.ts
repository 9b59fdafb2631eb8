import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import { type BatchEntry, BatchLog } from '../http/writes/batch-log.records.js';
import type { PileEntered } from './pile-measurements.dto.js';
import type { MeasuredPile } from './pile-size.js';

export interface PileMeasurementRow extends BatchEntry, MeasuredPile {
  note: string | null;
  entered: PileEntered;
}

const OWN = `e.shape, e.length_mm AS "lengthMm", e.width_mm AS "widthMm", e.top_width_mm AS "topWidthMm",
  e.height_mm AS "heightMm", e.volume_ml AS "volumeMl", e.density_kg_m3 AS "densityKgM3", e.mass_g AS "massG",
  e.note, e.entered`;

/** The pile that was measured last, and what has become of it since. */
export interface LatestPile extends Pick<MeasuredPile, 'shape' | 'volumeMl' | 'densityKgM3' | 'massG'> {
  id: string;
  occurredAt: Date;
  /** From then on it is not of what lies there: the batch was screened, or another was merged into it. */
  outdatedAt: Date | null;
  /** What went in later than that, and what came out. */
  inSinceG: number;
  outSinceG: number;
}

const LATEST = `
  SELECT m.id, m.occurred_at AS "occurredAt", m.shape, m.volume_ml AS "volumeMl", m.density_kg_m3 AS "densityKgM3",
    m.mass_g AS "massG", m.outdated_at AS "outdatedAt", coalesce(since.in_g, 0)::bigint AS "inSinceG", coalesce(since.out_g, 0)::bigint AS "outSinceG"
  FROM (SELECT * FROM pile_measured WHERE batch_id = $1
        ORDER BY occurred_at DESC, recorded_at DESC, id DESC LIMIT 1) AS m
  LEFT JOIN LATERAL (
    SELECT sum(mass_g) FILTER (WHERE direction = 'in') AS in_g, sum(mass_g) FILTER (WHERE direction = 'out') AS out_g
    FROM batch_flow WHERE batch_id = $1 AND occurred_at > m.occurred_at) AS since ON true`;

@Injectable()
export class PileMeasurementsRecords extends BatchLog<PileMeasurementRow> {
  constructor(database: Database) {
    super(database, 'pile-measurement', 'pile_measurement', OWN);
  }

  /** Null where nobody measured it. */
  async latest(batchId: string, sql: Sql = this.database.sql): Promise<LatestPile | null> {
    const [row] = await sql.query<LatestPile>(LATEST, [batchId], 'pile-measurement-latest');
    return row ?? null;
  }
}
