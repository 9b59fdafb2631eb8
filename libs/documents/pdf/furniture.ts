import { CONTENT_WIDTH, INK, PAGE, STYLE } from './look.js';
import type { Sheet } from './sheet.js';

/** What stands at the edges of every page; the head is left out on the first, which has its title. */
export interface Furniture {
  head: [left: string, right: string];
  foot: string;
  seal: string;
}

/** Draws head, foot and page numbers on every page; to be called after everything else. */
export function furnish(sheet: Sheet, { head, foot, seal }: Furniture): void {
  const ends = (left: string, right: string, y: number): void => {
    const width = sheet.widthOf(right, STYLE.foot);
    sheet.line(sheet.fit(left, STYLE.foot, CONTENT_WIDTH - width - 20), PAGE.left, y, STYLE.foot);
    sheet.line(right, PAGE.width - PAGE.right - width, y, STYLE.foot);
  };
  sheet.onEveryPage((page, pages) => {
    if (page > 1) {
      ends(...head, 34);
      sheet.rule(PAGE.left, 47, CONTENT_WIDTH);
    }
    const y = PAGE.height - 46;
    sheet.rule(PAGE.left, y - 6, CONTENT_WIDTH, { colour: INK.rule });
    ends(foot, `Page ${page} of ${pages}`, y);
    sheet.line(seal, PAGE.left, y + 10, STYLE.foot);
  });
}
