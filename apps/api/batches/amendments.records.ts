import { Injectable } from '@nestjs/common';
import type { MassBasis } from '#libs/accounting';
import { Database } from '#libs/database';
import { type BatchEntry, BatchLog } from '../http/writes/batch-log.records.js';
import type { AmendmentSource, AmendmentWarningDto } from './amendments.dto.js';

export interface AmendmentRow extends BatchEntry {
  materialCode: string;
  source: AmendmentSource;
  fromBatchId: string | null;
  fromBatchCode: string | null;
  basis: MassBasis;
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
  takenG: number;
}

const COUNTED = `
  SELECT c.occurred_at AS "countedAt", c.mass_g AS "countedG",
    (SELECT coalesce(sum(a.mass_g), 0)::bigint FROM batch b JOIN amendment a ON a.batch_id = b.id
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

  /** Null where nobody counted it by then. */
  async counted(siteId: string, materialCode: string, at: Date): Promise<CountedStock | null> {
    const [row] = await this.database.sql.query<CountedStock>(
      COUNTED,
      [siteId, materialCode, at],
      'stock-counted',
    );
    return row ?? null;
  }
}
