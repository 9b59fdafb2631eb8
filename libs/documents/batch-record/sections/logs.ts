import { table, type Column } from '../../pdf/table.js';
import { STYLE } from '../../pdf/look.js';
import { paragraph, section } from '../../pdf/text.js';
import type { Entered } from '../record-inputs.js';
import type { Check } from '../record-monitoring.js';
import { asEntered, figure, plain, sentence } from '../words.js';
import type { Writing } from './page.js';

/** The log of turns, water and air. */
export function work({ sheet, record: { actions }, clock }: Writing): void {
  section(sheet, 'Turns, water and air', () => {
    if (actions.length === 0) {
      paragraph(sheet, 'No turn, watering, aeration or move is recorded.');
      return;
    }
    table(
      sheet,
      [
        { title: 'When', width: 78 },
        { title: 'What', width: 56 },
        { title: 'To bay', width: 40 },
        { title: 'Litres', align: 'figure', width: 46 },
        { title: 'Entered', width: 52 },
        { title: 'Notes', share: 1 },
        { title: 'By', width: 56 },
      ],
      actions.map(({ occurredAt, kind, toBay, volumeL, entered, note, by }) => ({
        cells: [clock(occurredAt), sentence(kind), toBay, volumeL, entered, note, by].map(blankOr),
      })),
    );
  });
}

/** More probe positions than this do not fit as columns of their own. */
const MOST_POSITIONS = 4;

/** Every check, none left out, in small type: the long tail of the document. */
export function everyCheck({ sheet, record: { checks }, clock }: Writing): void {
  if (checks.length === 0) return;
  section(sheet, 'Every check', () => {
    const positions = [
      ...new Set(checks.flatMap(({ readings }) => readings.map(({ position }) => position))),
    ];
    const readings = positions.length <= MOST_POSITIONS ? positions.map(readingColumn) : [READINGS_IN_WORDS];
    const intro =
      `${checks.length} checks, in °C. "Governs" is the reading that the rule goes by. Depths, and what was entered in ` +
      'other units, are in record.json.';
    paragraph(sheet, intro, STYLE.note);
    table(
      sheet,
      [
        { title: 'When', width: 68 },
        { title: 'Governs', align: 'figure', width: 40 },
        ...readings.map(({ column }) => column),
        { title: 'Seen', share: 1 },
        { title: 'By', width: 40 },
      ],
      checks.map((check) => ({
        cells: [
          clock(check.occurredAt),
          blankOr(check.governingC),
          ...readings.map(({ cell }) => cell(check)),
          seen(check),
          check.by,
        ],
      })),
      { style: STYLE.dense, pad: 1 },
    );
  });
}

interface ReadingColumn {
  column: Column;
  cell: (check: Check) => string;
}

const readingColumn = (position: string): ReadingColumn => ({
  column: { title: position, align: 'figure', width: 40 },
  cell: ({ readings }) =>
    readings
      .filter((reading) => reading.position === position)
      .map(({ temperatureC }) => figure(temperatureC))
      .join(' '),
});

const zoneOf = (zone: string | null, position: string): string =>
  zone === null || zone === position ? '' : ` (${zone})`;

const READINGS_IN_WORDS: ReadingColumn = {
  column: { title: 'Readings', share: 1.4 },
  cell: ({ readings }) =>
    readings
      .map(
        ({ position, zone, temperatureC }) => `${position}${zoneOf(zone, position)} ${figure(temperatureC)}`,
      )
      .join('; '),
};

/** What else was seen, in words: moisture, odour, oxygen, air, texture, what went in, signs; then whether it counted, and notes. */
function seen(check: Check): string {
  const senses = [
    check.moisture === null ? null : plain(check.moisture),
    check.moisturePercent === null ? null : `moisture ${figure(check.moisturePercent)} %`,
    check.odour === null ? null : odourOf(check.odour),
    check.oxygenPercent === null ? null : `oxygen ${figure(check.oxygenPercent)} %`,
    check.ambientC === null ? null : `air ${figure(check.ambientC)} °C`,
    check.texture,
    check.inputsVisible === null ? null : `inputs ${check.inputsVisible ? 'still' : 'not'} recognisable`,
    check.signs === null ? null : signsOf(check.signs),
  ].filter((sense) => sense !== null);
  const notes = [check.counted ? null : 'Not counted', check.remark, check.note, ...check.warnings];
  return [senses.join(', '), ...notes].filter((part) => part !== null && part !== '').join('. ');
}

const odourOf = (odour: string): string => (odour === 'none' ? 'no odour' : plain(odour));

const signsOf = (signs: readonly string[]): string =>
  signs.length === 0 ? 'no flies, rodents or leachate' : `${signs.join(' and ')} seen`;

/** In a log an empty place says "not recorded" more quietly than a dash. */
function blankOr(value: string | number | Entered | null): string {
  if (value === null) return '';
  if (typeof value === 'object') return asEntered(value);
  return typeof value === 'number' ? figure(value) : value;
}
