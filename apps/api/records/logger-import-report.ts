import { Problem } from '../http/problems/catalogue.js';
import type { Sent } from './import-sent.js';
import type { LoggerImportReportDto, NewLoggerImportDto } from './logger-imports.dto.js';
import type { LoggerTally } from './logger-tally.js';

/** So many faults come with a refusal; the dry run tells of more. */
const FAULTS_TOLD = 100;

/** `earlier` is when this very file was imported before. */
export function loggerReport(
  dto: NewLoggerImportDto,
  sent: Sent,
  tally: LoggerTally,
  earlier: readonly Date[],
): LoggerImportReportDto {
  return {
    id: dto.dryRun ? null : sent.id,
    ...{ fileName: sent.fileName, fileSha256: sent.sha256.toString('hex'), dryRun: dto.dryRun },
    counts: tally.counts,
    ...tally.span(),
    notes: notesOf(dto, tally, earlier),
    faults: tally.faults,
  };
}

function notesOf(
  { repeatedHour }: NewLoggerImportDto,
  { repeated, counts }: LoggerTally,
  earlier: readonly Date[],
): string[] {
  const notes: string[] = [];
  if (earlier.length > 0 && counts.new > 0) {
    const when = earlier.map((at) => at.toISOString()).join(', ');
    notes.push(
      `This very file was imported before (${when}). Readings that are new now were left out then, or read with other ` +
        'settings.',
    );
  }
  if (repeated > 0 && repeatedHour !== undefined) {
    notes.push(
      `Clocks were put back: ${repeated} lines have times that they showed twice, read as ${repeatedHour}.`,
    );
  }
  return notes;
}

/** Nothing is imported by halves: a cell that is refused is mended, or its line named as left out. */
export function requireNoneRefused({ faults, counts }: LoggerImportReportDto): void {
  if (counts.refused === 0) return;
  throw new Problem(
    'invalid',
    `Nothing was imported: ${counts.refused} cells or lines are refused. Mend them, or name the lines in leaveOut.`,
    faults.slice(0, FAULTS_TOLD).map(({ line, column, detail }) => ({
      pointer: '/csv',
      detail: `line ${line}${column === null ? '' : `, "${column}"`}: ${detail}`,
    })),
  );
}
