import type { TemperatureChart } from '../chart/chart.js';
import { penOf, type Mark } from '../chart/pens.js';
import { INK, PAGE, STYLE, type Style } from './look.js';
import type { Sheet } from './sheet.js';

/** Room beside the plot: degrees on the left, names of the lines on the right. */
const LEFT = 62;
const RIGHT = 78;
const LANE = 13;
const MARK = 10;

export const PLOT = { width: 595.28 - PAGE.left - PAGE.right - LEFT - RIGHT, height: 186 } as const;

/** Lines differ by pen and by the name at their end; shade only helps. */
const SHADES = ['#1c1c1c', '#4a4a4a', '#1c1c1c', '#6b6b6b', '#333333', '#6b6b6b'] as const;

const TICK: Style = { ...STYLE.foot, size: 7, leading: 9 };
const NAME: Style = { ...TICK, colour: INK.black };
const MARKED: Style = { ...TICK, face: 'strong', colour: INK.accent };

const roomAbove = ({ marks }: TemperatureChart): number => Math.max(1, marks.length) * MARK + 8;
const BELOW = 14 + LANE * 2 + 6;

export const heightOfChart = (chart: TemperatureChart): number => roomAbove(chart) + chart.height + BELOW;

/** Draws the chart at the sheet's place as one Figure with `alt` for those who do not see it. */
export function drawTemperatureChart(sheet: Sheet, chart: TemperatureChart, alt: string): void {
  const above = roomAbove(chart);
  sheet.need(heightOfChart(chart));
  const x = PAGE.left + LEFT;
  const y = sheet.y + above;
  const bbox = [PAGE.left, sheet.y, PAGE.width - PAGE.right, y + chart.height + BELOW];
  const figure = sheet.element('Figure', { alt, bbox });
  sheet.draw(figure, () => {
    drawSpans(sheet, chart, x, y);
    drawAxes(sheet, chart, x, y);
    drawTurns(sheet, chart, x, y);
    drawThreshold(sheet, chart, x, y);
    drawLines(sheet, chart, x, y);
    drawMarks(sheet, chart, x, y);
  });
  figure.end();
  sheet.y = y + chart.height + BELOW;
}

function drawSpans(sheet: Sheet, chart: TemperatureChart, x: number, y: number): void {
  const { doc } = sheet;
  const lane = y + chart.height + 14 + LANE;
  sheet.line('Credited', PAGE.left, lane + 2, TICK);
  sheet.rule(x, lane + LANE, chart.width);
  for (const span of chart.creditedSpans) {
    doc.save();
    doc.rect(x + span.x, y, span.width, chart.height).clip();
    for (let at = -chart.height; at < span.width; at += 6) {
      doc.moveTo(x + span.x + at, y + chart.height).lineTo(x + span.x + at + chart.height, y);
    }
    doc.lineWidth(0.5).stroke(INK.hatch);
    doc.restore();
    doc.rect(x + span.x, lane + 3, Math.max(span.width, 0.8), LANE - 6).fill(INK.rule);
  }
}

function drawAxes(sheet: Sheet, chart: TemperatureChart, x: number, y: number): void {
  sheet.line('°C', x - 18, y - 14, TICK);
  sheet.line('°F', x - 46, y - 14, TICK);
  for (const tick of chart.temperatureTicks) {
    sheet.rule(x, y + tick.y, chart.width, { weight: 0.4 });
    right(sheet, String(tick.temperatureC), x - 8, y + tick.y - 5, NAME);
    right(sheet, String(tick.temperatureF), x - 34, y + tick.y - 5, TICK);
  }
  const foot = y + chart.height;
  sheet.rule(x, foot, chart.width, { colour: INK.rule });
  for (const tick of chart.timeTicks) {
    sheet.doc
      .moveTo(x + tick.x, foot)
      .lineTo(x + tick.x, foot + 3)
      .lineWidth(0.5)
      .stroke(INK.rule);
    const width = sheet.widthOf(tick.label, TICK);
    sheet.line(tick.label, x + tick.x - width / 2, foot + 4, TICK);
  }
}

function drawTurns(sheet: Sheet, chart: TemperatureChart, x: number, y: number): void {
  const { doc } = sheet;
  const lane = y + chart.height + 14;
  sheet.line('Turns', PAGE.left, lane + 2, TICK);
  sheet.rule(x, lane + LANE, chart.width);
  let free = -Infinity;
  for (const turn of chart.turns) {
    const at = x + turn.x;
    doc.moveTo(at, y).lineTo(at, y + chart.height);
    doc.lineWidth(0.5).dash(1, { space: 2 }).stroke(INK.rule).undash();
    const label = String(turn.number);
    const width = sheet.widthOf(label, NAME);
    // a number that would touch the one before is left out; its line stays
    if (at - width / 2 < free) continue;
    sheet.line(label, at - width / 2, lane + 2, NAME);
    free = at + width / 2 + 2;
  }
}

function drawThreshold(sheet: Sheet, { threshold, width }: TemperatureChart, x: number, y: number): void {
  if (!threshold) return;
  const at = y + threshold.y;
  const label = y + threshold.labelY;
  sheet.rule(x, at, width, { colour: INK.accent, weight: 1 });
  sheet.doc
    .moveTo(x + width, at)
    .lineTo(x + width + 6, label)
    .lineWidth(1)
    .stroke(INK.accent);
  sheet.line(`${threshold.temperatureC} °C threshold`, x + width + 9, label - 5, MARKED);
}

function drawLines(sheet: Sheet, chart: TemperatureChart, x: number, y: number): void {
  const { doc } = sheet;
  chart.lines.forEach((line, index) => {
    const pen = penOf(index);
    const shade = SHADES[index % SHADES.length] ?? INK.black;
    doc.save().translate(x, y).lineWidth(0.9).lineJoin('round');
    if (line.path !== '') {
      // pdfkit takes a list of lengths; its published types know a single one only
      if (pen.dash) doc.dash(pen.dash as unknown as number, {});
      doc.path(line.path).stroke(shade);
      doc.undash();
    }
    for (const point of line.points) drawMark(sheet, pen.mark, shade, point.x, point.y);
    // a long leader would look like a line of readings that were never taken
    if (chart.width - line.end.x < 12) {
      doc.moveTo(line.end.x + 2, line.end.y).lineTo(chart.width + 6, line.labelY);
      doc.lineWidth(0.4).stroke(INK.rule);
    }
    drawMark(sheet, pen.mark, shade, chart.width + 10, line.labelY);
    doc.restore();
    sheet.line(sheet.fit(line.position, NAME, RIGHT - 18), x + chart.width + 17, y + line.labelY - 5, NAME);
  });
}

function drawMark({ doc }: Sheet, { path, look }: Mark, shade: string, x: number, y: number): void {
  doc.save().translate(x, y).lineWidth(0.7).path(path);
  if (look === 'filled') doc.fill(shade);
  else if (look === 'hollow') doc.fillAndStroke('#ffffff', shade);
  else doc.stroke(shade);
  doc.restore();
}

function drawMarks(sheet: Sheet, chart: TemperatureChart, x: number, y: number): void {
  chart.marks.forEach((mark, index) => {
    const at = x + mark.x;
    const top = y - (chart.marks.length - index) * MARK - 2;
    sheet.doc
      .moveTo(at, top)
      .lineTo(at, y + chart.height)
      .lineWidth(0.8)
      .stroke(INK.accent);
    const width = sheet.widthOf(mark.label, MARKED);
    const toLeft = mark.x > chart.width / 2;
    sheet.line(mark.label, toLeft ? at - width - 4 : at + 4, top - 1, MARKED);
  });
}

function right(sheet: Sheet, text: string, x: number, y: number, style: Style): void {
  sheet.line(text, x - sheet.widthOf(text, style), y, style);
}
