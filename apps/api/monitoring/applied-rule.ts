import type { ProcessRule, RuleReading } from '#libs/process';

/** What a permit says of how a rule is applied. */
export interface PermitTerms {
  reference: string;
  processRule: string | null;
  processReading: RuleReading | null;
  minimumProbes: number | null;
  longestGapHours: number | null;
}

/** A rule as it is applied to one batch. */
export interface AppliedRule {
  rule: ProcessRule;
  reading: RuleReading;
  /** What the permit changed, in words. */
  notes: string[];
}

/** The code of the rule a batch is judged by: its own, or its permit's; null when none is named. */
export function ruleCodeOf(batch: { processRule: string | null }, permit: PermitTerms | null): string | null {
  return batch.processRule ?? permit?.processRule ?? null;
}

/**
 * The rule as the permit has it applied. A permit may ask for more probes and closer checks than the rule, not for fewer and
 * farther ones; where the rule is silent on the gap, the permit's stands.
 */
export function appliedRule(
  rule: ProcessRule,
  permit: PermitTerms | null,
  reading?: RuleReading,
): AppliedRule {
  const probes = Math.max(rule.minimumProbes, permit?.minimumProbes ?? 0);
  const gap = closerGap(rule, permit?.longestGapHours ?? null);
  const said = [
    ...(probes > rule.minimumProbes ? [`${probes} probes a check`] : []),
    ...(gap !== rule.longestGapHours && gap !== null ? [`at most ${gap} hours between checks`] : []),
  ];
  return {
    rule: { ...rule, minimumProbes: probes, longestGapHours: gap },
    reading: reading ?? permit?.processReading ?? 'consecutive',
    notes: permit && said.length > 0 ? [`Permit ${permit.reference} asks for ${said.join(' and ')}.`] : [],
  };
}

/** A daily rule takes a missing day as its gap. */
function closerGap({ basis, longestGapHours }: ProcessRule, permitted: number | null): number | null {
  if (basis === 'daily' || permitted === null) return longestGapHours;
  return Math.min(permitted, longestGapHours ?? Infinity);
}
