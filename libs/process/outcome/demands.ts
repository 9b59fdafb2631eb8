import type { GrowingSpan, Stretch } from '../reading/course.js';
import type { Period } from '../reading/period.js';
import type { Terms } from '../reading/terms.js';
import type { Condition } from '../verdict.js';

/** What a rule asks besides time and turns, and since when it is there; the instant is null where it has none. */
export type Demand = Pick<Condition, 'key' | 'state'> & { readonly atMs: number | null };

/** What is known of a batch besides its checks and turns. */
export interface Circumstances {
  readonly measures: Period['measures'];
  readonly carbonToNitrogen: number | null;
}

/** What a rule asks besides, looked for in the stretches that are to count. */
export function demandsOf(stretches: readonly Stretch[], known: Circumstances, terms: Terms): Demand[] {
  const { peak, average, leastMoisturePercent, carbonToNitrogen } = terms;
  return [
    ...(peak === null ? [] : [shown('peak', peakAt(stretches, peak.ms, terms))]),
    ...(average === null ? [] : [shown('average', firstOf(stretches.map(({ meanAtMs }) => meanAtMs)))]),
    ...(leastMoisturePercent === null ? [] : [moistureOf(stretches, known, leastMoisturePercent)]),
    ...(carbonToNitrogen === null ? [] : [mixOf(known.carbonToNitrogen, carbonToNitrogen)]),
  ];
}

/** The first instant at which spans, taken one after the other, are so long; null while they are not. */
export function fulfilledAt(spans: Iterable<GrowingSpan>, ms: number): number | null {
  let missingMs = ms;
  for (const { fromMs, toMs } of spans) {
    if (toMs - fromMs >= missingMs) return fromMs + missingMs;
    missingMs -= toMs - fromMs;
  }
  return null;
}

/** Of a consecutive rule, in one unbroken run; otherwise added up. */
function peakAt(stretches: readonly Stretch[], ms: number, { reading }: Terms): number | null {
  const peaks = stretches.flatMap((stretch) => stretch.peaks);
  if (reading === 'cumulative') return fulfilledAt(peaks, ms);
  return firstOf(peaks.map((peak) => fulfilledAt([peak], ms)));
}

/**
 * Water is shown by a measure, at or above the least, inside the credited time. One as high from before the batch was hot
 * or from after it cooled tells nothing of that time: as long as there is no other, it is not known.
 */
function moistureOf(stretches: readonly Stretch[], { measures }: Circumstances, least: number): Demand {
  const within = ({ fromMs, toMs }: GrowingSpan, atMs: number) => fromMs <= atMs && atMs <= toMs;
  const tells = measures.some(
    ({ atMs, percent }) => percent < least || stretches.some((stretch) => within(stretch, atMs)),
  );
  if (!tells) return { key: 'moisture', state: 'unknown', atMs: null };
  const spans = stretches.flatMap((stretch) => stretch.spans);
  const inside = measures.find(
    ({ atMs, percent }) => percent >= least && spans.some((span) => within(span, atMs)),
  );
  return shown('moisture', inside?.atMs ?? null);
}

function mixOf(ratio: number | null, { least, most }: NonNullable<Terms['carbonToNitrogen']>): Demand {
  const key = 'carbon-to-nitrogen';
  if (ratio === null) return { key, state: 'unknown', atMs: null };
  return { key, state: least <= ratio && ratio <= most ? 'met' : 'unmet', atMs: null };
}

function shown(key: Demand['key'], atMs: number | null): Demand {
  return { key, state: atMs === null ? 'unmet' : 'met', atMs };
}

function firstOf(instants: readonly (number | null)[]): number | null {
  return instants.find((atMs) => atMs !== null) ?? null;
}
