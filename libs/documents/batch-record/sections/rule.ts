import type { Pair } from '../../pdf/table.js';
import type { ProcessRequirement, RequiredLevel } from '../record-monitoring.js';
import { figure, withUnit } from '../words.js';

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
