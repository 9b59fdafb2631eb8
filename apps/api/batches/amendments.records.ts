import { Injectable } from '@nestjs/common';
import type { MassBasis } from '#libs/accounting';
import { Database } from '#libs/database';
import { type BatchEntry, BatchLog } from '../http/writes/batch-log.records.js';
import type { AmendmentSource } from './amendments.dto.js';

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
  /** The quantity as it was typed. */
  entered: object;
  note: string | null;
}

const OWN = `e.material_code AS "materialCode", e.source, e.from_batch_id AS "fromBatchId",
  (SELECT giver.code FROM batch giver WHERE giver.id = e.from_batch_id) AS "fromBatchCode", e.basis,
  e.mass_g AS "massG", e.volume_ml AS "volumeMl", e.density_kg_m3::float8 AS "densityKgM3",
  e.density_source AS "densitySource", e.entered, e.note`;

@Injectable()
export class AmendmentsRecords extends BatchLog<AmendmentRow> {
  constructor(database: Database) {
    super(database, 'amendment', 'amendment', OWN);
  }
}
