import { hourMs, wholeMs } from '../calendar.js';
import { sayDemand } from '../evidence/condition-sentences.js';
import { storyOf } from '../evidence/evidence.js';
import type { Caution } from '../facts.js';
import { heatIntegral, timeAbove } from '../reading/heat.js';
import { notesOf } from '../evidence/notes.js';
import {
  creditedDays,
  creditedMs,
  isSilent,
  outcomeOf,
  outcomeWithoutRaw,
  standingTurns,
  type Outcome,
} from './outcome.js';
import { ProcessReader } from '../reading/process-reader.js';
import type { ProcessState } from '../reading/process-state.js';
import { Sentences } from '../evidence/sentences.js';
import { requiredOf } from '../reading/terms.js';
import type { Condition, Span, Verdict, VerdictStatus } from '../verdict.js';

/**
 * The verdict on what was read, as of `nowMs` (epoch milliseconds; the instant read through, if it is earlier). The state
 * is left as it is, and can be read on.
 */
export function concludeProcess(state: ProcessState, nowMs: number): Verdict {
  return close({ ...state, period: structuredClone(state.period) }, nowMs);
}

/** As {@link concludeProcess}, of a state that is not read on. */
export function close(state: ProcessState, nowMs: number): Verdict {
  const now = Math.max(wholeMs(nowMs), state.readThroughMs ?? -Infinity);
  const reader = new ProcessReader(state);
  reader.close(now);
  const { terms, calendar } = reader;
  const { rule, period, carbonToNitrogen, addition, inherited } = state;
  const outcome =
    addition === null
      ? outcomeWithoutRaw(inherited.map((batch) => batch.metAtMs))
      : outcomeOf(period, carbonToNitrogen, terms, calendar);
  const { standing, metAtMs } = outcome;
  const conditions = outcome.demands.map((demand): Condition => ({
    key: demand.key,
    state: demand.state,
    text: sayDemand(demand, standing, carbonToNitrogen, terms, calendar),
  }));
  const creditedSpans = standing.flatMap(({ spans }) => spans);
  const cautions = cautionsOf(state.cautions, creditedSpans, now);
  const ms = creditedMs(standing);
  return {
    rule: { code: rule.code, version: rule.version, citation: rule.citation },
    reading: terms.reading,
    status: statusOf(outcome, state, now),
    creditedHours: ms / hourMs,
    creditedDays: terms.requiredDays === null ? ms / hourMs / 24 : creditedDays(standing),
    turnsCredited: standingTurns(outcome),
    required: requiredOf(rule, terms),
    clockStartedAtMs: standing[0]?.fromMs ?? null,
    metAtMs,
    creditedSpans,
    conditions,
    cautions,
    evidence: storyOf(state, outcome, conditions, now, new Sentences(terms, calendar, period.readings > 0)),
    notes: notesOf(state, terms, cautions, calendar),
    timeAboveHours: timeAbove(period.heat),
    heatIntegral: heatIntegral(period.heat),
  };
}

function statusOf(outcome: Outcome, { period, addition }: ProcessState, nowMs: number): VerdictStatus {
  const { metAtMs, readyAtMs, demands, standing, stretches, lastShownMs } = outcome;
  if (metAtMs !== null) return 'met';
  if (readyAtMs !== null) {
    if (demands.some(({ key, state }) => key === 'carbon-to-nitrogen' && state === 'unmet'))
      return 'interrupted';
    if (demands.some(({ state }) => state === 'unknown')) return 'insufficient-data';
  }
  if (isSilent(outcome, nowMs)) return 'insufficient-data';
  if (standing.length > 0) return 'in-progress';
  if (stretches.length > 0) return 'interrupted';
  const nothingCounts = period.checks + period.readings > 0 && (addition === null || lastShownMs === null);
  return nothingCounts ? 'insufficient-data' : 'not-started';
}

/** What is doubtful about what was credited or, where nothing was, about anything; and all that was set aside. */
function cautionsOf(cautions: readonly Caution[], credited: readonly Span[], nowMs: number): Caution[] {
  return cautions.filter(
    ({ kind, fromMs, toMs }) =>
      fromMs <= nowMs &&
      (kind === 'set-aside' ||
        credited.length === 0 ||
        credited.some((span) => fromMs <= span.toMs && span.fromMs <= toMs)),
  );
}
