import { STYLE } from '../../pdf/look.js';
import { table } from '../../pdf/table.js';
import { paragraph, subheading } from '../../pdf/text.js';
import type { CreditedDay, FurtherVerdict, OtherReading, ProcessVerdict } from '../record-monitoring.js';
import { citationOf } from '../rule-words.js';
import { figure, NONE, plain, sentence, spanOf } from '../words.js';
import type { Writing } from './page.js';
import { asked } from './rule.js';

type Place = Pick<Writing, 'sheet' | 'clock'>;

/** What the rule asks besides its time and turns. */
export function conditions({ sheet }: Pick<Place, 'sheet'>, { conditions: list }: ProcessVerdict): void {
  if (list.length === 0) return;
  subheading(sheet, 'What the rule asks besides');
  table(
    sheet,
    [
      { title: 'Condition', width: 88 },
      { title: 'State', width: 60 },
      { title: 'What was recorded', share: 1 },
    ],
    list.map(({ key, state, text }) => ({ cells: [sentence(plain(key)), state, text] })),
  );
}

/** The credited time, day by day, for whoever wants to add it up. */
export function recount(
  { sheet }: Pick<Place, 'sheet'>,
  { days, required, creditedHours }: ProcessVerdict,
): void {
  if (days.length === 0) return;
  subheading(sheet, 'Day by day');
  const counted =
    required.days === null
      ? 'Hours are cut to the tenth, and what is cut off goes to the next day, so that the column adds up.'
      : 'A day is credited as a whole or not at all; it has 23 or 25 hours where clocks are changed.';
  const text =
    'Local days on which something was recorded or credited. "Counted" had all that the rule asks of a check; "lowest" ' +
    `is the lowest temperature that governs. ${counted}`;
  paragraph(sheet, text, STYLE.note);
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

/** Readings that were used although something speaks against the instrument, and those that were set aside. */
export function thermometers({ sheet, clock }: Place, { cautions }: ProcessVerdict): void {
  if (cautions.length === 0) return;
  subheading(sheet, 'Readings that are doubtful, or were set aside');
  table(
    sheet,
    [
      { title: 'When', width: 88 },
      { title: 'Instrument', width: 56 },
      { title: 'What speaks against it', share: 1 },
    ],
    cautions.map(({ from, to, instrument, text }) => ({
      cells: [spanOf(clock, from, to), instrument, text],
    })),
  );
}

export function otherReading(
  { sheet, clock }: Place,
  { otherReading: other, required }: ProcessVerdict,
): void {
  if (other === null) return;
  const text =
    'The rule does not say whether its time must be consecutive. ' +
    `Read as ${other.reading} it would stand so: ${standingOf(clock, other, required)}.`;
  paragraph(sheet, text);
}

/** What the permit asks besides its process rule. */
export function furtherRules({ sheet, record: { furtherVerdicts }, clock }: Writing): void {
  if (furtherVerdicts.length === 0) return;
  subheading(sheet, 'Further rules of the permit');
  table(
    sheet,
    [
      { title: 'Rule', share: 1 },
      { title: 'For', width: 56 },
      { title: 'How it stands', share: 1.8 },
    ],
    furtherVerdicts.map((verdict) => ({
      cells: [
        nameOf(verdict),
        verdict.purpose === null ? '' : plain(verdict.purpose),
        inBrief(clock, verdict),
      ],
    })),
  );
}

const nameOf = ({ rule }: FurtherVerdict): string =>
  `${rule.title} (${rule.code}, version ${figure(rule.version)}), ${citationOf(rule)}`;

function inBrief(clock: Writing['clock'], verdict: FurtherVerdict): string {
  const besides = verdict.conditions.map(({ text }) => text);
  const terms = asked(verdict.required)
    .filter(([, value]) => value !== NONE)
    .map(([name, value]) => `${name.startsWith('C:N') ? name : name.toLowerCase()} ${value}`)
    .join('; ');
  const stands = `${sentence(standingOf(clock, verdict, verdict.required))}.`;
  return [stands, `${sentence(terms)}.`, ...besides].join(' ');
}

function standingOf(
  clock: Writing['clock'],
  { status, creditedHours, creditedDays, turnsCredited, metAt }: OtherReading,
  { hours, days, turns }: ProcessVerdict['required'],
): string {
  const time =
    days === null
      ? `${figure(creditedHours)} of ${figure(hours)} hours credited`
      : `${figure(creditedDays)} of ${figure(days)} local days credited`;
  const turned = turns === 0 ? '' : `, ${figure(turnsCredited)} of ${figure(turns)} turns`;
  return `${plain(status)}${metAt === null ? '' : ` on ${clock(metAt)}`}, ${time}${turned}`;
}
