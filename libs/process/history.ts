import { wholeMs } from './calendar.js';
import type { BatchFacts } from './facts.js';
import { inOrder, momentsOf, type Moment } from './moments.js';
import type { Period } from './outcome.js';
import type { Terms } from './terms.js';
import type { TimedTurn } from './turns.js';
import type { Span } from './verdict.js';

/** Material that has not met the rule went in: from here the batch has to start again. */
export interface Addition {
  readonly atMs: number;
  readonly what: readonly string[];
}

/** A batch that had met the rule was merged in. */
export interface Inheritance {
  readonly atMs: number;
  readonly code: string;
  readonly metAtMs: number;
}

/** The facts up to now, in order of time. */
export interface History {
  readonly nowMs: number;
  readonly additions: readonly Addition[];
  readonly inherited: readonly Inheritance[];
  readonly moments: readonly Moment[];
  readonly turns: readonly TimedTurn[];
  /** Checks dated after now, which are left out. */
  readonly ahead: (Span & { readonly checks: number }) | null;
}

export function historyOf(facts: BatchFacts, terms: Terms, now: number): History {
  const nowMs = wholeMs(now);
  const past = <T extends { readonly atMs: number }>(items: readonly T[]): readonly T[] =>
    inOrder(items.filter((item) => item.atMs <= nowMs));
  const raw = facts.rawAdditions.map(({ occurredAtMs, what }) => ({ atMs: wholeMs(occurredAtMs), what }));
  const merged = (facts.mergedFrom ?? []).map(({ occurredAtMs, ...batch }) => ({
    atMs: wholeMs(occurredAtMs),
    ...batch,
  }));
  const unmet = merged
    .filter((batch) => metBefore(batch) === null)
    .map(({ atMs, code }) => ({ atMs, what: `batch ${code}, which had not met the rule` }));
  return {
    nowMs,
    additions: together(past([...raw, ...unmet])),
    inherited: past(merged.flatMap((batch) => metBefore(batch) ?? [])),
    moments: momentsOf(
      facts.checks.filter((check) => wholeMs(check.occurredAtMs) <= nowMs),
      terms,
    ),
    turns: past(facts.turns.map(({ occurredAtMs, kind }) => ({ atMs: wholeMs(occurredAtMs), kind }))),
    ahead: aheadOf(facts, nowMs),
  };
}

/** One period from each addition to the next, the last one until now. A check at the very instant belongs to what follows it. */
export function periodsOf({ additions, moments, turns, nowMs }: History): Period[] {
  return additions.map(({ atMs: fromMs }, index) => {
    const next = additions[index + 1]?.atMs;
    return {
      fromMs,
      toMs: next ?? nowMs,
      moments: between(moments, fromMs, next ?? Infinity),
      turns: between(turns, fromMs, next ?? Infinity),
    };
  });
}

/** Where no raw material is recorded: everything since the last merging, for information. */
export function periodWithoutRaw({ inherited, moments, turns, nowMs }: History): Period {
  const fromMs = inherited.at(-1)?.atMs ?? -Infinity;
  return {
    fromMs,
    toMs: nowMs,
    moments: between(moments, fromMs, Infinity),
    turns: between(turns, fromMs, Infinity),
  };
}

/** Items in order of time, from one instant on and before another. */
function between<T extends { readonly atMs: number }>(
  items: readonly T[],
  fromMs: number,
  beforeMs: number,
): readonly T[] {
  return items.slice(firstFrom(items, fromMs), firstFrom(items, beforeMs));
}

function firstFrom(items: readonly { readonly atMs: number }[], atMs: number): number {
  let low = 0;
  let high = items.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((items[middle]?.atMs ?? Infinity) < atMs) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** A batch that met the rule only after it had been merged in had not met it when it mattered. */
function metBefore(batch: { atMs: number; code: string; metAtMs: number | null }): Inheritance | null {
  const { metAtMs } = batch;
  return metAtMs !== null && metAtMs <= batch.atMs ? { ...batch, metAtMs: wholeMs(metAtMs) } : null;
}

/** What went in at one instant went in together, named in a fixed order. */
function together(additions: readonly { atMs: number; what: string }[]): Addition[] {
  const whats = new Map<number, string[]>();
  for (const { atMs, what } of additions) whats.set(atMs, [...(whats.get(atMs) ?? []), what]);
  return [...whats].map(([atMs, what]) => ({ atMs, what: what.toSorted() }));
}

function aheadOf(facts: BatchFacts, nowMs: number): History['ahead'] {
  const instants = facts.checks.map((check) => wholeMs(check.occurredAtMs)).filter((atMs) => atMs > nowMs);
  if (instants.length === 0) return null;
  const sorted = instants.toSorted((a, b) => a - b);
  return { fromMs: sorted[0] ?? nowMs, toMs: sorted.at(-1) ?? nowMs, checks: instants.length };
}
