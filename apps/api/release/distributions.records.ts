import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import type { EntryBasis } from '#libs/accounting';
import { type BatchEntry, BatchLog } from '../http/writes/batch-log.records.js';
import type { CompostUse, DistributionEntered, Recipient } from './distributions.dto.js';

export interface DistributionRow extends BatchEntry {
  /** Of its batch, and its number in it: "QS-26-004/3". */
  code: string;
  recipient: Recipient;
  use: CompostUse;
  massG: number;
  volumeMl: number | null;
  basis: EntryBasis;
  note: string | null;
  entered: DistributionEntered;
}

const OWN = `(SELECT b.code || '/' || e.number FROM batch b WHERE b.id = e.batch_id) AS code, e.recipient, e.use, e.mass_g AS "massG", e.volume_ml AS "volumeMl", e.basis, e.note, e.entered`;

@Injectable()
export class DistributionsRecords extends BatchLog<DistributionRow> {
  constructor(database: Database) {
    super(database, 'distribution', 'distribution', OWN);
  }
}
