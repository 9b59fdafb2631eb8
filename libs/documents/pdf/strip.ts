import { drawBox, FILLS } from './bar-chart.js';
import { CONTENT_WIDTH, PAGE, STYLE, type Style } from './look.js';
import type { Sheet } from './sheet.js';

const HEIGHT = 15;
const NAME: Style = { ...STYLE.foot, size: 7.4, leading: 10 };

/** A whole over the width of the page, parted by what it is made of, with a legend below: one Figure with `alt`. */
export function drawStrip(
  sheet: Sheet,
  parts: readonly number[],
  words: readonly string[],
  alt: string,
): void {
  const whole = parts.reduce((sum, part) => sum + part, 0);
  const height = HEIGHT + 20;
  sheet.need(height);
  const { y } = sheet;
  const bbox = [PAGE.left, y, PAGE.width - PAGE.right, y + height];
  const figure = sheet.element('Figure', { alt, bbox });
  sheet.draw(figure, () => {
    let x: number = PAGE.left;
    let legend: number = PAGE.left;
    parts.forEach((part, index) => {
      const width = (part / whole) * CONTENT_WIDTH;
      const fill = FILLS[index] ?? 'hollow';
      if (width > 0) drawBox(sheet, { x, y, width, height: HEIGHT }, fill);
      x += width;
      drawBox(sheet, { x: legend, y: y + HEIGHT + 6, width: 10, height: 7 }, fill);
      const text = words[index] ?? '';
      sheet.line(text, legend + 15, y + HEIGHT + 4.5, NAME);
      legend += 15 + sheet.widthOf(text, NAME) + 16;
    });
  });
  figure.end();
  sheet.y = y + height + 3;
}
