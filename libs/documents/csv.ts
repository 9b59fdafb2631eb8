import { stringify } from 'csv-stringify/sync';

export type CsvCell = string | number | bigint | boolean | null;

/** One column: its heading, and how its cell is taken from a row. Pass figures as numbers, never as text. */
export interface CsvColumn<Row> {
  title: string;
  cell: (row: Row) => CsvCell;
}

/**
 * RFC 4180. Text that begins with = + - @ tab or return gets a leading apostrophe, because a spreadsheet
 * would run it as a formula: whoever can type a note could otherwise run something on the desk of
 * whoever opens the export (CWE-1236; OWASP ASVS 5.0, 1.2.10). Negative numbers stay numbers.
 */
const RFC_4180 = {
  record_delimiter: '\r\n',
  quote_record_delimiter: true,
  escape_formulas: true,
  cast: { boolean: (value: boolean) => (value ? 'true' : 'false') },
} as const;

const ROWS_A_PIECE = 500;

/** The whole table as text, heading line first, CRLF after every line. */
export function csvOf<Row>(columns: readonly CsvColumn<Row>[], rows: Iterable<Row>): string {
  const lines: CsvCell[][] = [headings(columns)];
  for (const row of rows) lines.push(cells(columns, row));
  return stringify(lines, RFC_4180);
}

/**
 * The same bytes piece by piece, for tables too long to hold in memory. The heading comes first, at once;
 * an error of `rows` reaches the reader unchanged.
 */
export async function* csvStream<Row>(
  columns: readonly CsvColumn<Row>[],
  rows: AsyncIterable<Row> | Iterable<Row>,
): AsyncGenerator<string, void, undefined> {
  yield stringify([headings(columns)], RFC_4180);
  let waiting: CsvCell[][] = [];
  for await (const row of rows) {
    waiting.push(cells(columns, row));
    if (waiting.length < ROWS_A_PIECE) continue;
    yield stringify(waiting, RFC_4180);
    waiting = [];
  }
  if (waiting.length > 0) yield stringify(waiting, RFC_4180);
}

const headings = <Row>(columns: readonly CsvColumn<Row>[]): CsvCell[] => columns.map(({ title }) => title);

const cells = <Row>(columns: readonly CsvColumn<Row>[], row: Row): CsvCell[] =>
  columns.map(({ cell }) => cell(row));
