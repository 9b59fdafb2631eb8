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

/** One organism and how much of it may be there: below a figure, or at most one. */
export type MicrobeTest = { readonly microbe: Microbe; readonly unit: string } & (
  { readonly below: number } | { readonly atMost: number }
);

/** Tests of the product that go with a rule. They are samples, and never part of the verdict on time and temperature. */
export interface MicrobeTerms {
  /** Whether one of the tests is enough or each must pass. */
  readonly logic: 'either' | 'both';
  readonly tests: readonly MicrobeTest[];
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
  /** For so long after the first turn since a check held, a cold check does not break a run (it earns nothing either); null allows none. */
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
