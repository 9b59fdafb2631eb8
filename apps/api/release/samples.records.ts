import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import type { SampleOutcome, SampleResult } from '#libs/process';
import { type BatchEntry, BatchLog } from '../http/writes/batch-log.records.js';
import type { SampleEntered } from './samples.dto.js';

export interface SampleRow extends BatchEntry {
  kind: string;
  results: SampleResult[];
  finding: string | null;
  outcome: SampleOutcome;
  laboratory: string | null;
  reference: string | null;
  massG: number;
  entered: SampleEntered;
}

const OWN = `e.kind, e.results, e.finding, e.outcome, e.laboratory, e.reference,
  e.mass_g AS "massG", e.entered`;

@Injectable()
export class SamplesRecords extends BatchLog<SampleRow> {
  constructor(database: Database) {
    super(database, 'sample', 'sample', OWN);
  }
}
