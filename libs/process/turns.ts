import type { Stretch } from './course.js';
import type { Turn } from './facts.js';
import type { Terms } from './terms.js';

export interface TimedTurn {
  readonly atMs: number;
  readonly kind: Turn['kind'];
}

/** What became of one turn: which stretch it fell in, and its number among those that count (null: it does not). */
export interface TurnOutcome extends TimedTurn {
  readonly stretch: Stretch | null;
  readonly number: number | null;
}

/**
 * A turn counts inside a hot stretch, its first and last check included, and no sooner after the last counted turn than
 * the rule's spacing. Turns of one instant are one turn. A consecutive run counts its own turns only. Taking each turn
 * as early as it may be taken counts as many of them as can be counted.
 *
 * Both lists must be in order of time.
 */
export function countTurns(
  turns: readonly TimedTurn[],
  stretches: readonly Stretch[],
  terms: Terms,
): TurnOutcome[] {
  if (terms.turns === 0) return [];
  const outcomes: TurnOutcome[] = [];
  let index = 0;
  let last = { run: null as Stretch | null, atMs: -Infinity, number: 0 };
  for (const turn of turns) {
    while ((stretches[index]?.toMs ?? Infinity) < turn.atMs) index += 1;
    const candidate = stretches[index];
    const stretch = candidate !== undefined && candidate.fromMs <= turn.atMs ? candidate : null;
    const run = terms.reading === 'consecutive' ? stretch : null;
    if (stretch !== null && run !== last.run) last = { run, atMs: -Infinity, number: 0 };
    const spaced = turn.atMs > last.atMs && turn.atMs - last.atMs >= terms.turnSpacingMs;
    const counts = stretch !== null && spaced;
    if (counts) last = { run, atMs: turn.atMs, number: last.number + 1 };
    outcomes.push({ ...turn, stretch, number: counts ? last.number : null });
  }
  return outcomes;
}
