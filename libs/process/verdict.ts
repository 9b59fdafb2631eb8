import type { Caution } from './facts.js';
import type { Level, RuleReading, TurnTerms } from './rule.js';

/**
 * - `not-started`: nothing recorded since the last raw material has reached the threshold, or nothing is recorded.
 * - `in-progress`: counting, and the last check that counts is recent enough to go on from.
 * - `met`: the rule's recorded criteria were fulfilled. Later cooling does not undo it; later raw material does.
 * - `interrupted`: the threshold was reached, the run was broken before the rule was met, and none is running.
 *   Only under the consecutive reading: added-up time is never lost. Also, under either, when time and turns are there
 *   but the mix had a C:N outside the rule's: no more time at heat changes that.
 * - `insufficient-data`: there are checks but none counts (too few probes, or no raw material recorded to count from),
 *   or the batch was counting and has not been checked for longer than the rule's longest gap (a daily rule: a whole
 *   local day), or time and turns are there and nothing recorded tells of a condition besides.
 *
 * A condition that is unmet but can still come right (peak, average, moisture) leaves the status as it is without it.
 */
export const verdictStatuses = [
  'not-started',
  'in-progress',
  'met',
  'interrupted',
  'insufficient-data',
] as const;
export type VerdictStatus = (typeof verdictStatuses)[number];

export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

export const evidenceKinds = [
  'raw-addition',
  'merged',
  'clock-started',
  'clock-restarted',
  'credited',
  'gap',
  'below-threshold',
  'above-limit',
  'after-turn',
  'too-few-probes',
  'too-shallow',
  'too-few-zones',
  'implausible',
  'too-dry',
  'turn-credited',
  'turn-not-credited',
  'met',
  'condition',
  'ignored',
] as const;
export type EvidenceKind = (typeof evidenceKinds)[number];

/** One thing that happened, in a sentence with the site's local times. An instant has `fromMs` equal to `toMs`. */
export interface Evidence extends Span {
  readonly kind: EvidenceKind;
  readonly text: string;
  /** The check the sentence speaks of; of several, the one furthest from the rule. Null where it speaks of none. */
  readonly checkId: string | null;
}

/** What the rule asks, as it was applied: one of `hours` and `days` is set, by the rule's basis. */
export interface Required {
  readonly hours: number | null;
  readonly days: number | null;
  readonly turns: number;
  readonly turnSpacingHours: number;
  readonly hotHoursBeforeTurn: TurnTerms['hotHoursBefore'];
  readonly thresholdDeciC: number;
  readonly thresholdStrict: boolean;
  readonly upperLimitDeciC: number | null;
  readonly peak: (Level & { readonly hours: number }) | null;
  readonly average: Level | null;
  readonly leastMoisturePercent: number | null;
  readonly carbonToNitrogen: { readonly least: number; readonly most: number } | null;
  readonly probes: number;
  readonly zones: number;
  readonly depthMm: number | null;
  /** Null for a daily rule, where a missing day is the gap. */
  readonly longestGapHours: number | null;
}

export const conditionKeys = ['peak', 'average', 'moisture', 'carbon-to-nitrogen'] as const;
export type ConditionKey = (typeof conditionKeys)[number];

/** What a rule asks besides its time and turns, and whether it is shown. */
export interface Condition {
  readonly key: ConditionKey;
  /** `unknown`: nothing that was recorded says. Like `unmet` it keeps the rule from being met. */
  readonly state: 'met' | 'unmet' | 'unknown';
  readonly text: string;
}

/** Time at or above a temperature, for information. */
export interface TimeAbove {
  readonly thresholdDeciC: number;
  readonly hours: number;
}

/**
 * How far the published time-temperature equation was fulfilled. Advisory: it is written for material held at one
 * temperature throughout, and at least one state that copied it excepts composting.
 */
export interface HeatIntegral extends Span {
  /** Sum of time / holding time over the unbroken stretch in which it is largest: 1 is the whole holding time. */
  readonly holdingTimes: number;
  readonly citation: string;
}

/** What the records show of one rule. It speaks of the rule's recorded criteria, never of legality. */
export interface Verdict {
  readonly rule: { readonly code: string; readonly version: number; readonly citation: string };
  /** How the time was counted: the rule's own word where it has one. */
  readonly reading: RuleReading;
  readonly status: VerdictStatus;
  /**
   * What counts towards the rule now, the lengths of `creditedSpans` in hours; 0 once a consecutive run is broken, unless
   * it had all its time and turns and lacks only what the mix or a measure of moisture says.
   */
  readonly creditedHours: number;
  /** Local days for a daily rule, otherwise `creditedHours` / 24. */
  readonly creditedDays: number;
  readonly turnsCredited: number;
  readonly required: Required;
  /** The first check at the threshold from which the time that counts is counted. */
  readonly clockStartedAtMs: number | null;
  /** The first instant at which the whole rule, turns and conditions included, was met. */
  readonly metAtMs: number | null;
  readonly creditedSpans: readonly Span[];
  /** What the rule asks besides; empty where it asks nothing. */
  readonly conditions: readonly Condition[];
  /** What is doubtful about the time that was credited or, where none is, about any reading; and what was set aside. */
  readonly cautions: readonly Caution[];
  /** In order of time. */
  readonly evidence: readonly Evidence[];
  /** Choices that shaped the verdict and what it does not say. */
  readonly notes: readonly string[];
  /** At 40, 45, 50, 55, 60 and 65 °C, since the last raw material. */
  readonly timeAboveHours: readonly TimeAbove[];
  readonly heatIntegral: HeatIntegral | null;
}
