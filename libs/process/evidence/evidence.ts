import { courseEvidence } from './course-evidence.js';
import { instant, item } from './evidence-item.js';
import { creditedMs, isSilent, outcomeWithoutRaw, standingTurns, type Outcome } from '../outcome/outcome.js';
import type { Addition, ProcessState } from '../reading/process-state.js';
import type { Sentences } from './sentences.js';
import type { Condition, Evidence } from '../verdict.js';

/** What raw material that went in cost; null where there was nothing to lose. */
export function costOf(
  addition: Pick<Addition, 'atMs' | 'what'>,
  before: Outcome,
  say: Sentences,
): Evidence | null {
  const loses = before.metAtMs !== null || creditedMs(before.standing) > 0 || standingTurns(before) > 0;
  return loses ? item('clock-restarted', instant(addition.atMs), say.restarted(addition, before)) : null;
}

/** Everything that led to a verdict, in order of time. `conditions` go with the outcome's demands, one for one. */
export function storyOf(
  state: ProcessState,
  outcome: Outcome,
  conditions: readonly Condition[],
  nowMs: number,
  say: Sentences,
): Evidence[] {
  const { ahead } = state;
  const items = [
    ...additionsOf(state, say),
    ...inheritanceOf(state, say),
    ...courseEvidence(outcome, say),
    ...turnsOf(outcome, say),
    ...conditionsOf(outcome, conditions, say),
    ...silenceOf(outcome, nowMs, say),
    ...(state.addition === null || outcome.metAtMs === null
      ? []
      : [item('met', instant(outcome.metAtMs), say.met(outcome.metAtMs))]),
    ...(ahead === null ? [] : [item('ignored', ahead, say.ahead(ahead))]),
  ];
  return items.toSorted((a, b) => a.fromMs - b.fromMs);
}

/** The turns that count, and those that do not up to when the rule was met. */
function turnsOf(outcome: Outcome, say: Sentences): Evidence[] {
  const horizonMs = outcome.metAtMs ?? Infinity;
  return outcome.turns
    .filter((turn) => turn.number !== null || turn.atMs <= horizonMs)
    .map((turn) => {
      const kind = turn.number === null ? 'turn-not-credited' : 'turn-credited';
      return item(kind, instant(turn.atMs), say.turn(turn, outcome));
    });
}

/** What went in, and what it cost. */
function additionsOf({ told, addition, earlier }: ProcessState, say: Sentences): Evidence[] {
  if (addition === null) return told;
  const last =
    addition.cost ?? item('raw-addition', instant(addition.atMs), say.lastAddition(addition, earlier));
  return [...told, last];
}

/** Merged batches that had met the rule; with no other material they make the verdict. */
function inheritanceOf({ inherited, addition }: ProcessState, say: Sentences): Evidence[] {
  const merged = inherited.map((batch) => item('merged', instant(batch.atMs), say.merged(batch)));
  const { metAtMs } = outcomeWithoutRaw(inherited.map((batch) => batch.metAtMs));
  if (addition !== null || metAtMs === null) return merged;
  return [...merged, item('met', instant(metAtMs), say.inherited(metAtMs))];
}

/** Told when it was reached and, once time and turns are there, where it keeps the rule from being met. */
function conditionsOf(
  { demands, readyAtMs }: Outcome,
  conditions: readonly Condition[],
  say: Sentences,
): Evidence[] {
  return demands.flatMap(({ state, atMs }, index) => {
    const text = conditions[index]?.text ?? '';
    if (atMs !== null) return [item('condition', instant(atMs), text)];
    if (state === 'met' || readyAtMs === null) return [];
    return [item('condition', instant(readyAtMs), say.wanting(readyAtMs, text))];
  });
}

/** A batch that was counting and has not been checked for too long. */
function silenceOf(outcome: Outcome, nowMs: number, say: Sentences): Evidence[] {
  const { lastShownMs } = outcome;
  if (lastShownMs === null || !isSilent(outcome, nowMs)) return [];
  return [item('gap', { fromMs: lastShownMs, toMs: nowMs }, say.silence(lastShownMs))];
}
