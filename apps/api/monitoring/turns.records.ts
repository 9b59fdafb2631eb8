import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import { type BatchEntry, BatchLog } from '../http/writes/batch-log.records.js';

export interface TurnRow extends BatchEntry {
  note: string | null;
}

@Injectable()
export class TurnsRecords extends BatchLog<TurnRow> {
  constructor(database: Database) {
    super(database, 'turn', 'turn', 'e.note');
  }
}
