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

/** What a rule is for: a batch may have to meet one of each. */
export const rulePurposes = ['pathogen-reduction', 'vector-attraction'] as const;
export type RulePurpose = (typeof rulePurposes)[number];

/**
 * Which figure of a check is judged: its coldest probe, the mean of its probes, or the coldest of its zones, each by
 * the mean of its probes.
 */
export const governingFigures = ['coldest', 'mean', 'coldest-zone'] as const;
export type GoverningFigure = (typeof governingFigures)[number];

/** A level to hold: `strict` where the text says "above", otherwise the level itself is enough. */
export interface Level {
  readonly thresholdDeciC: number;
  readonly strict: boolean;
}

/** How often a batch is turned while it is hot. */
export interface TurnTerms {
  readonly count: number;
  /** At least so long after the turn counted before it; 0 where the rule names no spacing. */
  readonly spacingHours: number;
  /** A turn counts only after so many unbroken hot hours since the turn counted before it; null where the rule ties it to none. */
  readonly hotHoursBefore: number | null;
}

export const microbes = ['fecal-coliform', 'salmonella', 'e-coli'] as const;
export type Microbe = (typeof microbes)[number];

/** Tests of the product that go with a rule. They are samples, and never part of the verdict on time and temperature. */
export interface MicrobeTerms {
  /** Whether one of the tests is enough or each must pass. */
  readonly logic: 'either' | 'both';
  readonly tests: readonly { readonly microbe: Microbe; readonly below: number; readonly unit: string }[];
  readonly citation: string;
  readonly textStatus: TextStatus;
}

/** A written time-and-temperature requirement. Plain data: it survives JSON unchanged. */
export interface ProcessRule {
  readonly code: string;
  /** 1 in the library; a programme's own rule has one more with every change. */
  readonly version: number;
  readonly title: string;
  readonly purpose: RulePurpose;
  readonly jurisdiction: string;
  /** ISO 3166 code of the country or its part that wrote it, or "EU"; null where no state did. */
  readonly region: string | null;
  /** The document and section that say it. */
  readonly citation: string;
  /** The year of the text that was coded. */
  readonly year: number;
  readonly textStatus: TextStatus;
  /** Where the figures were read. */
  readonly textSource: string;
  /** What of it is from memory though the rest was read: "the 3 days". Empty where nothing is, or all of it. */
  readonly fromMemory: readonly string[];
  /** A check holds at or above this. */
  readonly thresholdDeciC: number;
  /** Where the text says "above": the threshold itself does not hold. */
  readonly thresholdStrict: boolean;
  /** A check fails above this; null where the rule names no ceiling. */
  readonly upperLimitDeciC: number | null;
  readonly duration: { readonly hours: number } | { readonly days: number };
  /** For so many hours of that time the batch must be hotter still; null where the rule asks for nothing of the kind. */
  readonly peak: (Level & { readonly hours: number }) | null;
  /** The mean over that time, weighted by time; null where the rule asks for none. */
  readonly average: Level | null;
  /** `elapsed` counts hours between checks that held (a day is 24 of them); `daily` counts local days on which every check held. */
  readonly basis: 'elapsed' | 'daily';
  readonly continuity: RuleReading | 'unstated';
  readonly governing: GoverningFigure;
  readonly minimumProbes: number;
  /** Places of a pile (edge, core …) that a check must cover; 1 where the rule names no number. */
  readonly minimumZones: number;
  /** Probes nearer the surface than this are set aside; null where the rule names no depth. */
  readonly minimumDepthMm: number | null;
  /** The longest time between two checks that may still be credited; null takes {@link ownLongestGapHours}. Only for `elapsed`. */
  readonly longestGapHours: number | null;
  readonly turns: TurnTerms | null;
  /** For so long after a turn a cold check does not break a run (it earns nothing either); null allows none. */
  readonly graceAfterTurnHours: number | null;
  /** Water, percent of the whole mass, at least, as it was measured; a word by the hand is no measure. Null where the rule names none. */
  readonly moisture: { readonly leastPercent: number } | null;
  /** Of the mix as it was built; null where the rule names none. */
  readonly carbonToNitrogen: { readonly least: number; readonly most: number } | null;
  readonly microbes: MicrobeTerms | null;
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
    [
      !rule.thresholdStrict || rule.upperLimitDeciC !== rule.thresholdDeciC,
      'upperLimitDeciC is thresholdDeciC, above which a check must be: none could hold',
    ],
    ...durationExpectations(rule),
    ...besidesExpectations(rule),
    [
      Number.isInteger(rule.minimumProbes) && rule.minimumProbes >= 1,
      'minimumProbes is not a whole number of at least 1',
    ],
    [
      Number.isInteger(rule.minimumZones) && rule.minimumZones >= 1,
      'minimumZones is not a whole number of at least 1',
    ],
    [rule.minimumDepthMm === null || rule.minimumDepthMm > 0, 'minimumDepthMm is not above 0'],
    [rule.longestGapHours === null || rule.longestGapHours > 0, 'longestGapHours is not above 0'],
    [rule.graceAfterTurnHours === null || rule.graceAfterTurnHours > 0, 'graceAfterTurnHours is not above 0'],
    [
      rule.turns === null || (Number.isInteger(rule.turns.count) && rule.turns.count >= 1),
      'turns.count is not a whole number of at least 1',
    ],
    [rule.turns === null || rule.turns.spacingHours >= 0, 'turns.spacingHours is below 0'],
    [(rule.turns?.hotHoursBefore ?? 1) > 0, 'turns.hotHoursBefore is not above 0'],
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
