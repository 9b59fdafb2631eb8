import { INK, PAGE, type Style } from './look.js';
import type { Element, Sheet, Tag } from './sheet.js';

export interface GridColumn {
  x: number;
  width: number;
  align: 'left' | 'figure';
  /** The longest fraction of a figure column, such as ".250": decimal points stand under each other. */
  fraction: string;
}

export interface GridCell {
  text: string;
  style: Style;
  tag: Extract<Tag, 'TH' | 'TD'>;
  scope?: 'Row' | 'Column';
}

export type RowKind = 'plain' | 'head' | 'total';

/** A cell broken into lines, in its column. */
interface LaidCell {
  lines: string[];
  style: Style;
  column: GridColumn;
  cell: GridCell;
}

/**
 * Rows of cells on a page, and on as many more as they take. A row stays whole where a page can hold it; the head
 * is repeated on each new page, as an artifact: a screen reader hears it once.
 */
export class Grid {
  private rules: { y: number; colour: string; weight: number }[] = [];

  /** `pad` is the room above and below the text of a row. */
  constructor(
    private readonly sheet: Sheet,
    private readonly columns: readonly GridColumn[],
    private readonly head: readonly GridCell[] | null,
    private readonly pad: number,
  ) {}

  heightOf(cells: readonly GridCell[]): number {
    return this.size(this.lay(cells)).height;
  }

  /** Puts the head down. */
  start(): void {
    if (this.head) this.row(this.head, 'head');
  }

  /** Turns the page where so much does not fit on this one. */
  keep(height: number): void {
    const { sheet } = this;
    const fitsPage = height < sheet.bottom - PAGE.top - 3 * this.pad;
    if (fitsPage && sheet.y + height > sheet.bottom) this.turnPage();
  }

  row(cells: readonly GridCell[], kind: RowKind = 'plain'): void {
    const { sheet } = this;
    const laid = this.lay(cells);
    this.keep(this.size(laid).height);
    if (kind === 'total') this.rule(INK.rule, 0.7);
    sheet.within('TR', () => this.pour(laid));
    if (kind === 'plain') this.rule(INK.hair, 0.4);
    else this.rule(INK.rule, 0.7);
    if (kind !== 'total') return;
    sheet.y += 1.8;
    this.rule(INK.rule, 0.7);
  }

  /** Draws the rules of this page; to be called after the last row. */
  finish(): void {
    const { sheet, rules } = this;
    const x = this.columns[0]?.x ?? 0;
    const last = this.columns.at(-1);
    const width = last ? last.x + last.width - x : 0;
    if (rules.length > 0) {
      sheet.artifact(() => {
        for (const { y, ...pen } of rules) sheet.rule(x, y, width, pen);
      });
    }
    this.rules = [];
  }

  /** Puts down as many lines as fit, turns the page, and goes on. */
  private pour(laid: readonly LaidCell[]): void {
    const { sheet, pad } = this;
    const { lines, leading } = this.size(laid);
    const elements = laid.map(({ cell: { tag, scope } }) => sheet.element(tag, scope ? { scope } : {}));
    for (let done = 0; done < lines;) {
      const room = Math.floor((sheet.bottom - sheet.y - 2 * pad) / leading);
      if (room < 1) {
        this.turnPage();
        continue;
      }
      laid.forEach((cell, index) => this.drawTagged(elements[index], cell, done, done + room));
      const put = Math.min(room, lines - done);
      done += put;
      sheet.y += put * leading + 2 * pad;
    }
    for (const element of elements) element.end();
  }

  private drawTagged(element: Element | undefined, cell: LaidCell, from: number, to: number): void {
    const here = cell.lines.slice(from, to);
    if (!element || here.every((line) => line === '')) return;
    this.sheet.draw(element, () => this.drawLines({ ...cell, lines: here }));
  }

  private drawLines({ lines, style, column }: LaidCell): void {
    const { sheet, pad } = this;
    lines.forEach((line, index) => {
      const x = column.align === 'figure' ? this.figureX(line, style, column) : column.x;
      sheet.line(line, x, sheet.y + pad + index * style.leading, style);
    });
  }

  private figureX(text: string, style: Style, { x, width, fraction }: GridColumn): number {
    const { sheet } = this;
    const missing = isFigure(text)
      ? sheet.widthOf(fraction, style) - sheet.widthOf(fractionOf(text), style)
      : 0;
    return x + width - sheet.widthOf(text.trimEnd(), style) - missing;
  }

  private lay(cells: readonly GridCell[]): LaidCell[] {
    return cells.map((cell, index) => {
      const column = this.columns[index];
      if (!column) throw new RangeError('A row has more cells than the table has columns.');
      const { text, style } = cell;
      return { lines: this.sheet.wrap(text, style, column.width), style, column, cell };
    });
  }

  private size(laid: readonly LaidCell[]): { lines: number; leading: number; height: number } {
    const lines = Math.max(...laid.map((cell) => cell.lines.length));
    const leading = Math.max(...laid.map(({ style }) => style.leading));
    return { lines, leading, height: lines * leading + 2 * this.pad };
  }

  private turnPage(): void {
    const { sheet, head } = this;
    this.finish();
    sheet.newPage();
    if (!head) return;
    const laid = this.lay(head);
    sheet.artifact(() => laid.forEach((cell) => this.drawLines(cell)));
    sheet.y += this.size(laid).height;
    this.rule(INK.rule, 0.7);
  }

  private rule(colour: string, weight: number): void {
    this.rules.push({ y: this.sheet.y, colour, weight });
  }
}

const FIGURE = /^-?\d+(\.\d+)?$/;

const isFigure = (text: string): boolean => FIGURE.test(text);

/** The fraction of a printed figure with its point: ".25" of "12.25", nothing of "12" or of words. */
export function fractionOf(text: string): string {
  return FIGURE.exec(text)?.[1] ?? '';
}
