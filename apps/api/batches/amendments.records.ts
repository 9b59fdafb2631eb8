import { Injectable } from '@nestjs/common';
import type { EntryBasis } from '#libs/accounting';
import { Database } from '#libs/database';
import { type BatchEntry, BatchLog } from '../http/writes/batch-log.records.js';
import type { AmendmentSource, AmendmentWarningDto } from './amendments.dto.js';

export interface AmendmentRow extends BatchEntry {
  materialCode: string;
  source: AmendmentSource;
  fromBatchId: string | null;
  fromBatchCode: string | null;
  basis: EntryBasis;
  massG: number;
  volumeMl: number | null;
  densityKgM3: number | null;
  densitySource: string | null;
  warnings: AmendmentWarningDto[];
  /** The quantity as it was typed. */
  entered: object;
  note: string | null;
}

const OWN = `e.material_code AS "materialCode", e.source, e.from_batch_id AS "fromBatchId",
  (SELECT giver.code FROM batch giver WHERE giver.id = e.from_batch_id) AS "fromBatchCode", e.basis,
  e.mass_g AS "massG", e.volume_ml AS "volumeMl", e.density_kg_m3 AS "densityKgM3",
  e.density_source AS "densitySource", e.warnings, e.entered, e.note`;

/** The count of a material at a yard that stands as of a moment, and what batches took since. */
export interface CountedStock {
  countedAt: Date;
  /** Null where only a volume was told and no density is known. */
  countedG: number | null;
  /** What of it batches took; volumes, of this as of the count, by the density that was asked with. */
  takenG: number;
}

const COUNTED = `
  SELECT c.occurred_at AS "countedAt", coalesce(round(c.volume_ml * $4::float8 / 1000), c.mass_g)::bigint AS "countedG",
    (SELECT coalesce(sum(CASE WHEN a.basis = 'volume' THEN coalesce(a.volume_ml * $4 / 1000, a.mass_g) ELSE a.mass_g END),
       0)::bigint FROM batch b JOIN amendment a ON a.batch_id = b.id
     WHERE b.site_id = c.site_id AND a.material_code = c.material_code AND a.occurred_at >= c.occurred_at
       AND a.source <> 'overs' AND a.voided_at IS NULL) AS "takenG"
  FROM stock_count c
  WHERE c.site_id = $1 AND c.material_code = $2 AND c.occurred_at <= $3 AND c.voided_at IS NULL
  ORDER BY c.occurred_at DESC, c.recorded_at DESC, c.id DESC LIMIT 1`;

@Injectable()
export class AmendmentsRecords extends BatchLog<AmendmentRow> {
  constructor(database: Database) {
    super(database, 'amendment', 'amendment', OWN);
  }

  /** Null where nobody counted it by then. The density is that of now. */
  async counted(
    { siteId, materialCode, at }: { siteId: string; materialCode: string; at: Date },
    densityKgM3: number | null,
  ): Promise<CountedStock | null> {
    const values = [siteId, materialCode, at, densityKgM3];
    const [row] = await this.database.sql.query<CountedStock>(COUNTED, values, 'stock-counted');
    return row ?? null;
  }
}
