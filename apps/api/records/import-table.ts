import { isUtf8 } from 'node:buffer';
import { setImmediate } from 'node:timers/promises';
import { Parser } from 'csv-parse';
import { CsvError, type Info, type Options, parse } from 'csv-parse/sync';
import { invalid } from '../http/problems/catalogue.js';

export const delimiters = [',', ';', 'tab'] as const;
export type Delimiter = (typeof delimiters)[number];

/** One line of the file: its cells, or why it has none. */
export type TableRow = { line: number; cells: string[] } | { line: number; fault: string };

export interface Table {
  header: string[];
  rows: TableRow[];
}

/** Longer files are to be parted: a report is read by people. */
export const LINES_MAX = 50_000;

const NOT_UTF_8 =
  'holds bytes that are no UTF-8 text, perhaps because it was saved as Latin-1; save the file again as UTF-8';

/** Text of a file's bytes. Refuses (422 at `/csvBase64`) what is not UTF-8, naming the line. */
export function textOf(bytes: Uint8Array): string {
  if (isUtf8(bytes)) return new TextDecoder().decode(bytes);
  let line = 1;
  for (let from = 0; ; line += 1) {
    const end = bytes.indexOf(0x0a, from);
    if (end < 0 || !isUtf8(bytes.subarray(from, end))) break;
    from = end + 1;
  }
  throw invalid('/csvBase64', `line ${line} ${NOT_UTF_8}`);
}

/**
 * RFC 4180, line by line; empty lines are passed over. A line with cells missing or to spare, or with a stray quote, is
 * a row with a fault. Refuses (422 at `/csv`) a file without a header or with one column named twice, one with a quote
 * that is never closed (all after it would be swallowed), and one of more than {@link LINES_MAX} lines.
 */
export function tableOf(text: string, delimiter: Delimiter): Table {
  const [first, ...rest] = rowsOf(text, delimiter);
  const header = headerOf(first);
  if (rest.length > LINES_MAX) throw invalid('/csv', `has more than ${LINES_MAX} lines; part the file`);
  return { header, rows: rest.map((row) => checked(row, header.length)) };
}

/**
 * The same piece by piece, for files too long to hold all their cells at once; others are served in between. The caller
 * counts the lines.
 */
export async function* tablePieces(
  text: string,
  delimiter: Delimiter,
): AsyncGenerator<Table, void, undefined> {
  const waiting: TableRow[] = [];
  const parser = new Parser(rowOptions(delimiter, (row) => waiting.push(row)));
  let header: string[] | null = null;
  const lines = plainLines(text);
  for (let from = 0; from <= lines.length;) {
    const end = lines.indexOf('\n', from + PIECE_CHARS) + 1 || lines.length + 1;
    await fed(parser, lines.slice(from, end), end > lines.length);
    from = end;
    if (header === null && (waiting.length > 0 || end > lines.length)) header = headerOf(waiting.shift());
    if (header === null) continue;
    const width = header.length;
    yield { header, rows: waiting.splice(0).map((row) => checked(row, width)) };
    await setImmediate();
  }
}

const PIECE_CHARS = 65_536;

function fed(parser: Parser, text: string, isLast: boolean): Promise<void> {
  return new Promise((resolve, reject) => {
    parser.once('error', reject);
    const taken = (error?: Error | null) => {
      parser.off('error', reject);
      if (error) reject(error);
      else resolve();
    };
    if (isLast) parser.end(text, taken);
    else parser.write(text, taken);
  });
}

function headerOf(first: TableRow | undefined): string[] {
  if (!first || 'fault' in first) throw invalid('/csv', 'has no line of column names that can be read');
  const header = first.cells;
  const twice = header.find((name, index) => name !== '' && header.indexOf(name) !== index);
  if (twice !== undefined) throw invalid('/csv', `has two columns named "${twice}"`);
  return header;
}

/** Control characters other than tab and line ends, which no text of the records may hold. */
const CONTROL = /(?![\t\n\r])\p{Cc}/u;

function checked(row: TableRow, width: number): TableRow {
  if ('fault' in row) return row;
  if (row.cells.some((cell) => CONTROL.test(cell)))
    return { line: row.line, fault: 'holds control characters' };
  if (row.cells.length === width) return row;
  return { line: row.line, fault: `has ${row.cells.length} cells; the first line names ${width} columns` };
}

/** The parser counts CRLF inside quotes as two lines, so line ends are made one character first. */
const plainLines = (text: string): string => text.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n');

function rowsOf(text: string, delimiter: Delimiter): TableRow[] {
  const rows: TableRow[] = [];
  parse(
    plainLines(text),
    rowOptions(delimiter, (row) => rows.push(row)),
  );
  return rows;
}

/** What the parser is told; it keeps nothing itself, and hands every row to `onRow`. */
function rowOptions(delimiter: Delimiter, onRow: (row: TableRow) => void): Options {
  let lastLine = 0;
  return {
    delimiter: delimiter === 'tab' ? '\t' : delimiter,
    trim: true,
    relax_column_count: true,
    skip_records_with_error: true,
    on_record: (cells: string[], { lines }: Info) => {
      const line = lastLine + 1;
      lastLine = lines;
      if (cells.some((cell) => cell !== '')) onRow({ line, cells });
    },
    on_skip: (error) => {
      const line = lastLine + 1;
      lastLine = Number(error?.['lines'] ?? line);
      const code = error instanceof CsvError ? error.code : '';
      if (code === 'CSV_QUOTE_NOT_CLOSED') {
        throw invalid('/csv', `has a quote at or after line ${line} that is not closed; nothing was read`);
      }
      onRow({ line, fault: 'has a quote where none can be; write it twice inside a quoted cell' });
    },
  };
}
