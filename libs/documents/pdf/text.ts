import { CONTENT_WIDTH, INK, PAGE, STYLE, type Style } from './look.js';
import type { Sheet, Tag } from './sheet.js';

export interface Place {
  x: number;
  width: number;
}

export const FULL_WIDTH: Place = { x: PAGE.left, width: CONTENT_WIDTH };

/** Text that flows over as many lines and pages as it takes; leaves `after` points below. */
export function paragraph(
  sheet: Sheet,
  text: string,
  style: Style = STYLE.body,
  options: { place?: Place; after?: number; tag?: Tag } = {},
): void {
  const { x, width } = options.place ?? FULL_WIDTH;
  let lines = sheet.wrap(text, style, width);
  // two lines at least stay together, so that no line stands alone at the foot of a page
  sheet.need(Math.min(2, lines.length) * style.leading);
  const element = sheet.element(options.tag ?? 'P');
  for (;;) {
    const room = Math.floor((sheet.bottom - sheet.y) / style.leading);
    const here = lines.slice(0, Math.max(1, room));
    const top = sheet.y;
    sheet.draw(element, () => {
      here.forEach((line, index) => sheet.line(line, x, top + index * style.leading, style));
    });
    sheet.y += here.length * style.leading;
    lines = lines.slice(here.length);
    if (lines.length === 0) break;
    sheet.newPage();
  }
  element.end();
  sheet.y += options.after ?? 4;
}

/** Text that leads to the table or list that comes next, and stays on its page. */
export function intro(sheet: Sheet, text: string, style: Style = STYLE.body): void {
  const height = sheet.wrap(text, style, CONTENT_WIDTH).length * style.leading + 4;
  sheet.lead(height, () => paragraph(sheet, text, style));
}

/** Room between a section and the one before it. */
const ABOVE = 11;

/** A section with its heading and its entry in the outline. */
export function section(sheet: Sheet, title: string, body: () => void): void {
  sheet.within('Sect', () => {
    sheet.lead(ABOVE + 5 + STYLE.heading.leading + 4, () => {
      if (sheet.y > PAGE.top) sheet.y += ABOVE;
      sheet.doc.outline.addItem(title);
      sheet.artifact(() =>
        sheet.rule(PAGE.left, sheet.y, CONTENT_WIDTH, { colour: INK.accent, weight: 0.8 }),
      );
      sheet.y += 5;
      paragraph(sheet, title, STYLE.heading, { tag: 'H2', after: 4 });
    });
    body();
  });
}

/** A small heading inside a section. */
export function subheading(sheet: Sheet, title: string): void {
  sheet.lead(6 + STYLE.subheading.leading + 3, () => {
    if (sheet.y > PAGE.top) sheet.y += 6;
    paragraph(sheet, title, STYLE.subheading, { tag: 'H3', after: 3 });
  });
}
