import { STYLE } from '../../pdf/look.js';
import type { Sheet } from '../../pdf/sheet.js';
import { table } from '../../pdf/table.js';
import { intro, subheading } from '../../pdf/text.js';
import type { CreditedDay, FurtherVerdict } from '../record-monitoring.js';
import { figure } from '../words.js';

/** The credited time, day by day, for whoever wants to add it up. */
export function dayByDay(sheet: Sheet, { days, required, creditedHours }: FurtherVerdict): void {
  if (days.length === 0) return;
  subheading(sheet, 'Day by day');
  const counted =
    required.days === null
      ? 'Hours are cut to the tenth, and what is cut off goes to the next day, so that the column adds up.'
      : 'A day is credited as a whole or not at all; it has 23 or 25 hours where clocks are changed.';
  const text =
    'Local days on which something was recorded or credited. "Counted" had all that the rule asks of a check; "lowest" ' +
    `is the lowest temperature that governs. ${counted}`;
  intro(sheet, text, STYLE.note);
  const total = { cells: ['Credited', '', '', '', '', '', '', figure(creditedHours), ''], total: true };
  table(sheet, DAYS, [...days.map(rowOf), total], { style: STYLE.dense, pad: 1 });
}

const DAYS = [
  { title: 'Day', width: 52 },
  { title: 'Checks', align: 'figure', width: 34 },
  { title: 'Logger', align: 'figure', width: 34 },
  { title: 'Counted', align: 'figure', width: 40 },
  { title: 'Lowest, °C', align: 'figure', width: 46 },
  { title: 'Highest, °C', align: 'figure', width: 48 },
  { title: 'Longest gap, h', align: 'figure', width: 58 },
  { title: 'Credited, h', align: 'figure', width: 48 },
  { title: 'Turns', align: 'figure', width: 28 },
] as const;

function rowOf(day: CreditedDay): { cells: string[] } {
  const orBlank = (value: number | null) => (value === null || value === 0 ? '' : figure(value));
  return {
    cells: [
      day.day,
      figure(day.checks),
      orBlank(day.loggerReadings),
      figure(day.counted),
      ...[day.lowestC, day.highestC, day.longestGapHours].map((value) =>
        value === null ? '' : figure(value),
      ),
      figure(day.creditedHours),
      orBlank(day.turns),
    ],
  };
}
