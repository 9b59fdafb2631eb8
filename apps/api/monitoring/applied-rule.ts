import { processRule, type ProcessRule, type RuleReading } from '#libs/process';

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

/** The rule a batch is judged by: its own, or its permit's. The code may be unknown to the library; null when none is named. */
export function ruleCodeOf(batch: { processRule: string | null }, permit: PermitTerms | null): string | null {
  return batch.processRule ?? permit?.processRule ?? null;
}

/** The permit decides on what it names; undefined when the library has no rule of that code. */
export function appliedRule(
  code: string,
  permit: PermitTerms | null,
  reading?: RuleReading,
): AppliedRule | undefined {
  const rule = processRule(code);
  if (!rule) return undefined;
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
