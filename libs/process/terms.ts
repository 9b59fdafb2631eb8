import { hourMs } from './calendar.js';
import { ownLongestGapHours, type ProcessRule, type RuleReading } from './rule.js';
import type { Required } from './verdict.js';

/** The part of a rule that looks at the probes of a check. */
export type ProbeTerms = Pick<ProcessRule, 'governing' | 'minimumProbes' | 'minimumZones' | 'minimumDepthMm'>;

/** A rule made ready for counting: milliseconds, no blanks. */
export interface Terms extends ProbeTerms {
  readonly reading: RuleReading;
  readonly thresholdDeciC: number;
  /** Infinity where the rule has no ceiling. */
  readonly upperLimitDeciC: number;
  /** Null for a rule that counts hours. */
  readonly requiredDays: number | null;
  /** Used by a rule that counts hours. */
  readonly requiredMs: number;
  readonly longestGapMs: number;
  /** Below 0 where a turn excuses nothing. */
  readonly graceMs: number;
  readonly turns: number;
  readonly turnSpacingMs: number;
}

/** `reading` decides only where the rule leaves it open. */
export function termsOf(rule: ProcessRule, reading: RuleReading): Terms {
  const hours = 'hours' in rule.duration ? rule.duration.hours : rule.duration.days * 24;
  return {
    reading: rule.continuity === 'unstated' ? reading : rule.continuity,
    ...probeTermsOf(rule),
    thresholdDeciC: rule.thresholdDeciC,
    upperLimitDeciC: rule.upperLimitDeciC ?? Infinity,
    requiredDays: rule.basis === 'daily' ? Math.ceil(hours / 24) : null,
    requiredMs: hours * hourMs,
    longestGapMs: (rule.longestGapHours ?? ownLongestGapHours) * hourMs,
    graceMs: (rule.graceAfterTurnHours ?? -1) * hourMs,
    turns: rule.turns?.count ?? 0,
    turnSpacingMs: (rule.turns?.spacingHours ?? 0) * hourMs,
  };
}

/** How a rule looks at the probes of a check. */
export function probeTermsOf({
  governing,
  minimumProbes,
  minimumZones,
  minimumDepthMm,
}: ProbeTerms): ProbeTerms {
  // A check without any probe shows nothing, whatever a rule says.
  return { governing, minimumProbes: Math.max(1, minimumProbes), minimumZones, minimumDepthMm };
}

/** The same for a reader: what the rule asks, as it was applied. */
export function requiredOf(rule: ProcessRule, terms: Terms): Required {
  const daily = terms.requiredDays !== null;
  return {
    hours: daily ? null : terms.requiredMs / hourMs,
    days: terms.requiredDays,
    turns: terms.turns,
    turnSpacingHours: terms.turnSpacingMs / hourMs,
    hotHoursBeforeTurn: rule.turns?.hotHoursBefore ?? null,
    thresholdDeciC: rule.thresholdDeciC,
    thresholdStrict: rule.thresholdStrict,
    upperLimitDeciC: rule.upperLimitDeciC,
    peak: rule.peak,
    average: rule.average,
    leastMoisturePercent: rule.moisture?.leastPercent ?? null,
    carbonToNitrogen: rule.carbonToNitrogen,
    probes: terms.minimumProbes,
    zones: rule.minimumZones,
    depthMm: rule.minimumDepthMm,
    longestGapHours: daily ? null : terms.longestGapMs / hourMs,
  };
}
