import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import type { EntryBasis } from '#libs/accounting';
import { type BatchEntry, BatchLog } from '../http/writes/batch-log.records.js';
import type { CompostUse, DistributionEntered, Recipient } from './distributions.dto.js';

export interface DistributionRow extends BatchEntry {
  recipient: Recipient;
  use: CompostUse;
  massG: number;
  volumeMl: number | null;
  basis: EntryBasis;
  note: string | null;
  entered: DistributionEntered;
}

const OWN = `e.recipient, e.use, e.mass_g AS "massG", e.volume_ml AS "volumeMl", e.basis, e.note, e.entered`;

@Injectable()
export class DistributionsRecords extends BatchLog<DistributionRow> {
  constructor(database: Database) {
    super(database, 'distribution', 'distribution', OWN);
  }
}
