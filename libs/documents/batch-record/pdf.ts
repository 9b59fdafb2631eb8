import { canonicalJson } from '../canonical.js';
import { CONTENT_WIDTH, INK, PAGE, STYLE } from '../pdf/look.js';
import { Sheet } from '../pdf/sheet.js';
import { paragraph } from '../pdf/text.js';
import type { BatchRecord } from './record.js';
import { massBalance } from './sections/balance.js';
import { identity } from './sections/identity.js';
import { inputs, rejects } from './sections/inputs.js';
import { opening } from './sections/opening.js';
import type { Writing } from './sections/page.js';
import { quality } from './sections/quality.js';
import { cautions, distributions, gatesAndSignature, methods } from './sections/release.js';
import { furtherRules, process } from './sections/verdict.js';
import { everyCheck, work } from './sections/logs.js';
import { clockOf, standingOf } from './words.js';

const SECTIONS = [
  opening,
  identity,
  inputs,
  rejects,
  process,
  furtherRules,
  work,
  quality,
  massBalance,
  gatesAndSignature,
  distributions,
  cautions,
  methods,
  everyCheck,
];

/**
 * The record as a printed document: PDF 1.7, tagged, declaring PDF/A-3a, with its typeface embedded and,
 * where it is sealed, the sealed JSON attached.
 *
 * @param seal `sealOf(record)` when the record is signed, null for a draft. It is printed, not computed, so that a
 *   stored seal is shown as it was stored.
 * @param sealed the canonical JSON that was sealed, of a record that was sealed in an earlier form.
 * @returns the bytes; the same record and seal give the same bytes on the same release of Node and this library.
 */
export async function batchRecordPdf(
  record: BatchRecord,
  seal: string | null,
  sealed: string = canonicalJson(record),
): Promise<Uint8Array> {
  const sheet = new Sheet({
    title: `Batch record ${record.batch.code}`,
    createdAt: new Date(record.asOf),
    keywords: seal,
  });
  const writing: Writing = { sheet, record, clock: clockOf(record), seal };
  for (const write of SECTIONS) write(writing);
  if (sheet.replaced) {
    const reason = 'have no letter in this typeface; record.json holds them.';
    paragraph(sheet, `Characters printed as \ufffd ${reason}`, STYLE.note);
  }
  if (seal !== null) sheet.attach('record.json', sealed);
  sheet.onEveryPage((page, pages) => headAndFoot(writing, page, pages));
  return sheet.finish();
}

function headAndFoot({ sheet, record, seal }: Writing, page: number, pages: number): void {
  const standing = record.status === 'draft' ? `${standingOf(record)}: not released` : standingOf(record);
  const ends = (left: string, right: string, y: number): void => {
    const width = sheet.widthOf(right, STYLE.foot);
    sheet.line(sheet.fit(left, STYLE.foot, CONTENT_WIDTH - width - 20), PAGE.left, y, STYLE.foot);
    sheet.line(right, PAGE.width - PAGE.right - width, y, STYLE.foot);
  };
  if (page > 1) {
    ends(`Batch record ${record.batch.code}, version ${record.version}`, standing, 34);
    sheet.rule(PAGE.left, 47, CONTENT_WIDTH);
  }
  const foot = PAGE.height - 46;
  sheet.rule(PAGE.left, foot - 6, CONTENT_WIDTH, { colour: INK.rule });
  ends(`${record.site.name}, ${record.programme.name}`, `Page ${page} of ${pages}`, foot);
  sheet.line(seal === null ? `${standing}. Not sealed.` : `Seal ${seal}`, PAGE.left, foot + 10, STYLE.foot);
}
