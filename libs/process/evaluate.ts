import { close } from './outcome/conclude.js';
import type { BatchFacts } from './facts.js';
import { beginProcess, readOn } from './reading/process.js';
import type { ProcessRule, RuleReading } from './rule.js';
import type { Verdict } from './verdict.js';

/**
 * Judges a batch's records by a rule, as of `nowMs` (epoch milliseconds). Pure and total: finite numbers in, a verdict
 * out, in time proportional to the facts, plus sorting those that are out of order. The method, with a worked example,
 * is in docs/process.md.
 *
 * `reading` decides only where the rule does not say whether its time must be consecutive; the stricter is the default.
 * Where a permit asks for more probes than the rule, pass the rule with its `minimumProbes` raised.
 */
export function evaluateProcess(
  rule: ProcessRule,
  facts: BatchFacts,
  nowMs: number,
  reading: RuleReading = 'consecutive',
): Verdict {
  const state = beginProcess(rule, facts.timeZone, reading);
  readOn(state, facts, nowMs);
  return close(state, nowMs);
}

/** A verdict and, where its rule leaves open whether time must be consecutive, the one under the other reading. */
export interface Readings {
  readonly verdict: Verdict;
  readonly other: Verdict | null;
}

/** As {@link evaluateProcess}, under the reading that the permit chooses and beside it the other, where there is one. */
export function evaluateReadings(
  rule: ProcessRule,
  facts: BatchFacts,
  nowMs: number,
  permitReading: RuleReading = 'consecutive',
): Readings {
  const otherReading = permitReading === 'consecutive' ? 'cumulative' : 'consecutive';
  return {
    verdict: evaluateProcess(rule, facts, nowMs, permitReading),
    other: rule.continuity === 'unstated' ? evaluateProcess(rule, facts, nowMs, otherReading) : null,
  };
}
