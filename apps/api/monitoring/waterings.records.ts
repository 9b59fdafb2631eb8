import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import { type BatchEntry, BatchLog } from '../http/writes/batch-log.records.js';
import type { WateringEntered } from './work.dto.js';

export interface WateringRow extends BatchEntry {
  /** Null when nobody measured it. */
  volumeMl: number | null;
  entered: WateringEntered;
  note: string | null;
}

@Injectable()
export class WateringsRecords extends BatchLog<WateringRow> {
  constructor(database: Database) {
    super(database, 'watering', 'watering', 'e.volume_ml AS "volumeMl", e.entered, e.note');
  }
}
