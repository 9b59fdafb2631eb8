import type { Sheet } from '../../pdf/sheet.js';
import type { BatchRecord } from '../record.js';
import type { Clock } from '../words.js';

/** What every section is written from. */
export interface Writing {
  sheet: Sheet;
  record: BatchRecord;
  clock: Clock;
  seal: string | null;
}
