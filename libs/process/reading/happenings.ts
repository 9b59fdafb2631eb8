import { wholeMs } from '../calendar.js';
import type { BatchFacts, Turn } from '../facts.js';

/** Something that happened to a batch, other than that it was looked at. */
export type Happening =
  | { readonly kind: 'inherited'; readonly atMs: number; readonly code: string; readonly metAtMs: number }
  | { readonly kind: 'addition'; readonly atMs: number; readonly what: readonly string[] }
  | { readonly kind: 'measure'; readonly atMs: number; readonly percent: number }
  | { readonly kind: 'turn'; readonly atMs: number; readonly turned: Turn['kind'] };

/**
 * What happened after one instant and up to another, in order of time. Of one instant: what came in, then what was
 * measured, the driest last, then turns; so the order of the facts cannot change a verdict.
 */
export function happeningsIn(
  facts: Pick<BatchFacts, 'rawAdditions' | 'mergedFrom' | 'moistures' | 'turns'>,
  afterMs: number,
  throughMs: number,
): Happening[] {
  const within = ({ atMs }: { readonly atMs: number }) => atMs > afterMs && atMs <= throughMs;
  const merged = (facts.mergedFrom ?? []).map(({ occurredAtMs, code, metAtMs }) => ({
    atMs: wholeMs(occurredAtMs),
    code,
    metAtMs: metAtMs === null ? Infinity : wholeMs(metAtMs),
  }));
  // A batch that met the rule only after it had been merged in had not met it when it mattered.
  const [met, unmet] = [true, false].map((was) => merged.filter((each) => each.metAtMs <= each.atMs === was));
  const raw = [
    ...facts.rawAdditions.map(({ occurredAtMs, what }) => ({ atMs: wholeMs(occurredAtMs), what })),
    ...(unmet ?? []).map(({ atMs, code }) => ({ atMs, what: `batch ${code}, which had not met the rule` })),
  ];
  const measures = (facts.moistures ?? []).map(({ occurredAtMs, percent }) => ({
    ...{ kind: 'measure' as const, atMs: wholeMs(occurredAtMs), percent },
  }));
  const turns = facts.turns.map(({ occurredAtMs, kind }) => ({
    ...{ kind: 'turn' as const, atMs: wholeMs(occurredAtMs), turned: kind },
  }));
  return [
    ...(met ?? [])
      .toSorted((a, b) => compare(a.code, b.code))
      .map((each) => ({ kind: 'inherited' as const, ...each })),
    ...together(raw),
    ...measures.toSorted((a, b) => b.percent - a.percent),
    ...turns.toSorted((a, b) => compare(a.turned, b.turned)),
  ]
    .filter(within)
    .sort((a, b) => a.atMs - b.atMs);
}

/** What went in at one instant went in together, named in a fixed order. */
function together(additions: readonly { atMs: number; what: string }[]): Happening[] {
  const whats = new Map<number, string[]>();
  for (const { atMs, what } of additions) {
    const others = whats.get(atMs);
    if (others === undefined) whats.set(atMs, [what]);
    else others.push(what);
  }
  return [...whats].map(([atMs, what]) => ({ kind: 'addition', atMs, what: what.toSorted() }));
}

const compare = (a: string, b: string): number => (a < b ? -1 : Number(a > b));
