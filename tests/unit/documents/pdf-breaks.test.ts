import { describe, expect, it } from 'vitest';
import { bullets } from '../../../libs/documents/pdf/list.js';
import { STYLE } from '../../../libs/documents/pdf/look.js';
import { Sheet } from '../../../libs/documents/pdf/sheet.js';
import { table } from '../../../libs/documents/pdf/table.js';
import { intro, subheading } from '../../../libs/documents/pdf/text.js';
import { run } from './programs.js';

/** The words of each page of what is drawn so many points above the foot of the first; null without the program. */
async function pagesOf(room: number, draw: (sheet: Sheet) => void): Promise<string[] | null> {
  const sheet = new Sheet({ title: 'Breaks', createdAt: new Date(0), keywords: null });
  sheet.y = sheet.bottom - room;
  draw(sheet);
  const text = run(await sheet.finish(), 'pdftotext', '-layout', 'FILE', '-');
  return (
    text
      ?.split('\f')
      .slice(0, -1)
      .map((page) => page.replaceAll(/\s+/g, ' ').trim()) ?? null
  );
}

const columns = [
  { title: 'Name', share: 1 },
  { title: 'Figure', share: 1 },
];
const rows = (count: number) =>
  Array.from({ length: count }, (_, index) => ({ cells: [`row-${index + 1}`, 'x'] }));

describe('a page break', () => {
  it('leaves neither a heading nor the words that lead to a table alone at the foot', async () => {
    const pages = await pagesOf(60, (sheet) => {
      subheading(sheet, 'Day by day');
      intro(sheet, 'What the columns say.', STYLE.note);
      table(sheet, columns, rows(50));
    });
    if (pages === null) return;
    expect(pages[0]).toBe('');
    expect(pages[1]).toMatch(/^Day by day What the columns say\. Name Figure row-1 /);
  });

  it('does not part a table of a third of a page', async () => {
    const pages = await pagesOf(150, (sheet) => table(sheet, columns, rows(11)));
    if (pages === null) return;
    expect(pages[0]).toBe('');
    expect(pages[1]).toContain('row-1 x');
    expect(pages[1]).toContain('row-11 x');
  });

  it('leaves no single row to the last page of a table, however long it is', async () => {
    for (let count = 36; count < 48; count += 1) {
      const pages = await pagesOf(600, (sheet) => table(sheet, columns, rows(count)));
      const last = pages?.at(-1);
      if (!last || pages?.length === 1) continue;
      expect(last.match(/row-/g)?.length).toBeGreaterThan(1);
    }
  });

  it('leaves no single point of a list at a foot or a head', async () => {
    for (let room = 20; room < 120; room += 8) {
      const pages = await pagesOf(room, (sheet) => {
        subheading(sheet, 'Sources');
        bullets(sheet, ['first', 'second', 'third', 'fourth', 'fifth']);
      });
      for (const page of pages ?? []) expect(page.match(/•/g)?.length ?? 0).not.toBe(1);
    }
  });
});
