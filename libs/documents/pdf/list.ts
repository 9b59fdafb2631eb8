import { CONTENT_WIDTH, PAGE, STYLE } from './look.js';
import type { Sheet } from './sheet.js';
import { paragraph } from './text.js';

/**
 * Small print, point by point: each text beside its label, `indent` points in. The first two stay together, and the last
 * two, so that neither a heading nor a page has a single one.
 */
export function list(sheet: Sheet, items: readonly { label: string; text: string }[], indent: number): void {
  const place = { x: PAGE.left + indent, width: CONTENT_WIDTH - indent };
  const heights = items.map(
    ({ text }) => sheet.wrap(text, STYLE.note, place.width).length * STYLE.note.leading + AFTER,
  );
  const pairFrom = (index: number): number => (heights[index] ?? 0) + (heights[index + 1] ?? 0);
  sheet.need(Math.min(pairFrom(0), KEPT_WHOLE));
  sheet.within('L', () => {
    items.forEach(({ label, text }, index) => {
      const opensPair = index === items.length - 2;
      sheet.need(Math.min(opensPair ? pairFrom(index) : (heights[index] ?? 0), KEPT_WHOLE));
      sheet.within('LI', () => {
        const element = sheet.element('Lbl');
        sheet.draw(element, () => sheet.line(`${label} `, PAGE.left, sheet.y, STYLE.note));
        element.end();
        paragraph(sheet, text, STYLE.note, { place, after: AFTER, tag: 'LBody' });
      });
    });
  });
  sheet.y += 6;
}

/** Below each text. */
const AFTER = 2;
/** No more than so much is kept together. */
const KEPT_WHOLE = 120;

export const bullets = (sheet: Sheet, texts: readonly string[]): void =>
  list(
    sheet,
    texts.map((text) => ({ label: '•', text })),
    10,
  );
