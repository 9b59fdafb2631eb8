import { hourMs } from './calendar.js';
import type { Moment } from './moments.js';
import type { HeatIntegral, TimeAbove } from './verdict.js';

const levelsDeciC = [400, 450, 500, 550, 600, 650];
const integralFloorDeciC = 500;
const shortestHoldingHours = 1 / 3;
const citation = '40 CFR 503.32(a)(3)(ii)(A)';

/** Time at or above each level, between checks no further apart than the gap. For information; no rule is applied. */
export function timeAbove(moments: readonly Moment[], longestGapMs: number): TimeAbove[] {
  return levelsDeciC.map((thresholdDeciC) => {
    let totalMs = 0;
    for (const [from, to] of heldPairs(moments, thresholdDeciC, longestGapMs)) totalMs += to.atMs - from.atMs;
    return { thresholdDeciC, hours: totalMs / hourMs };
  });
}

/**
 * Hours for which material at `deciC` must be held: D = 131,700,000 / 10^(0.14 t) days, t in °C, never under
 * 20 minutes; Infinity below 50 °C, where the equation does not apply.
 *
 * Source: 40 CFR 503.32(a)(3)(ii)(A), read in 15A NCAC 02T .1106 and 327 IAC 6.1-4-13, which repeat it.
 */
export function holdingHours(deciC: number): number {
  if (deciC < integralFloorDeciC) return Infinity;
  return Math.max((131_700_000 / 10 ** (0.014 * deciC)) * 24, shortestHoldingHours);
}

/**
 * Between two checks the colder one is used. The equation speaks of consecutive time, so a check below 50 °C or too
 * long a gap starts the sum anew. Null when no time can be summed.
 */
export function heatIntegral(moments: readonly Moment[], longestGapMs: number): HeatIntegral | null {
  let best: HeatIntegral | null = null;
  let sum: HeatIntegral = { fromMs: NaN, toMs: NaN, holdingTimes: 0, citation };
  for (const [from, to] of heldPairs(moments, integralFloorDeciC, longestGapMs)) {
    const share = (to.atMs - from.atMs) / hourMs / holdingHours(Math.min(from.lowDeciC, to.lowDeciC));
    const unbroken = sum.toMs === from.atMs;
    sum = unbroken
      ? { ...sum, toMs: to.atMs, holdingTimes: sum.holdingTimes + share }
      : { fromMs: from.atMs, toMs: to.atMs, holdingTimes: share, citation };
    if (best === null || sum.holdingTimes > best.holdingTimes) best = sum;
  }
  return best;
}

/** Neighbouring moments at or above a level. One without enough probes is passed over, unless it is below the level. */
function* heldPairs(
  moments: readonly Moment[],
  levelDeciC: number,
  longestGapMs: number,
): Generator<[from: Moment, to: Moment]> {
  let held: Moment | null = null;
  for (const moment of moments) {
    if (moment.lowDeciC < levelDeciC) {
      held = null;
    } else if (moment.lack === null) {
      if (held !== null && moment.atMs - held.atMs <= longestGapMs) yield [held, moment];
      held = moment;
    }
  }
}
