import { STYLE } from '../../pdf/look.js';
import { pairs, table } from '../../pdf/table.js';
import { paragraph, section, subheading } from '../../pdf/text.js';
import { figure, plain, sentence, spanOf } from '../words.js';
import { EVIDENCE, kg, when } from './columns.js';
import type { Writing } from './page.js';
import { samples } from './samples.js';

/** Cure, samples and screening. */
export function quality(writing: Writing): void {
  section(writing.sheet, 'Cure, samples and screening', () => {
    cure(writing);
    samples(writing);
    screenings(writing);
  });
}

function cure({ sheet, record: { cure }, clock }: Writing): void {
  if (cure === null) {
    paragraph(sheet, 'No cure is asked of this batch.');
    return;
  }
  pairs(sheet, [
    ['Cure', plain(cure.status)],
    ['Days done', `${figure(cure.daysDone)} of ${figure(cure.daysRequired)}`],
    ['Counts from', clock(cure.startedAt)],
    ['Done', clock(cure.doneAt)],
  ]);
  if (cure.evidence.length > 0) {
    table(
      sheet,
      EVIDENCE,
      cure.evidence.map(({ from, to, kind, text }) => ({
        cells: [spanOf(clock, from, to), sentence(plain(kind)), text],
      })),
    );
  }
  for (const note of cure.notes) paragraph(sheet, note, STYLE.note);
}

function screenings({ sheet, record: { screenings }, clock }: Writing): void {
  subheading(sheet, 'Screening');
  if (screenings.length === 0) {
    paragraph(sheet, 'No screening is recorded.');
    return;
  }
  table(
    sheet,
    [
      when('When'),
      kg('Compost'),
      { title: 'Compost, L', align: 'figure', width: 54 },
      { ...kg('Overs'), width: 52 },
      { ...kg('Residue'), width: 56 },
      { title: 'Residue went to; note', share: 1 },
    ],
    screenings.map((screening) => ({
      cells: [
        `${clock(screening.occurredAt)}\n${screening.by}`,
        figure(screening.compostKg),
        figure(screening.compostVolumeL),
        figure(screening.oversKg),
        figure(screening.residueKg),
        [screening.residueWentTo, screening.note].filter((part) => part !== null).join('; '),
      ],
    })),
  );
}
