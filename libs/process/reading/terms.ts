import { hourMs } from '../calendar.js';
import { type Level, ownLongestGapHours, type ProcessRule, type RuleReading } from '../rule.js';
import type { Required } from '../verdict.js';

/** The part of a rule that looks at the probes of a check. */
export type ProbeTerms = Pick<ProcessRule, 'governing' | 'minimumProbes' | 'minimumZones' | 'minimumDepthMm'>;

/** A rule made ready for counting: milliseconds, no blanks. */
export interface Terms extends ProbeTerms {
  readonly reading: RuleReading;
  readonly level: Level;
  /** Infinity where the rule has no ceiling. */
  readonly upperLimitDeciC: number;
  /** Null for a rule that counts hours. */
  readonly requiredDays: number | null;
  /** For a rule that counts local days, 24 hours for each of them. */
  readonly requiredMs: number;
  readonly longestGapMs: number;
  /** Below 0 where a turn excuses nothing. */
  readonly graceMs: number;
  readonly turns: number;
  readonly turnSpacingMs: number;
  /** Null where the rule asks for no hot time before a turn. */
  readonly hotMsBeforeTurn: number | null;
  readonly peak: (Level & { readonly ms: number }) | null;
  readonly average: Level | null;
  readonly leastMoisturePercent: number | null;
  readonly carbonToNitrogen: ProcessRule['carbonToNitrogen'];
}

/** `reading` decides only where the rule leaves it open. */
export function termsOf(rule: ProcessRule, reading: RuleReading): Terms {
  const hours = 'hours' in rule.duration ? rule.duration.hours : rule.duration.days * 24;
  const hotHours = rule.turns?.hotHoursBefore ?? null;
  return {
    ...probeTermsOf(rule),
    reading: rule.continuity === 'unstated' ? reading : rule.continuity,
    level: { thresholdDeciC: rule.thresholdDeciC, strict: rule.thresholdStrict },
    upperLimitDeciC: rule.upperLimitDeciC ?? Infinity,
    requiredDays: rule.basis === 'daily' ? Math.ceil(hours / 24) : null,
    requiredMs: hours * hourMs,
    // Two checks can show no more than the whole time.
    longestGapMs: Math.min(rule.longestGapHours ?? ownLongestGapHours, hours) * hourMs,
    graceMs: (rule.graceAfterTurnHours ?? -1) * hourMs,
    turns: rule.turns?.count ?? 0,
    turnSpacingMs: (rule.turns?.spacingHours ?? 0) * hourMs,
    hotMsBeforeTurn: hotHours === null ? null : hotHours * hourMs,
    peak: rule.peak && { ...rule.peak, ms: rule.peak.hours * hourMs },
    average: rule.average,
    leastMoisturePercent: rule.moisture?.leastPercent ?? null,
    carbonToNitrogen: rule.carbonToNitrogen,
  };
}

/** Whether a temperature is as high as a level asks: at it or above, or above it only. */
export function reaches(deciC: number, { thresholdDeciC, strict }: Level): boolean {
  return strict ? deciC > thresholdDeciC : deciC >= thresholdDeciC;
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
