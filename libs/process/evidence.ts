import type { Incident, Stretch } from './course.js';
import type { History } from './history.js';
import {
  creditedMs,
  isSilent,
  outcomeWithoutRaw,
  standingTurns,
  type Outcome,
  type Period,
} from './outcome.js';
import type { Sentences } from './sentences.js';
import type { Evidence, EvidenceKind, Span } from './verdict.js';

/** Everything that led to a verdict, in order of time. `outcomes` are those of the periods that the additions open. */
export function storyOf(
  history: History,
  outcomes: readonly Outcome[],
  period: Period,
  say: Sentences,
): Evidence[] {
  const outcome = outcomes.at(-1);
  const items = [
    ...additionsOf(history, outcomes, say),
    ...inheritanceOf(history, say),
    ...(outcome === undefined ? [] : courseOf(outcome, period, say)),
    ...(history.ahead === null ? [] : [item('ignored', history.ahead, say.ahead(history.ahead.checks))]),
  ];
  return items.toSorted((a, b) => a.fromMs - b.fromMs);
}

/** What the last period's checks and turns show; nothing that happened after the rule was met. */
function courseOf(outcome: Outcome, period: Period, say: Sentences): Evidence[] {
  const horizonMs = outcome.metAtMs ?? Infinity;
  const turnsOf = creditedTurnsOf(outcome);
  const broken = new Map<Incident, Stretch>();
  for (const stretch of outcome.stretches) if (stretch.endedBy !== null) broken.set(stretch.endedBy, stretch);

  const stretches = outcome.stretches.filter((stretch) => stretch.fromMs <= horizonMs);
  const incidents = outcome.incidents.filter((incident) => incident.fromMs <= horizonMs);
  const turns = outcome.turns.filter((turn) => turn.number !== null || turn.atMs <= horizonMs);
  return [
    ...stretches.flatMap((stretch, index) => startOf(stretch, index === 0, say)),
    ...stretches.flatMap((stretch) =>
      stretch.spans.map((span) => item('credited', span, say.credited(span))),
    ),
    ...incidents.map((incident) => {
      const stretch = broken.get(incident);
      const loss = stretch === undefined ? '' : say.broken(stretch, turnsOf.get(stretch) ?? 0);
      return item(incident.kind, incident, `${say.incident(incident)}${loss}`, incident.checkId);
    }),
    ...turns.map((turn) =>
      item(
        turn.number === null ? 'turn-not-credited' : 'turn-credited',
        instant(turn.atMs),
        say.turn(turn, outcome),
      ),
    ),
    ...silenceOf(outcome, period, say),
    ...(outcome.metAtMs === null ? [] : [item('met', instant(outcome.metAtMs), say.met(outcome.metAtMs))]),
  ];
}

/** What went in, and what it cost. */
function additionsOf(history: History, outcomes: readonly Outcome[], say: Sentences): Evidence[] {
  const last = history.additions.length - 1;
  return history.additions.flatMap((addition, index) => {
    const before = outcomes[index - 1];
    if (before !== undefined && hasSomethingToLose(before)) {
      return [item('clock-restarted', instant(addition.atMs), say.restarted(addition, before))];
    }
    return index === last
      ? [item('raw-addition', instant(addition.atMs), say.lastAddition(addition, history))]
      : [];
  });
}

/** Merged batches that had met the rule; with no other material they make the verdict. */
function inheritanceOf({ inherited, additions }: History, say: Sentences): Evidence[] {
  const merged = inherited.map((batch) => item('merged', instant(batch.atMs), say.merged(batch)));
  const metAtMs = outcomeWithoutRaw(inherited.map((batch) => batch.metAtMs)).metAtMs;
  if (additions.length > 0 || metAtMs === null) return merged;
  return [...merged, item('met', instant(metAtMs), say.inherited(metAtMs))];
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

function hasSomethingToLose(outcome: Outcome): boolean {
  return outcome.metAtMs !== null || creditedMs(outcome.standing) > 0 || standingTurns(outcome) > 0;
}

function startOf(stretch: Stretch, first: boolean, say: Sentences): Evidence[] {
  if (first) return [item('clock-started', instant(stretch.fromMs), say.started(stretch.fromMs))];
  return say.consecutive
    ? [item('clock-restarted', instant(stretch.fromMs), say.startedAnew(stretch.fromMs))]
    : [];
}

/** A batch that was counting and has not been checked for too long. */
function silenceOf(outcome: Outcome, period: Period, say: Sentences): Evidence[] {
  const { lastShownMs } = outcome;
  if (lastShownMs === null || !isSilent(outcome, period.toMs)) return [];
  return [item('gap', { fromMs: lastShownMs, toMs: period.toMs }, say.silence(lastShownMs))];
}

function creditedTurnsOf(outcome: Outcome): Map<Stretch, number> {
  const counts = new Map<Stretch, number>();
  for (const { stretch, number } of outcome.turns) {
    if (stretch !== null && number !== null) counts.set(stretch, (counts.get(stretch) ?? 0) + 1);
  }
  return counts;
}
