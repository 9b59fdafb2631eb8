import { fractionOf, Grid, type GridCell, type GridColumn } from './grid.js';
import { STYLE, type Style } from './look.js';
import type { Sheet } from './sheet.js';
import { FULL_WIDTH, type Place } from './text.js';

/** `figure` sets decimal points under each other; `share` is a part of what fixed widths leave over. */
export interface Column {
  title: string;
  align?: 'left' | 'figure';
  width?: number;
  share?: number;
}

/** A total is set strong between a rule and a double rule, as on a weigh slip. */
export interface Row {
  cells: string[];
  total?: boolean;
}

/** A name and what it is. */
export type Pair = [label: string, value: string];

export interface TableOptions {
  place?: Place;
  style?: Style;
  /** Room above and below the text of a row. */
  pad?: number;
}

const GAP = 12;
const PAD = 2.2;
/** A table, or a list of pairs, no higher than this is not parted by a page break: a third of a page. */
const KEPT_WHOLE = 220;
/** Of anything higher so much is kept together at the least, in whole rows, where it begins and where it ends. */
const OPENING = 60;
const CLOSING = 36;

/**
 * A table with a head row; the first cell of each row heads it. A column that no row has anything for is left out.
 */
export function table(
  sheet: Sheet,
  allColumns: readonly Column[],
  allRows: readonly Row[],
  options: TableOptions = {},
): void {
  const { columns, rows } = withoutEmptyColumns(allColumns, allRows);
  const { place = FULL_WIDTH, style = STYLE.cell, pad = PAD } = options;
  const placed = placesOf(columns, place).map(({ x, width }, index) => ({
    x,
    width,
    align: columns[index]?.align ?? 'left',
    fraction: longestFraction(rows, index),
  }));
  const headStyle = { ...STYLE.label, size: Math.min(STYLE.label.size, style.size) };
  const head = columns.map(({ title }): GridCell => ({
    text: title,
    style: headStyle,
    tag: 'TH',
    scope: 'Column',
  }));
  const cellsOf = ({ cells, total }: Row): GridCell[] => {
    const face = total ? STYLE.cellStrong : style;
    return cells.map((text, index) =>
      index === 0 ? { text, style: face, tag: 'TH', scope: 'Row' } : { text, style: face, tag: 'TD' },
    );
  };
  const grid = new Grid(sheet, placed, head, pad);
  const laid = rows.map(cellsOf);
  const heights = laid.map((cells) => grid.heightOf(cells));
  sheet.need(heightToKeep([grid.heightOf(head), ...heights]));
  const closing = closingOf(heights);
  sheet.within('Table', () => {
    grid.start();
    laid.forEach((cells, index) => {
      if (index === closing) grid.keep(sumOf(heights.slice(index)));
      grid.row(cells, rows[index]?.total ? 'total' : 'plain');
    });
    grid.finish();
  });
  sheet.y += 8;
}

function withoutEmptyColumns(
  columns: readonly Column[],
  rows: readonly Row[],
): { columns: Column[]; rows: readonly Row[] } {
  const kept = columns.map((_column, index) => rows.some(({ cells }) => cells[index] !== ''));
  if (!kept.includes(false)) return { columns: [...columns], rows };
  return {
    columns: columns.filter((_column, index) => kept[index]),
    rows: rows.map((row) => ({ ...row, cells: row.cells.filter((_cell, index) => kept[index]) })),
  };
}

/** All of what is no higher than a third of a page; of anything longer the rows it opens with. */
function heightToKeep(heights: readonly number[]): number {
  const whole = sumOf(heights);
  if (whole <= KEPT_WHOLE) return whole;
  let opening = 0;
  for (const height of heights) if (opening < OPENING) opening += height;
  return opening;
}

/** Where the rows begin that end a table together: two at least, so that none stands alone on a page of its own. */
function closingOf(heights: readonly number[]): number {
  let closing = Math.max(0, heights.length - 2);
  while (closing > 0 && sumOf(heights.slice(closing)) < CLOSING) closing -= 1;
  return closing;
}

const sumOf = (heights: readonly number[]): number => heights.reduce((sum, height) => sum + height, 0);

/** Names with their values, one pair or two to a row. */
export function pairs(sheet: Sheet, list: readonly Pair[], perRow: 1 | 2 = 2): void {
  const columns: Column[] = Array.from({ length: perRow }).flatMap(() => [
    { title: '', width: 88 },
    { title: '', share: 1 },
  ]);
  const placed = placesOf(columns, FULL_WIDTH).map(({ x, width }): GridColumn => ({
    x,
    width,
    align: 'left',
    fraction: '',
  }));
  const rows = Array.from({ length: Math.ceil(list.length / perRow) }, (_unused, index) =>
    cellsOfPairs(list.slice(index * perRow, (index + 1) * perRow), perRow),
  );
  const grid = new Grid(sheet, placed, null, PAD);
  sheet.need(heightToKeep(rows.map((cells) => grid.heightOf(cells))));
  sheet.within('Table', () => {
    for (const cells of rows) grid.row(cells);
    grid.finish();
  });
  sheet.y += 8;
}

function cellsOfPairs(row: readonly Pair[], perRow: number): GridCell[] {
  const full = [...row, ...Array.from({ length: perRow - row.length }, (): Pair => ['', ''])];
  return full.flatMap(([label, value]): GridCell[] => [
    { text: label, style: STYLE.label, tag: 'TH', scope: 'Row' },
    { text: value, style: STYLE.cell, tag: 'TD' },
  ]);
}

function placesOf(columns: readonly Column[], { x, width }: Place): Place[] {
  const fixed = columns.reduce((sum, column) => sum + (column.width ?? 0), 0);
  const shares = columns.reduce((sum, column) => sum + (column.share ?? 0), 0);
  const free = width - fixed - GAP * (columns.length - 1);
  let next = x;
  return columns.map((column) => {
    const own = column.width ?? (free * (column.share ?? 0)) / shares;
    const placed = { x: next, width: own };
    next += own + GAP;
    return placed;
  });
}

function longestFraction(rows: readonly Row[], index: number): string {
  return rows
    .map(({ cells }) => fractionOf(cells[index] ?? ''))
    .reduce((longest, fraction) => (fraction.length > longest.length ? fraction : longest), '');
}
