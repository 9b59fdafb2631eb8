import type { Sheet } from '../../pdf/sheet.js';
import type { DiversionReport } from '../report.js';

/** What every section is written from. */
export interface Writing {
  sheet: Sheet;
  report: DiversionReport;
  seal: string | null;
}
