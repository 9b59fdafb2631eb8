import { hourMs } from '../calendar.js';
import type { EvidenceKind, Verdict } from '../verdict.js';

/** What earns no time, and ends or suspends the crediting. */
const troubles: readonly EvidenceKind[] = [
  ...(['below-threshold', 'above-limit', 'after-turn', 'too-dry', 'gap'] as const),
];

/** Where the time and the turns of a rule stand. */
export interface Run {
  readonly creditedMs: number;
  /** Time is being credited from this instant on, if the next check holds; null where it has to begin anew. */
  readonly heldMs: number | null;
  /** Nothing before this instant can be credited any more than it is. */
  readonly troubleMs: number;
  readonly turns: number;
  readonly lastTurnMs: number | null;
}

/** A consecutive run that went unchecked for too long counts for nothing, unless it has all the time and turns already. */
export function runOf(verdict: Verdict): Run {
  const { reading, status, creditedSpans, clockStartedAtMs, turnsCredited, evidence, required } = verdict;
  const troubleMs = lastOf(evidence.filter(({ kind }) => troubles.includes(kind)).map(({ toMs }) => toMs));
  const creditedMs = creditedSpans.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);
  const timeIsThere =
    required.days === null
      ? creditedMs >= (required.hours ?? 0) * hourMs
      : verdict.creditedDays >= required.days;
  const complete = timeIsThere && turnsCredited >= required.turns;
  const lost = reading === 'consecutive' && status === 'insufficient-data' && !complete;
  if (lost) return { creditedMs: 0, heldMs: null, troubleMs, turns: 0, lastTurnMs: null };
  const endMs = creditedSpans.at(-1)?.toMs ?? clockStartedAtMs;
  const runs = status === 'in-progress' && endMs !== null && endMs > troubleMs;
  const turned = evidence.filter(({ kind }) => kind === 'turn-credited').map(({ fromMs }) => fromMs);
  return {
    ...{ creditedMs, troubleMs, turns: turnsCredited },
    heldMs: runs ? endMs : null,
    lastTurnMs: turnsCredited > 0 ? lastOf(turned) : null,
  };
}

/** Checks go on at least daily, and never further apart than the rule takes. */
export function checkEveryMs({ required }: Verdict): number {
  return Math.min(24, required.longestGapHours ?? 24) * hourMs;
}

const lastOf = (instants: readonly number[]): number => instants.reduce((a, b) => Math.max(a, b), -Infinity);
