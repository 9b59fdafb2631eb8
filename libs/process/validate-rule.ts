import { boilingDeciC } from './reading/moments.js';
import type { Level, ProcessRule } from './rule.js';

/** No composting takes longer. */
const mostHours = 3 * 366 * 24;
/** Our own bounds of what can be meant: more is a slip of the pen. */
const mostProbes = 100;
const mostDepthMm = 3000;
const mostGraceHours = 24;

const isPlausible = (deciC: number): boolean => deciC >= 0 && deciC <= boilingDeciC;

/** What makes a rule impossible to meet or to evaluate as written, in words; empty when nothing does. */
export function validateRule(rule: ProcessRule): string[] {
  const expectations: [ok: boolean, problem: string][] = [
    [rule.code.trim() !== '', 'code is empty'],
    [rule.citation.trim() !== '', 'citation is empty'],
    [rule.textSource.trim() !== '', 'textSource is empty'],
    [
      Number.isInteger(rule.year) && rule.year >= 1900 && rule.year <= 2100,
      'year is not a whole number from 1900 to 2100',
    ],
    [isPlausible(rule.thresholdDeciC), 'thresholdDeciC is not a number from 0 to 100 °C'],
    [
      rule.upperLimitDeciC === null || rule.upperLimitDeciC >= rule.thresholdDeciC,
      'upperLimitDeciC is below thresholdDeciC: no check could hold',
    ],
    [
      !rule.thresholdStrict || rule.upperLimitDeciC !== rule.thresholdDeciC,
      'upperLimitDeciC is thresholdDeciC, above which a check must be: none could hold',
    ],
    [
      rule.upperLimitDeciC === null || rule.upperLimitDeciC <= boilingDeciC,
      'upperLimitDeciC is above 100 °C, hotter than boiling water',
    ],
    ...durationExpectations(rule),
    ...besidesExpectations(rule),
    [
      Number.isInteger(rule.minimumProbes) && rule.minimumProbes >= 1 && rule.minimumProbes <= mostProbes,
      `minimumProbes is not a whole number from 1 to ${mostProbes}`,
    ],
    [
      Number.isInteger(rule.minimumZones) && rule.minimumZones >= 1,
      'minimumZones is not a whole number of at least 1',
    ],
    [
      !(rule.minimumZones > rule.minimumProbes) || rule.minimumZones <= 1,
      'minimumZones is above minimumProbes: each zone needs a probe',
    ],
    [
      rule.minimumDepthMm === null || (rule.minimumDepthMm > 0 && rule.minimumDepthMm <= mostDepthMm),
      'minimumDepthMm is not above 0 and at most 3 m',
    ],
    [rule.longestGapHours === null || rule.longestGapHours > 0, 'longestGapHours is not above 0'],
    [
      rule.graceAfterTurnHours === null ||
        (rule.graceAfterTurnHours > 0 && rule.graceAfterTurnHours <= mostGraceHours),
      `graceAfterTurnHours is not above 0 and at most ${mostGraceHours}`,
    ],
    [
      rule.turns === null || (Number.isInteger(rule.turns.count) && rule.turns.count >= 1),
      'turns.count is not a whole number of at least 1',
    ],
    [rule.turns === null || rule.turns.spacingHours >= 0, 'turns.spacingHours is below 0'],
    [(rule.turns?.hotHoursBefore ?? 1) > 0, 'turns.hotHoursBefore is not above 0'],
    [hoursOfTurns(rule) <= mostHours, 'turns take longer than 3 years, so far apart'],
    [rule.methods.length > 0, 'methods is empty'],
  ];
  return expectations.filter(([ok]) => !ok).map(([, problem]) => problem);
}

/** The least time that the turns of a rule can take. */
function hoursOfTurns({ turns }: ProcessRule): number {
  if (turns === null) return 0;
  return Math.max((turns.count - 1) * turns.spacingHours, turns.count * (turns.hotHoursBefore ?? 0));
}

function durationExpectations(rule: ProcessRule): [ok: boolean, problem: string][] {
  const { duration } = rule;
  const length = 'days' in duration ? duration.days : duration.hours;
  const positive: [boolean, string] = [
    Number.isFinite(length) && length > 0,
    'duration is not a number above 0',
  ];
  const hours = 'days' in duration ? length * 24 : length;
  const bounded: [boolean, string] = [
    !Number.isFinite(hours) || hours <= mostHours,
    'duration is longer than 3 years',
  ];
  if (rule.basis === 'elapsed') {
    const { longestGapHours } = rule;
    return [
      positive,
      bounded,
      [
        longestGapHours === null ||
          !(hours > 0) ||
          longestGapHours < hours ||
          (longestGapHours === hours && hours <= 24),
        'longestGapHours is as long as the whole time: two checks could show all of it',
      ],
    ];
  }
  return [
    positive,
    bounded,
    ['days' in duration && Number.isInteger(duration.days), 'a daily rule needs a duration in whole days'],
    [
      rule.peak === null && rule.average === null,
      'a daily rule counts whole days, so peak and average must be null',
    ],
    [
      rule.longestGapHours === null,
      'a daily rule takes a missing day as its gap, so longestGapHours must be null',
    ],
  ];
}

/** What goes beside the time, held against it and against the limit. */
function besidesExpectations(rule: ProcessRule): [ok: boolean, problem: string][] {
  const { duration, peak, average, moisture, carbonToNitrogen, microbes: tested } = rule;
  const wholeHours = 'days' in duration ? duration.days * 24 : duration.hours;
  const limitDeciC = rule.upperLimitDeciC ?? Infinity;
  const reachable = (level: Level | null) =>
    level === null ||
    level.thresholdDeciC < limitDeciC ||
    (level.thresholdDeciC === limitDeciC && !level.strict);
  return [
    [
      peak === null || peak.thresholdDeciC >= rule.thresholdDeciC,
      'peak.thresholdDeciC is below thresholdDeciC: it asks for nothing',
    ],
    [reachable(peak), 'peak.thresholdDeciC is not below upperLimitDeciC: nothing could reach it'],
    [peak === null || peak.hours > 0, 'peak.hours is not above 0'],
    [peak === null || peak.hours <= wholeHours, 'peak.hours is longer than the whole time'],
    [
      average === null || average.thresholdDeciC >= rule.thresholdDeciC,
      'average.thresholdDeciC is below thresholdDeciC: it asks for nothing',
    ],
    [
      (peak?.thresholdDeciC ?? 0) <= boilingDeciC,
      'peak.thresholdDeciC is above 100 °C, hotter than boiling water',
    ],
    [
      (average?.thresholdDeciC ?? 0) <= boilingDeciC,
      'average.thresholdDeciC is above 100 °C, hotter than boiling water',
    ],
    [reachable(average), 'average.thresholdDeciC is not below upperLimitDeciC: no mean could reach it'],
    [
      moisture === null || (moisture.leastPercent > 0 && moisture.leastPercent <= 100),
      'moisture.leastPercent is not above 0 and at most 100',
    ],
    [(carbonToNitrogen?.least ?? 1) > 0, 'carbonToNitrogen.least is not above 0'],
    [
      carbonToNitrogen === null || carbonToNitrogen.most >= carbonToNitrogen.least,
      'carbonToNitrogen.most is below carbonToNitrogen.least',
    ],
    [tested === null || tested.tests.length > 0, 'microbes.tests is empty'],
  ];
}
