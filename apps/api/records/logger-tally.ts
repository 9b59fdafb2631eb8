import { isDoubtful, type Outcome } from '../loggers/logger-ingest.service.js';
import type { CellFault, LoggerCell, LoggerLine } from './logger-lines.js';
import type { LoggerImportCountsDto, LoggerImportSettingsDto } from './logger-imports.dto.js';

/** So many faults are told one by one; of the rest, how many. */
const FAULTS_TOLD = 1_000;

const nothing = {
  ...{ lines: 0, readings: 0, new: 0, known: 0, blank: 0, refused: 0, leftOut: 0 },
  ...{ warned: 0, withoutBatch: 0 },
};

/** Counts what a file says and what becomes of it. */
export class LoggerTally {
  readonly counts: LoggerImportCountsDto = { ...nothing };
  readonly faults: CellFault[] = [];
  /** Lines whose local time clocks showed twice. */
  repeated = 0;
  private firstMs = Infinity;
  private lastMs = -Infinity;

  line({ readings, faults, blank, repeated }: LoggerLine): void {
    this.counts.lines += 1;
    this.counts.readings += readings.length;
    this.counts.blank += blank;
    if (repeated) this.repeated += 1;
    for (const fault of faults) this.fault(fault);
    for (const { atMs, temperatureDeciC } of readings) {
      this.firstMs = Math.min(this.firstMs, atMs);
      this.lastMs = Math.max(this.lastMs, atMs);
      if (isDoubtful(temperatureDeciC)) this.counts.warned += 1;
    }
  }

  leftOut(): void {
    this.counts.lines += 1;
    this.counts.leftOut += 1;
  }

  withoutBatch(readings: number): void {
    this.counts.withoutBatch += readings;
  }

  outcome({ line, column }: LoggerCell, outcome: Outcome, { columns }: LoggerImportSettingsDto): void {
    if (typeof outcome === 'string') this.counts[outcome] += 1;
    else
      this.fault({
        line,
        column: outcome.field === 'occurredAt' ? columns.time : column,
        detail: outcome.detail,
      });
  }

  span(): { from: string | null; to: string | null } {
    if (this.firstMs > this.lastMs) return { from: null, to: null };
    return { from: new Date(this.firstMs).toISOString(), to: new Date(this.lastMs).toISOString() };
  }

  private fault(fault: CellFault): void {
    this.counts.refused += 1;
    if (this.faults.length < FAULTS_TOLD) this.faults.push(fault);
  }
}
