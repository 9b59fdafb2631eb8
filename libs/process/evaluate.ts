import { hourMs, SiteCalendar } from './calendar.js';
import { storyOf } from './evidence.js';
import type { BatchFacts } from './facts.js';
import { heatIntegral, timeAbove } from './heat.js';
import { historyOf, periodsOf, periodWithoutRaw } from './history.js';
import { notesOf } from './notes.js';
import {
  creditedDays,
  creditedMs,
  isSilent,
  outcomeOf,
  outcomeWithoutRaw,
  standingTurns,
  type Outcome,
  type Period,
} from './outcome.js';
import type { ProcessRule, RuleReading } from './rule.js';
import { Sentences } from './sentences.js';
import { requiredOf, termsOf } from './terms.js';
import type { Verdict, VerdictStatus } from './verdict.js';

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
  const terms = termsOf(rule, reading);
  const calendar = new SiteCalendar(facts.timeZone);
  const history = historyOf(facts, terms, nowMs);
  const periods = periodsOf(history);
  const outcomes = periods.map((period) => outcomeOf(period, terms, calendar));
  const period = periods.at(-1) ?? periodWithoutRaw(history);
  const outcome = outcomes.at(-1) ?? outcomeWithoutRaw(history.inherited.map((batch) => batch.metAtMs));
  const ms = creditedMs(outcome.standing);
  return {
    rule: { code: rule.code, version: rule.version, citation: rule.citation },
    reading: terms.reading,
    status: statusOf(outcome, period),
    creditedHours: ms / hourMs,
    creditedDays: terms.requiredDays === null ? ms / hourMs / 24 : creditedDays(outcome.standing),
    turnsCredited: standingTurns(outcome),
    required: requiredOf(rule, terms),
    clockStartedAtMs: outcome.standing[0]?.fromMs ?? null,
    metAtMs: outcome.metAtMs,
    creditedSpans: outcome.standing.flatMap((stretch) =>
      stretch.spans.map(({ fromMs, toMs }) => ({ fromMs, toMs })),
    ),
    conditions: [],
    cautions: [],
    evidence: storyOf(history, outcomes, period, new Sentences(terms, calendar)),
    notes: notesOf(rule, terms, history, facts.timeZone, calendar),
    timeAboveHours: timeAbove(period.moments, terms.longestGapMs),
    heatIntegral: heatIntegral(period.moments, terms.longestGapMs),
  };
}

function statusOf(outcome: Outcome, period: Period): VerdictStatus {
  if (outcome.metAtMs !== null) return 'met';
  if (isSilent(outcome, period.toMs)) return 'insufficient-data';
  if (outcome.standing.length > 0) return 'in-progress';
  if (outcome.stretches.length > 0) return 'interrupted';
  const nothingCounts = period.moments.length > 0 && outcome.lastShownMs === null;
  return nothingCounts ? 'insufficient-data' : 'not-started';
}
