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

/** The permit decides on what it names. */
export function appliedRule(
  rule: ProcessRule,
  permit: PermitTerms | null,
  reading?: RuleReading,
): AppliedRule {
  const { minimumProbes, longestGapHours, processReading } = permit ?? {};
  // A daily rule takes a missing day as its gap.
  const gap = rule.basis === 'elapsed' ? (longestGapHours ?? null) : null;
  const said = [
    ...(minimumProbes ? [`${minimumProbes} probes a check`] : []),
    ...(gap ? [`at most ${gap} hours between checks`] : []),
  ];
  return {
    rule: {
      ...rule,
      minimumProbes: minimumProbes ?? rule.minimumProbes,
      longestGapHours: gap ?? rule.longestGapHours,
    },
    reading: reading ?? processReading ?? 'consecutive',
    notes: permit && said.length > 0 ? [`Permit ${permit.reference} asks for ${said.join(' and ')}.`] : [],
  };
}
