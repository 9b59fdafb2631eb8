import { CONTENT_WIDTH, INK, PAGE, STYLE } from '../../pdf/look.js';
import { pairs } from '../../pdf/table.js';
import { paragraph, section } from '../../pdf/text.js';
import { figure } from '../../batch-record/words.js';
import type { Writing } from './page.js';

/** The seal in full in a frame of its own, or that there is none. */
export function sealBox({ sheet, seal }: Writing): void {
  sheet.need(44);
  const { y } = sheet;
  const ink = seal === null ? INK.black : INK.accent;
  sheet.artifact(() => sheet.doc.rect(PAGE.left, y, CONTENT_WIDTH, 36).lineWidth(0.9).stroke(ink));
  const place = { x: PAGE.left + 10, width: CONTENT_WIDTH - 20 };
  sheet.y += 4;
  const [label, text] =
    seal === null
      ? ['Draft', 'Not issued and not sealed: its figures may still change.']
      : ['Seal (SHA-256 of everything in this report)', seal];
  paragraph(sheet, label, STYLE.label, { place, after: 0 });
  paragraph(sheet, text, STYLE.strong, { place, after: 0 });
  sheet.y = y + 44;
}

/** Points: the frame and what it is for stay on one page. */
const WHOLE = 190;

/** What the figures were summed from, and how anyone can check the seal without this software. */
export function rowsAndSeal(writing: Writing): void {
  const {
    sheet,
    report: { rows },
    seal,
  } = writing;
  section(sheet, 'Rows and seal', () => {
    sheet.need(WHOLE);
    paragraph(
      sheet,
      'Every figure is summed from movements of mass, each from one place to another, kept as they stood when the report was ' +
        'issued. A correction made later changes no figure here: it makes a new version, which lists what changed.',
    );
    pairs(
      sheet,
      [
        ['Movements', figure(rows.count)],
        ['SHA-256 over them', rows.sha256],
      ],
      1,
    );
    sealBox(writing);
    if (seal === null) return;
    paragraph(
      sheet,
      'To verify: take report.json, which is attached to this file; write it in the canonical form of RFC 8785 (JSON ' +
        'Canonicalization Scheme); the SHA-256 of those bytes, in hexadecimal, must be the seal above. The programme’s own ' +
        'server answers the same question at /api/seals/ followed by the seal. Any change to any figure gives another seal.',
      STYLE.note,
    );
  });
}
