import { STYLE } from '../../pdf/look.js';
import { type Column, table } from '../../pdf/table.js';
import { intro, paragraph, section, subheading } from '../../pdf/text.js';
import { figure, plain, sentence } from '../../batch-record/words.js';
import type { OtherFigure, ReportChange } from '../report.js';
import { localMomentInWords, momentInWords } from '../words.js';
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
        [
          { title: 'Figure', share: 1.4 },
          { title: 'Before', share: 1 },
          { title: 'Now', share: 1 },
          { title: 'Unit', width: 50 },
        ],
        amends.totals.map(({ figure: name, before, after, unit }) => ({
          cells: [sentence(name), valueOf(before), valueOf(after), unit],
        })),
        { style: STYLE.dense },
      );
    }
    if (amends.changes.length === 0) {
      paragraph(sheet, 'No movement is other than before.');
      return;
    }
    subheading(sheet, 'Line by line');
    table(
      sheet,
      [
        { title: 'Change', width: 58 },
        { title: 'When, on the site’s own clock', width: 62 },
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

/** Counts and masses digit for digit, words and printed tons as they are. */
const valueOf = (value: OtherFigure['before']): string => (typeof value === 'string' ? value : figure(value));

/** Codes as words; a day keeps its hyphens. */
const words = (what: string): string => what.replaceAll(/(?<=[a-z])-(?=[a-z])/g, ' ');

function cellsOf(change: ReportChange): string[] {
  const { occurredAt, timeZone, site, material, beforeKg, afterKg, sourceId, what, reason } = change;
  const other = what.length === 0 ? [] : [`Other now: ${what.map(words).join(', ')}.`];
  return [
    `${change.change} ${plain(change.kind)}`,
    localMomentInWords(occurredAt, timeZone),
    site,
    material,
    beforeKg === null ? '' : figure(beforeKg),
    afterKg === null ? '' : figure(afterKg),
    [reason ?? 'no reason had to be given', ...other, sourceId].join('\n'),
  ];
}
