import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import { type BatchEntry, BatchLog } from '../http/writes/batch-log.records.js';
import type { ResidueDestination, ScreeningEntered } from './screenings.dto.js';

export interface ScreeningRow extends BatchEntry {
  compostG: number;
  compostVolumeMl: number | null;
  oversG: number;
  residueG: number;
  residueWentTo: ResidueDestination | null;
  note: string | null;
  entered: ScreeningEntered;
}

const OWN = `e.compost_g AS "compostG", e.compost_volume_ml AS "compostVolumeMl", e.overs_g AS "oversG",
  e.residue_g AS "residueG", e.residue_went_to AS "residueWentTo", e.note, e.entered`;

@Injectable()
export class ScreeningsRecords extends BatchLog<ScreeningRow> {
  constructor(database: Database) {
    super(database, 'screening', 'screening', OWN);
  }
}
