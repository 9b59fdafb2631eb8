import { canonicalJson } from '../canonical.js';
import { furnish } from '../pdf/furniture.js';
import { STYLE } from '../pdf/look.js';
import { Sheet } from '../pdf/sheet.js';
import { paragraph } from '../pdf/text.js';
import type { DiversionReport } from './report.js';
import { changes } from './sections/changes.js';
import { greenhouse } from './sections/greenhouse.js';
import { byMaterial, byMonth, bySite } from './sections/masses.js';
import { limits, methods } from './sections/methods.js';
import { opening } from './sections/opening.js';
import type { Writing } from './sections/page.js';
import { rate } from './sections/rate.js';
import { rowsAndSeal } from './sections/seal.js';
import { depositors, stock, takenOut } from './sections/taken-out.js';
import { yards } from './sections/yards.js';
import { periodInWords } from './words.js';

const SECTIONS = [
  opening,
  limits,
  changes,
  byMonth,
  byMaterial,
  bySite,
  takenOut,
  depositors,
  stock,
  rate,
  greenhouse,
  yards,
  methods,
  rowsAndSeal,
];

/**
 * The report as a printed document: PDF 1.7, tagged, declaring PDF/A-3a, with its typeface embedded and, where it is sealed,
 * the sealed JSON attached. It prints the digits of the report and works out none but per cent of the estimated share.
 *
 * @param seal `sealOf(report)` when it was issued, null for a draft. It is printed, not computed.
 * @returns the bytes; the same report and seal give the same bytes on the same release of Node and this library.
 */
export async function diversionReportPdf(report: DiversionReport, seal: string | null): Promise<Uint8Array> {
  const { jurisdiction, programme, version } = report;
  const sheet = new Sheet({
    title: `Diversion report, ${jurisdiction.name}, ${periodInWords(report.period)}`,
    createdAt: new Date(report.asOf),
    keywords: seal,
  });
  const writing: Writing = { sheet, report, seal };
  for (const write of SECTIONS) write(writing);
  if (sheet.replaced) {
    const reason = 'have no letter in this typeface; report.json holds them.';
    paragraph(sheet, `Characters printed as \ufffd ${reason}`, STYLE.note);
  }
  if (seal !== null) sheet.attach('report.json', canonicalJson(report));
  const standing = seal === null ? 'Draft: not issued' : `Version ${version}`;
  furnish(sheet, {
    head: [`Diversion report, ${jurisdiction.name}, ${periodInWords(report.period)}`, standing],
    foot: programme.name,
    seal: seal === null ? 'Draft. Not sealed.' : `Seal ${seal}`,
  });
  return sheet.finish();
}
