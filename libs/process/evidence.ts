import type { Incident, Stretch } from './course.js';
import { creditedMs, isSilent, outcomeWithoutRaw, standingTurns, type Outcome } from './outcome.js';
import type { Addition, ProcessState } from './process-state.js';
import type { Sentences } from './sentences.js';
import type { Condition, Evidence, EvidenceKind, Span } from './verdict.js';

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
    ...(state.addition === null ? [] : courseOf(outcome, say)),
    ...conditionsOf(outcome, conditions, say),
    ...silenceOf(outcome, nowMs, say),
    ...(state.addition === null || outcome.metAtMs === null
      ? []
      : [item('met', instant(outcome.metAtMs), say.met(outcome.metAtMs))]),
    ...(ahead === null ? [] : [item('ignored', ahead, say.ahead(ahead))]),
  ];
  return items.toSorted((a, b) => a.fromMs - b.fromMs);
}

/** What the checks and turns since the last raw material show; nothing that happened after the rule was met. */
function courseOf(outcome: Outcome, say: Sentences): Evidence[] {
  const horizonMs = outcome.metAtMs ?? Infinity;
  const early = ({ fromMs }: Span) => fromMs <= horizonMs;
  const stretches = outcome.stretches.filter(early);
  const turns = outcome.turns.filter((turn) => turn.number !== null || turn.atMs <= horizonMs);
  const broken = brokenBy(outcome);
  const lostTurns = turnsByStretch(outcome);
  return [
    ...stretches.flatMap((stretch, index) => startOf(stretch, index === 0, say)),
    ...stretches.flatMap((stretch) =>
      stretch.spans.map((span) => item('credited', span, say.credited(span))),
    ),
    ...outcome.incidents.filter(early).map((incident) => {
      const index = broken.get(incident);
      const stretch = index === undefined ? undefined : outcome.stretches[index];
      const loss = stretch === undefined ? '' : say.broken(stretch, lostTurns.get(index ?? -1) ?? 0);
      return item(incident.kind, incident, `${say.incident(incident)}${loss}`, incident.checkId);
    }),
    ...turns.map((turn) =>
      item(
        turn.number === null ? 'turn-not-credited' : 'turn-credited',
        instant(turn.atMs),
        say.turn(turn, outcome),
      ),
    ),
  ];
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

function startOf(stretch: Stretch, first: boolean, say: Sentences): Evidence[] {
  if (first) return [item('clock-started', instant(stretch.fromMs), say.started(stretch.fromMs))];
  return say.consecutive
    ? [item('clock-restarted', instant(stretch.fromMs), say.startedAnew(stretch.fromMs))]
    : [];
}

/** A batch that was counting and has not been checked for too long. */
function silenceOf(outcome: Outcome, nowMs: number, say: Sentences): Evidence[] {
  const { lastShownMs } = outcome;
  if (lastShownMs === null || !isSilent(outcome, nowMs)) return [];
  return [item('gap', { fromMs: lastShownMs, toMs: nowMs }, say.silence(lastShownMs))];
}

/** Which stretch each incident broke. */
function brokenBy({ stretches, incidents }: Outcome): Map<Incident | undefined, number> {
  return new Map(stretches.map(({ endedBy }, index) => [incidents[endedBy ?? -1], index]));
}

function turnsByStretch({ turns }: Outcome): Map<number, number> {
  const counts = new Map<number, number>();
  for (const { stretch, number } of turns) {
    if (stretch !== null && number !== null) counts.set(stretch, (counts.get(stretch) ?? 0) + 1);
  }
  return counts;
}

function item(
  kind: EvidenceKind,
  { fromMs, toMs }: Span,
  text: string,
  checkId: string | null = null,
): Evidence {
  return { fromMs, toMs, kind, text, checkId };
}

function instant(atMs: number): Span {
  return { fromMs: atMs, toMs: atMs };
}
