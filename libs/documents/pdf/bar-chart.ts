import type { BarChart, Box } from '../chart/bars.js';
import { CONTENT_WIDTH, INK, PAGE, STYLE, type Style } from './look.js';
import type { Sheet } from './sheet.js';

/** What the parts of every bar are, in their order, and its mark; and for those who do not see the chart, all of it. */
export interface BarWords {
  parts: readonly string[];
  mark: string;
  unit: string;
  alt: string;
  /** Beside bars that grow to the right, one each, under a heading: digits, as a table has them. */
  values?: { title: string; digits: readonly string[] };
}

export type Fill = 'solid' | 'hatched' | 'hollow';
/** Told apart by how they are filled; shade only helps. */
export const FILLS: readonly Fill[] = ['solid', 'hatched', 'hollow'];
const SOLID = '#5a5a5a';
const OUTLINE = '#3c3c3c';

const LEGEND = 18;
const BELOW = 22;
const TICK: Style = { ...STYLE.foot, size: 7, leading: 9 };
const NAME: Style = { ...TICK, colour: INK.black };

/** Room beside the plot: the scale on the left of columns; names on the left of rows, and their figures on the right. */
const SIDES = { up: { left: 50, right: 6 }, right: { left: 150, right: 62 } } as const;

/** The plot of a chart over the full width of the page. */
export const plotOf = (grows: 'up' | 'right', height: number) => ({
  grows,
  height,
  width: CONTENT_WIDTH - SIDES[grows].left - SIDES[grows].right,
});

export const heightOfBars = (chart: BarChart): number => LEGEND + 12 + chart.height + BELOW;

/** Draws the chart at the sheet's place as one Figure. */
export function drawBarChart(sheet: Sheet, chart: BarChart, words: BarWords): void {
  const height = heightOfBars(chart);
  sheet.need(height);
  const x = PAGE.left + SIDES[chart.grows].left;
  const y = sheet.y + LEGEND + 12;
  const bbox = [PAGE.left, sheet.y, PAGE.width - PAGE.right, sheet.y + height];
  const figure = sheet.element('Figure', { alt: words.alt, bbox });
  sheet.draw(figure, () => {
    drawLegend(sheet, words);
    if (chart.grows === 'up') drawColumnAxes(sheet, chart, words, x, y);
    else drawRowAxes(sheet, chart, words, x, y);
    drawBars(sheet, chart, x, y);
  });
  figure.end();
  sheet.y += height;
}

function drawLegend(sheet: Sheet, { parts, mark }: BarWords): void {
  const { doc, y } = sheet;
  let x = PAGE.left;
  const say = (text: string): void => {
    sheet.line(text, x + 15, y, NAME);
    x += 15 + sheet.widthOf(text, NAME) + 16;
  };
  parts.forEach((text, index) => {
    drawBox(sheet, { x, y: y + 1, width: 10, height: 7 }, FILLS[index] ?? 'hollow');
    say(text);
  });
  doc
    .moveTo(x + 5, y - 0.5)
    .lineTo(x + 5, y + 9.5)
    .lineWidth(1.8)
    .stroke(INK.accent);
  say(mark);
}

function drawColumnAxes(sheet: Sheet, chart: BarChart, { unit }: BarWords, x: number, y: number): void {
  right(sheet, unit, x - 6, y - 14, TICK);
  for (const { at, value } of chart.ticks) {
    const isZero = at === chart.zero;
    sheet.rule(x, y + at, chart.width, isZero ? { colour: INK.rule } : { weight: 0.4 });
    right(sheet, String(value), x - 6, y + at - 5, NAME);
  }
  let free = -Infinity;
  for (const { label, middle } of chart.bars) {
    const width = sheet.widthOf(label, TICK);
    // a label that would touch the one before is left out; its column stays, and the table names it
    if (middle - width / 2 < free) continue;
    sheet.line(label, x + middle - width / 2, y + chart.height + 4, TICK);
    free = middle + width / 2 + 3;
  }
}

function drawRowAxes(sheet: Sheet, chart: BarChart, words: BarWords, x: number, y: number): void {
  const { doc } = sheet;
  for (const { at, value } of chart.ticks) {
    doc.moveTo(x + at, y).lineTo(x + at, y + chart.height);
    doc.lineWidth(at === chart.zero ? 0.5 : 0.4).stroke(at === chart.zero ? INK.rule : INK.hair);
    const label = `${value}`;
    sheet.line(label, x + at - sheet.widthOf(label, TICK) / 2, y + chart.height + 4, TICK);
  }
  sheet.line(words.unit, PAGE.left, y + chart.height + 4, TICK);
  const edge = PAGE.width - PAGE.right;
  if (words.values) right(sheet, words.values.title, edge, y - 11, TICK);
  chart.bars.forEach(({ label, middle }, index) => {
    const top = y + middle - 5;
    sheet.line(sheet.fit(label, NAME, SIDES.right.left - 12), PAGE.left, top, NAME);
    right(sheet, words.values?.digits[index] ?? '', edge, top, NAME);
  });
}

function drawBars(sheet: Sheet, chart: BarChart, x: number, y: number): void {
  const { doc } = sheet;
  doc.save().translate(x, y);
  for (const { parts, mark } of chart.bars) {
    parts.forEach((box, index) => {
      if (box.width > 0 && box.height > 0) drawBox(sheet, box, FILLS[index] ?? 'hollow');
    });
    doc.moveTo(mark.x1, mark.y1).lineTo(mark.x2, mark.y2).lineWidth(1.8).stroke(INK.accent);
  }
  doc.restore();
}

export function drawBox({ doc }: Sheet, { x, y, width, height }: Box, fill: Fill): void {
  if (fill === 'solid') {
    doc.rect(x, y, width, height).fill(SOLID);
    return;
  }
  if (fill === 'hatched') {
    doc.save().rect(x, y, width, height).clip();
    for (let at = -height; at < width; at += 2.6) {
      doc.moveTo(x + at, y + height).lineTo(x + at + height, y);
    }
    doc.lineWidth(0.5).stroke(OUTLINE).restore();
  }
  doc.rect(x, y, width, height).lineWidth(0.5).stroke(OUTLINE);
}

function right(sheet: Sheet, text: string, x: number, y: number, style: Style): void {
  sheet.line(text, x - sheet.widthOf(text, style), y, style);
}
