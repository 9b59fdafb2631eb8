/** How a batch is run. */
export const batchMethods = ['turned-windrow', 'turned-bins', 'static-aerated', 'in-vessel'] as const;
export type BatchMethod = (typeof batchMethods)[number];

/**
 * How sure we are of a rule's figures: read in the rule itself, read in a legal text that repeats it, read in an
 * official page that describes it, or remembered and not yet checked.
 */
export const textStatuses = ['verified', 'parallel', 'secondary', 'from-memory'] as const;
export type TextStatus = (typeof textStatuses)[number];

/** Whether the time must be one unbroken run or may be added up. */
export const ruleReadings = ['consecutive', 'cumulative'] as const;
export type RuleReading = (typeof ruleReadings)[number];

/** A written time-and-temperature requirement. Plain data: it survives JSON unchanged. */
export interface ProcessRule {
  readonly code: string;
  readonly title: string;
  readonly jurisdiction: string;
  /** The document and section that say it. */
  readonly citation: string;
  /** The year of the text that was coded. */
  readonly year: number;
  readonly textStatus: TextStatus;
  /** Where the figures were read. */
  readonly textSource: string;
  /** A check holds at or above this. */
  readonly thresholdDeciC: number;
  /** A check fails above this; null where the rule names no ceiling. */
  readonly upperLimitDeciC: number | null;
  readonly duration: { readonly hours: number } | { readonly days: number };
  /** `elapsed` counts hours between checks that held (a day is 24 of them); `daily` counts local days on which every check held. */
  readonly basis: 'elapsed' | 'daily';
  readonly continuity: RuleReading | 'unstated';
  /** Which figure of a check is judged: its coldest probe, or the mean of its probes. */
  readonly governing: 'coldest' | 'mean';
  readonly minimumProbes: number;
  /** Probes nearer the surface than this are set aside; null where the rule names no depth. */
  readonly minimumDepthMm: number | null;
  /** The longest time between two checks that may still be credited; null takes {@link ownLongestGapHours}. Only for `elapsed`. */
  readonly longestGapHours: number | null;
  readonly turns: { readonly count: number; readonly spacingHours: number } | null;
  /** For so long after a turn a cold check does not break a run (it earns nothing either); null allows none. */
  readonly graceAfterTurnHours: number | null;
  readonly methods: readonly BatchMethod[];
  /** Choices made in coding the text, for whoever relies on it. */
  readonly notes: readonly string[];
}

/** Ours, where a rule is silent: a daily check may come half a day late, a missed day is not filled in. */
export const ownLongestGapHours = 36;

/** What makes a rule impossible to meet or to evaluate as written, in words; empty when nothing does. */
export function validateRule(rule: ProcessRule): string[] {
  const expectations: [ok: boolean, problem: string][] = [
    [rule.code.trim() !== '', 'code is empty'],
    [rule.citation.trim() !== '', 'citation is empty'],
    [rule.textSource.trim() !== '', 'textSource is empty'],
    [Number.isInteger(rule.year), 'year is not a whole number'],
    [Number.isFinite(rule.thresholdDeciC), 'thresholdDeciC is not a number'],
    [
      rule.upperLimitDeciC === null || rule.upperLimitDeciC >= rule.thresholdDeciC,
      'upperLimitDeciC is below thresholdDeciC: no check could hold',
    ],
    ...durationExpectations(rule),
    [
      Number.isInteger(rule.minimumProbes) && rule.minimumProbes >= 1,
      'minimumProbes is not a whole number of at least 1',
    ],
    [rule.minimumDepthMm === null || rule.minimumDepthMm > 0, 'minimumDepthMm is not above 0'],
    [rule.longestGapHours === null || rule.longestGapHours > 0, 'longestGapHours is not above 0'],
    [rule.graceAfterTurnHours === null || rule.graceAfterTurnHours > 0, 'graceAfterTurnHours is not above 0'],
    [
      rule.turns === null || (Number.isInteger(rule.turns.count) && rule.turns.count >= 1),
      'turns.count is not a whole number of at least 1',
    ],
    [rule.turns === null || rule.turns.spacingHours >= 0, 'turns.spacingHours is below 0'],
    [rule.methods.length > 0, 'methods is empty'],
  ];
  return expectations.filter(([ok]) => !ok).map(([, problem]) => problem);
}

function durationExpectations(rule: ProcessRule): [ok: boolean, problem: string][] {
  const { duration } = rule;
  const length = 'days' in duration ? duration.days : duration.hours;
  const positive: [boolean, string] = [
    Number.isFinite(length) && length > 0,
    'duration is not a number above 0',
  ];
  if (rule.basis === 'elapsed') return [positive];
  return [
    positive,
    ['days' in duration && Number.isInteger(duration.days), 'a daily rule needs a duration in whole days'],
    [
      rule.longestGapHours === null,
      'a daily rule takes a missing day as its gap, so longestGapHours must be null',
    ],
  ];
}
