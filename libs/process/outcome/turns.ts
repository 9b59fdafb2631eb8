import type { Stretch } from '../reading/course.js';
import type { RecordedTurn } from '../reading/period.js';
import type { Terms } from '../reading/terms.js';

/** What became of one turn: which stretch it fell in, and its number among those that count (null: it does not). */
export interface TurnOutcome extends RecordedTurn {
  readonly stretch: number | null;
  readonly number: number | null;
  /** Why a turn inside a hot stretch does not count. */
  readonly lack: 'too-soon' | 'not-hot-long-enough' | null;
}

/**
 * A turn counts inside a hot stretch, its first and last check included, and no sooner after the last counted turn than
 * the rule's spacing; not between a cold check that a turn excused and the next that held. Where the rule asks for hot
 * time before a turn, it counts when the unbroken credited run up to the last check is that long, as far as it comes
 * after the last counted turn; then no later check has to show heat.
 * Turns of one instant are one turn. A consecutive run counts its own turns only. Taking each turn as early as it may be
 * taken counts as many of them as can be counted.
 *
 * Both lists must be in order of time.
 */
export function countTurns(
  turns: readonly RecordedTurn[],
  stretches: readonly Stretch[],
  terms: Terms,
): TurnOutcome[] {
  if (terms.turns === 0) return [];
  const outcomes: TurnOutcome[] = [];
  let index = 0;
  let last = { run: null as number | null, atMs: -Infinity, number: 0 };
  for (const turn of turns) {
    while ((stretches[index]?.toMs ?? Infinity) < turn.atMs) index += 1;
    const around = (stretches[index]?.fromMs ?? Infinity) <= turn.atMs ? index : null;
    const between = turn.cold ? null : around;
    const stretch = terms.hotMsBeforeTurn === null ? between : (turn.hot?.stretch ?? null);
    const run = terms.reading === 'consecutive' ? stretch : null;
    if (stretch !== null && run !== last.run) last = { run, atMs: -Infinity, number: 0 };
    const lack = stretch === null ? null : lackOf(turn, last.atMs, terms);
    const counts = stretch !== null && lack === null;
    if (counts) last = { run, atMs: turn.atMs, number: last.number + 1 };
    outcomes.push({ ...turn, stretch, number: counts ? last.number : null, lack });
  }
  return outcomes;
}

function lackOf({ atMs, hot }: RecordedTurn, lastAtMs: number, terms: Terms): TurnOutcome['lack'] {
  if (atMs <= lastAtMs || atMs - lastAtMs < terms.turnSpacingMs) return 'too-soon';
  const { hotMsBeforeTurn } = terms;
  if (hotMsBeforeTurn === null || hot === null) return null;
  return hot.toMs - Math.max(hot.fromMs, lastAtMs) < hotMsBeforeTurn ? 'not-hot-long-enough' : null;
}
