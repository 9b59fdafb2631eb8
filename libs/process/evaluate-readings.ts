import { evaluateProcess } from './evaluate.js';
import type { BatchFacts } from './facts.js';
import type { ProcessRule, RuleReading } from './rule.js';
import type { Verdict } from './verdict.js';

export interface Readings {
  /** Under the reading asked for, or the rule's own. */
  readonly verdict: Verdict;
  /** Where the rule does not say whether its time must be consecutive: under the other reading. */
  readonly other: Verdict | null;
}

/** The verdict as {@link evaluateProcess} gives it and, where a rule leaves its reading open, the other one beside it. */
export function evaluateReadings(
  rule: ProcessRule,
  facts: BatchFacts,
  nowMs: number,
  reading: RuleReading = 'consecutive',
): Readings {
  const otherReading = reading === 'consecutive' ? 'cumulative' : 'consecutive';
  return {
    verdict: evaluateProcess(rule, facts, nowMs, reading),
    other: rule.continuity === 'unstated' ? evaluateProcess(rule, facts, nowMs, otherReading) : null,
  };
}
