import type { Pair } from '../../pdf/table.js';
import type { ProcessRequirement, RequiredLevel, RuleName, TextStatus } from '../record-monitoring.js';
import { figure, withUnit } from '../words.js';

const WORDINGS: Record<TextStatus, string> = {
  verified: 'read in the rule itself',
  parallel: 'read in a legal text that repeats it',
  secondary: 'read in an official page on it',
  'from-memory': 'from memory: check the text',
};

export function wordingOf({ textStatus, fromMemory }: RuleName): string {
  return [WORDINGS[textStatus], ...fromMemory.map((part) => `from memory: ${part}`)].join('; ');
}

/** Where a citation stands it says what nobody has read in it. */
export function citationOf({ citation, textStatus, fromMemory }: RuleName): string {
  if (textStatus === 'from-memory') return `${citation}, from memory`;
  return fromMemory.length === 0 ? citation : `${citation}, in part from memory`;
}

/** What the rule asks, as it was applied. */
export function asked(required: ProcessRequirement): Pair[] {
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
