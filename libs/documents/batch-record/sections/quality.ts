import { pairs, table } from '../../pdf/table.js';
import { paragraph, section, subheading } from '../../pdf/text.js';
import { figure, plain, said, sentence, withUnit } from '../words.js';
import type { Writing } from './page.js';

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
    paragraph(sheet, 'The batch has not begun to cure.');
    return;
  }
  paragraph(sheet, cure.text);
  pairs(sheet, [
    ['Cured', withUnit(cure.curedDays, 'days')],
    ['Required', withUnit(cure.requiredDays, 'days')],
    ['From', clock(cure.startedAt)],
    ['To', clock(cure.endedAt)],
  ]);
}

function samples({ sheet, record: { samples }, clock }: Writing): void {
  subheading(sheet, 'Samples');
  if (samples.length === 0) paragraph(sheet, 'No sample is recorded.');
  for (const { kind, takenAt, by, laboratory, document, results } of samples) {
    const where = [laboratory, document].filter((part) => part !== null).join(', ');
    const taken = `${sentence(plain(kind))}, taken ${clock(takenAt)} by ${by}`;
    sheet.need(80);
    paragraph(sheet, where === '' ? taken : `${taken}; ${where}`);
    table(
      sheet,
      [
        { title: 'Measure', share: 1.4 },
        { title: 'Result', align: 'figure', width: 60 },
        { title: 'Unit', width: 80 },
        { title: 'Limit', share: 1 },
        { title: 'Standing', width: 76 },
      ],
      results.map(({ measure, value, unit, limit, state }) => ({
        cells: [
          measure,
          typeof value === 'number' ? figure(value) : value,
          said(unit),
          said(limit),
          plain(state),
        ],
      })),
    );
  }
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
      { title: 'When', width: 78 },
      { title: 'Screen, mm', align: 'figure', width: 58 },
      { title: 'Compost, kg', align: 'figure', width: 66 },
      { title: 'Overs, kg', align: 'figure', width: 66 },
      { title: 'Residue, kg', align: 'figure', width: 66 },
      { title: 'By', share: 1 },
    ],
    screenings.map(({ occurredAt, screenMm, compostKg, oversKg, residueKg, by }) => ({
      cells: [clock(occurredAt), ...[screenMm, compostKg, oversKg, residueKg].map(figure), by],
    })),
  );
}
