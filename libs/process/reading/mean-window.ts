import type { Level } from '../rule.js';
import { reaches } from './terms.js';

/**
 * The search for a window, as long as the rule's duration or longer, whose time-weighted mean is as high as the rule
 * asks, in one stretch. Between two checks the colder counts, so the mean is one the batch had at least.
 *
 * S(t) is the sum, since the stretch began, of (temperature - level) x time. The mean of a window from a to b is at or
 * above the level when S(b) is no lower than S(a); and where any start at or before b - duration will do, the best is
 * the one with the lowest S. So it is enough to know the lowest S up to b - duration, which only ever falls. `lows` is
 * that running minimum from there on to now, as the corners of a line that falls or stays.
 *
 * Plain data that survives JSON.
 */
export interface MeanWindow {
  readonly fromMs: number;
  /** As far as S is known, and S there in °C/10 x ms. */
  atMs: number;
  sum: number;
  /** The coldest since then, the check then included. */
  coldestDeciC: number;
  lows: Corner[];
  /** How many of them lie behind every window that is still to come. */
  passed: number;
  metAtMs: number | null;
  meanDeciC: number | null;
}

type Corner = [atMs: number, sum: number];

export function beginMean(atMs: number, deciC: number): MeanWindow {
  return {
    ...{ fromMs: atMs, atMs, sum: 0, coldestDeciC: deciC },
    ...{ lows: [[atMs, 0]], passed: 0, metAtMs: null, meanDeciC: null },
  };
}

/** Reads on to the next check that held. Changes the window and hands it back. */
export function extendMean(
  window: MeanWindow,
  atMs: number,
  deciC: number,
  level: Level,
  durationMs: number,
): MeanWindow {
  const from = window.atMs;
  const slope = Math.min(window.coldestDeciC, deciC) - level.thresholdDeciC;
  const sum = window.sum + slope * (atMs - from);
  if (window.metAtMs === null) {
    fallTo(window, atMs, sum, slope);
    window.metAtMs = search(window, atMs, slope, { level, durationMs });
    if (window.metAtMs !== null) window.lows = [];
  }
  const meanDeciC = level.thresholdDeciC + sum / (atMs - window.fromMs);
  return Object.assign(window, { atMs, sum, coldestDeciC: deciC, meanDeciC });
}

/** Lets the running minimum follow S down from `window.atMs`; a line of the same slope as before is made longer. */
function fallTo({ lows, atMs, sum, passed }: MeanWindow, toMs: number, toSum: number, slope: number): void {
  const lowest = lows.at(-1)?.[1] ?? 0;
  if (toSum >= lowest) return;
  const leftMs = atMs + (lowest - sum) / slope;
  const [a, b] = lows.slice(-2);
  const straight =
    a !== undefined &&
    b !== undefined &&
    leftMs === b[0] &&
    lows.length - passed > 1 &&
    b[1] - a[1] === slope * (b[0] - a[0]);
  if (straight) lows.pop();
  else if (leftMs > (lows.at(-1)?.[0] ?? -Infinity)) lows.push([leftMs, lowest]);
  lows.push([toMs, toSum]);
}

/** The first end of a window that does, from `window.atMs` to `toMs`; in it S is a line of this slope. */
function search(
  window: MeanWindow,
  toMs: number,
  slope: number,
  { level, durationMs }: { level: Level; durationMs: number },
): number | null {
  const excessAt = (ms: number) =>
    window.sum + slope * (ms - window.atMs) - lowestAt(window, ms - durationMs);
  const isEnough = (excess: number) => reaches(excess, { thresholdDeciC: 0, strict: level.strict });
  let beginMs = Math.max(window.atMs, window.fromMs + durationMs);
  if (!(beginMs <= toMs)) return null;
  let begin = excessAt(beginMs);
  if (isEnough(begin)) return beginMs;
  for (;;) {
    const corner = window.lows[window.passed + 1];
    const endMs = Math.min(toMs, (corner?.[0] ?? Infinity) + durationMs);
    const end = excessAt(endMs);
    // Between two corners both lines are straight, and so is what lies between them.
    if (isEnough(end))
      return firstWhole(beginMs + ((endMs - beginMs) * -begin) / (end - begin), endMs, level);
    if (corner === undefined || corner[0] + durationMs > toMs) return null;
    pass(window);
    [beginMs, begin] = [endMs, end];
  }
}

/** The running minimum at an instant between the first corner not passed and the next one. */
function lowestAt({ lows, passed }: MeanWindow, ms: number): number {
  const [a, b] = [lows[passed], lows[passed + 1]];
  if (a === undefined) return 0;
  return b === undefined ? a[1] : a[1] + ((b[1] - a[1]) * (ms - a[0])) / (b[0] - a[0]);
}

/** Corners that were passed are dropped now and then: dropping each at once would move all the others every time. */
function pass(window: MeanWindow): void {
  window.passed += 1;
  if (window.passed < 1000) return;
  window.lows.splice(0, window.passed);
  window.passed = 0;
}

/** A window that just reaches the level ends there; one that is to be above it, a millisecond later. */
function firstWhole(ms: number, latestMs: number, { strict }: Level): number {
  return Math.min(strict ? Math.floor(ms) + 1 : Math.ceil(ms), latestMs);
}
