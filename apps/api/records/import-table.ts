import { isUtf8 } from 'node:buffer';
import { CsvError, type Info, parse } from 'csv-parse/sync';
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
  const rows = rowsOf(text, delimiter);
  const [first, ...rest] = rows;
  if (!first || 'fault' in first) throw invalid('/csv', 'has no line of column names that can be read');
  if (rest.length > LINES_MAX) throw invalid('/csv', `has more than ${LINES_MAX} lines; part the file`);
  const header = first.cells;
  const twice = header.find((name, index) => name !== '' && header.indexOf(name) !== index);
  if (twice !== undefined) throw invalid('/csv', `has two columns named "${twice}"`);
  return { header, rows: rest.map((row) => checked(row, header.length)) };
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
function rowsOf(text: string, delimiter: Delimiter): TableRow[] {
  const rows: TableRow[] = [];
  let lastLine = 0;
  parse(text.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n'), {
    delimiter: delimiter === 'tab' ? '\t' : delimiter,
    trim: true,
    relax_column_count: true,
    skip_records_with_error: true,
    on_record: (cells: string[], { lines }: Info) => {
      const line = lastLine + 1;
      lastLine = lines;
      if (cells.some((cell) => cell !== '')) rows.push({ line, cells });
    },
    on_skip: (error) => {
      const line = lastLine + 1;
      lastLine = Number(error?.['lines'] ?? line);
      const code = error instanceof CsvError ? error.code : '';
      if (code === 'CSV_QUOTE_NOT_CLOSED') {
        throw invalid('/csv', `has a quote at or after line ${line} that is not closed; nothing was read`);
      }
      rows.push({ line, fault: 'has a quote where none can be; write it twice inside a quoted cell' });
    },
  });
  return rows;
}
