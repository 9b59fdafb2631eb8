import { STYLE } from '../../pdf/look.js';
import { type Column, table } from '../../pdf/table.js';
import { intro, paragraph, section, subheading } from '../../pdf/text.js';
import { figure, plain, sentence } from '../../batch-record/words.js';
import type { ReportChange } from '../report.js';
import { momentInWords } from '../words.js';
import type { Writing } from './page.js';

const kilograms = (title: string): Column => ({ title: `${title}, kg`, align: 'figure', width: 50 });

/** What a later version changes, line by line, with what whoever changed it said. */
export function changes({ sheet, report: { version, amends } }: Writing): void {
  if (amends === null) return;
  section(sheet, `What version ${version} changes`, () => {
    intro(sheet, amends.reason, STYLE.lead);
    const issued = `Version ${amends.version} was issued on ${momentInWords(amends.issuedAt)} and stays as it was sealed:`;
    intro(sheet, `${issued} ${amends.seal}`);
    if (amends.totals.length > 0) {
      table(
        sheet,
        [{ title: 'Total', share: 1 }, kilograms('Before'), kilograms('Now')],
        amends.totals.map((total) => ({
          cells: [sentence(plain(total.figure)), figure(total.beforeKg), figure(total.afterKg)],
        })),
      );
    }
    if (amends.changes.length === 0) {
      paragraph(sheet, 'No movement is other than before: only what was asked of the report is.');
      return;
    }
    subheading(sheet, 'Line by line');
    table(
      sheet,
      [
        { title: 'Change', width: 58 },
        { title: 'When', width: 54 },
        { title: 'Site', width: 34 },
        { title: 'Material', share: 1 },
        kilograms('Before'),
        kilograms('Now'),
        { title: 'Why, what else, and which row', share: 2 },
      ],
      amends.changes.map((change) => ({ cells: cellsOf(change) })),
      { style: STYLE.dense },
    );
  });
}

function cellsOf(change: ReportChange): string[] {
  const { occurredAt, site, material, beforeKg, afterKg, sourceId, what, reason } = change;
  const other = what.length === 0 ? [] : [`Other now: ${what.map(plain).join(', ')}.`];
  return [
    `${change.change} ${plain(change.kind)}`,
    momentInWords(occurredAt),
    site,
    material,
    beforeKg === null ? '' : figure(beforeKg),
    afterKg === null ? '' : figure(afterKg),
    [reason ?? 'no reason had to be given', ...other, sourceId].join('\n'),
  ];
}
