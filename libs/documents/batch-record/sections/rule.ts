import { type Pair, pairs } from '../../pdf/table.js';
import type { FurtherVerdict, ProcessRequirement, RequiredLevel } from '../record-monitoring.js';
import { citationOf, wordingOf } from '../rule-words.js';
import { type Clock, figure, plain, withUnit } from '../words.js';
import type { Writing } from './page.js';

/** The verdict in one or two sentences; it speaks of recorded criteria, never of legality. */
export function inWords(verdict: FurtherVerdict, clock: Clock): string {
  const rule = `${verdict.rule.title} (${citationOf(verdict.rule)})`;
  switch (verdict.status) {
    case 'met':
      return `Met. The recorded criteria of ${rule} were met on ${clock(verdict.metAt)}.`;
    case 'in-progress':
      return `In progress. The recorded criteria of ${rule} are not met yet; ${creditOf(verdict)} so far.`;
    case 'interrupted':
      return `Interrupted. A run under ${rule} was broken before its recorded criteria were met; ${creditOf(verdict)}.`;
    case 'insufficient-data':
      return `Insufficient data. The checks do not show whether the recorded criteria of ${rule} were met.`;
    case 'not-started':
      return `Not started. No time is credited under ${rule} yet.`;
  }
}

const creditOf = ({ required, creditedDays, creditedHours }: FurtherVerdict): string =>
  required.days === null
    ? `${figure(creditedHours)} of ${figure(required.hours)} hours are credited`
    : `${figure(creditedDays)} of ${figure(required.days)} days are credited`;

/** The rule, what it asks, and how the batch stands under it. */
export function figures({ sheet, clock }: Pick<Writing, 'sheet' | 'clock'>, verdict: FurtherVerdict): void {
  const { rule, required } = verdict;
  pairs(
    sheet,
    [
      ['Rule', `${rule.title} (${rule.code}${rule.version === null ? '' : `, version ${rule.version}`})`],
      ['Citation', citationOf(rule)],
      ['Wording of the rule', wordingOf(rule)],
    ],
    1,
  );
  pairs(sheet, [
    ...(verdict.purpose === null ? [] : [['For', plain(verdict.purpose)] satisfies Pair]),
    ['Read as', verdict.reading],
    ...asked(required),
    ['Clock started', clock(verdict.clockStartedAt)],
    ['First met', clock(verdict.metAt)],
    ['Hours credited', of(verdict.creditedHours, required.hours)],
    ['Days credited', of(verdict.creditedDays, required.days)],
    ['Turns credited', of(verdict.turnsCredited, required.turns)],
    ['Status', plain(verdict.status)],
  ]);
}

/** What the rule asks, as it was applied. */
function asked(required: ProcessRequirement): Pair[] {
  const { thresholdC, thresholdStrict: strict, peak, average, carbonToNitrogen, zones } = required;
  const { leastMoisturePercent, hotHoursBeforeTurn } = required;
  const besides: (Pair | null)[] = [
    peak && ['For part of it', `${levelOf(peak)} for ${withUnit(peak.hours, 'hours')}`],
    average && ['On average', levelOf(average)],
    leastMoisturePercent === null
      ? null
      : ['Moisture', `at least ${withUnit(leastMoisturePercent, '%')}, measured`],
    carbonToNitrogen && [
      'C:N as built',
      `${figure(carbonToNitrogen.least)} to ${figure(carbonToNitrogen.most)}`,
    ],
    zones > 1 ? ['Zones a check', figure(zones)] : null,
    hotHoursBeforeTurn === null ? null : ['Hot before a turn', withUnit(hotHoursBeforeTurn, 'hours')],
  ];
  return [
    ['Threshold', levelOf({ thresholdC, strict })],
    ['Upper limit', withUnit(required.upperLimitC, '°C')],
    ['Probes a check', figure(required.probes)],
    ['Probe depth', withUnit(required.depthCm, 'cm')],
    ['Longest gap', withUnit(required.longestGapHours, 'hours')],
    ['Between turns', withUnit(required.turns === 0 ? null : required.turnSpacingHours, 'hours')],
    ...besides.filter((pair) => pair !== null),
  ];
}

const levelOf = ({ thresholdC, strict }: RequiredLevel): string =>
  `${strict ? 'above ' : ''}${withUnit(thresholdC, '°C')}`;

const of = (credited: number, required: number | null): string =>
  required === null ? figure(credited) : `${figure(credited)} of ${figure(required)}`;
