import { wholeMs } from '../calendar.js';
import type { CureFacts } from './cure-facts.js';
import type { Check } from '../facts.js';
import { boilingDeciC } from '../reading/moments.js';
import type { Span } from '../verdict.js';

/** One way to look at a batch, by hand or by a logger: columns of equal length, in order of time. */
export interface Looks {
  readonly logger: string | null;
  readonly atMs: ArrayLike<number>;
  /** The hottest probe, at any depth; -Infinity where none says anything. */
  readonly hottestDeciC: ArrayLike<number>;
  readonly checkId: (index: number) => string | null;
}

/** Looks in a row that all found the batch at or above the level. */
export interface HotRun extends Span {
  readonly hottestDeciC: number;
  readonly checkId: string | null;
  readonly logger: string | null;
  /** The look before it had found the batch cooler: it heated again, and was not only still hot. */
  readonly again: boolean;
}

/** Every way in which the batch was looked at, one of checks and one for each logger. */
export function looksOf({ checks, series = [] }: CureFacts): Looks[] {
  const byHand = checks.map(byTheHottest).toSorted((a, b) => a.atMs - b.atMs || a.deciC - b.deciC);
  return [
    {
      logger: null,
      atMs: byHand.map(({ atMs }) => atMs),
      hottestDeciC: byHand.map(({ deciC }) => deciC),
      checkId: (index) => byHand[index]?.id ?? null,
    },
    ...series.map(({ logger, atMs, highDeciC }) => ({
      ...{ logger, atMs, hottestDeciC: highDeciC },
      checkId: () => null,
    })),
  ];
}

/** A probe hotter than boiling water was misread: it says nothing here either. */
function byTheHottest({ id, occurredAtMs, readings }: Check) {
  const heard = readings.filter(({ temperatureDeciC }) => temperatureDeciC <= boilingDeciC);
  const deciC = Math.max(...heard.map(({ temperatureDeciC }) => temperatureDeciC));
  return { id, atMs: wholeMs(occurredAtMs), deciC };
}

/** Calls `visit` with each look after `fromMs`, up to and with `toMs`, that says anything. */
export function eachLook(
  { atMs, hottestDeciC }: Looks,
  fromMs: number,
  toMs: number,
  visit: (atMs: number, deciC: number, index: number) => void,
): void {
  for (let index = 0; index < atMs.length; index += 1) {
    const at = atMs[index] ?? Infinity;
    const deciC = hottestDeciC[index] ?? -Infinity;
    if (at > fromMs && at <= toMs && deciC > -Infinity) visit(at, deciC, index);
  }
}

/** The hot runs of all looks after the cure began, in order of time; those that overlap are one. */
export function hotRunsOf(
  allLooks: readonly Looks[],
  reheatDeciC: number | null,
  began: number,
  now: number,
): HotRun[] {
  if (reheatDeciC === null) return [];
  const runs = allLooks.flatMap((looks) => runsIn(looks, reheatDeciC, began, now));
  const joined: HotRun[] = [];
  for (const run of runs.toSorted((a, b) => a.fromMs - b.fromMs)) {
    const last = joined.at(-1);
    if (last && run.fromMs <= last.toMs) joined[joined.length - 1] = join(last, run);
    else joined.push(run);
  }
  return joined;
}

function runsIn(looks: Looks, level: number, began: number, now: number): HotRun[] {
  const runs: HotRun[] = [];
  let before: 'cool' | 'hot' | null = null;
  eachLook(looks, -Infinity, now, (atMs, deciC, index) => {
    const hot = deciC >= level;
    if (hot && atMs > began) {
      const run = { fromMs: atMs, toMs: atMs, hottestDeciC: deciC, checkId: looks.checkId(index) };
      const found = { ...run, logger: looks.logger, again: before === 'cool' };
      const last = before === 'hot' ? runs.at(-1) : undefined;
      if (last) runs[runs.length - 1] = join(last, found);
      else runs.push(found);
    }
    before = hot ? 'hot' : 'cool';
  });
  return runs;
}

function join(a: HotRun, b: HotRun): HotRun {
  const hotter = b.hottestDeciC > a.hottestDeciC ? b : a;
  return { ...hotter, fromMs: a.fromMs, toMs: Math.max(a.toMs, b.toMs), again: a.again };
}
