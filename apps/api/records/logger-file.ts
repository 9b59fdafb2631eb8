import { Problem, invalid } from '../http/problems/catalogue.js';
import { tablePieces } from './import-table.js';
import { type LoggerLine, LoggerLines, loggerSettingFaults } from './logger-lines.js';
import { LOGGER_LINES_MAX, type LoggerImportSettingsDto } from './logger-imports.dto.js';
import { LoggerTally } from './logger-tally.js';

/** A file with how it is to be read. It is gone through piece by piece, as often as is needed, and never held as cells. */
export class LoggerFile {
  private readonly leftOut: Set<number>;

  constructor(
    private readonly text: string,
    private readonly settings: LoggerImportSettingsDto & { leaveOut?: number[] },
    private readonly siteZone: string,
  ) {
    this.leftOut = new Set(settings.leaveOut);
  }

  /**
   * Its lines in order, null for one that is left out. Refuses (422) a file that cannot be read as a whole, settings that do
   * not fit it, and lines to leave out that are not there.
   */
  async *pieces(): AsyncGenerator<(LoggerLine | null)[], void, undefined> {
    const leftOut = new Set(this.leftOut);
    let reader: LoggerLines | null = null;
    let lines = 0;
    for await (const { header, rows } of tablePieces(this.text, this.settings.delimiter ?? ',')) {
      reader ??= this.readerOf(header);
      lines += rows.length;
      if (lines > LOGGER_LINES_MAX)
        throw invalid('/csv', `has more than ${LOGGER_LINES_MAX} lines; part the file`);
      const read = reader;
      yield rows.map((row) => (leftOut.delete(row.line) ? null : read.read(row)));
    }
    this.requireFound(leftOut);
  }

  private readerOf(header: readonly string[]): LoggerLines {
    const faults = loggerSettingFaults(this.settings, header);
    if (faults.length > 0) throw new Problem('invalid', undefined, faults);
    return new LoggerLines(header, this.settings, this.siteZone);
  }

  private requireFound(notFound: ReadonlySet<number>): void {
    const [line] = notFound;
    if (line === undefined) return;
    const index = this.settings.leaveOut?.indexOf(line) ?? 0;
    throw invalid(`/leaveOut/${index}`, 'is no line of the file that holds anything');
  }
}

/** What a file says, without looking at what is kept. */
export async function surveyOf(file: LoggerFile): Promise<LoggerTally> {
  const tally = new LoggerTally();
  for await (const lines of file.pieces()) {
    for (const line of lines) {
      if (line === null) tally.leftOut();
      else tally.line(line);
    }
  }
  return tally;
}
