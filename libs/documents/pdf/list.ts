import { CONTENT_WIDTH, PAGE, STYLE } from './look.js';
import type { Sheet } from './sheet.js';
import { paragraph } from './text.js';

/** Small print, point by point: each text beside its label, `indent` points in. */
export function list(sheet: Sheet, items: readonly { label: string; text: string }[], indent: number): void {
  const keep = 2 * STYLE.note.leading;
  sheet.need(keep);
  sheet.within('L', () => {
    for (const { label, text } of items) {
      sheet.need(keep);
      sheet.within('LI', () => {
        const element = sheet.element('Lbl');
        sheet.draw(element, () => sheet.line(`${label} `, PAGE.left, sheet.y, STYLE.note));
        element.end();
        const place = { x: PAGE.left + indent, width: CONTENT_WIDTH - indent };
        paragraph(sheet, text, STYLE.note, { place, after: 2, tag: 'LBody' });
      });
    }
  });
  sheet.y += 6;
}

export const bullets = (sheet: Sheet, texts: readonly string[]): void =>
  list(
    sheet,
    texts.map((text) => ({ label: '•', text })),
    10,
  );
