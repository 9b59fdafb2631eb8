import { hourMs } from '../calendar.js';
import type { Moment } from './moments.js';
import type { HeatIntegral, TimeAbove } from '../verdict.js';

const levelsDeciC = [400, 450, 500, 550, 600, 650];
const integralFloorDeciC = 500;
const shortestHoldingHours = 1 / 3;
const citation = '40 CFR 503.32(a)(3)(ii)(A)';

/** Time at a level, as far as it was read. A moment that is not enough is passed over, unless it is below the level. */
interface LevelTime {
  readonly thresholdDeciC: number;
  heldMs: number | null;
  totalMs: number;
}

interface Sum {
  fromMs: number;
  toMs: number;
  holdingTimes: number;
}

/** Heat in numbers, as far as it was read; for information, no rule is applied. Plain data that survives JSON. */
export interface Heat {
  levels: LevelTime[];
  heldMs: number | null;
  heldDeciC: number;
  sum: Sum | null;
  best: Sum | null;
}

export function newHeat(): Heat {
  const levels = levelsDeciC.map((thresholdDeciC) => ({ thresholdDeciC, heldMs: null, totalMs: 0 }));
  return { levels, heldMs: null, heldDeciC: 0, sum: null, best: null };
}

/** Reads on to the next moment. */
export function feel(heat: Heat, { atMs, lowDeciC, lack }: Moment, longestGapMs: number): void {
  for (const level of heat.levels) {
    if (lowDeciC < level.thresholdDeciC) {
      level.heldMs = null;
    } else if (lack === null) {
      if (level.heldMs !== null && atMs - level.heldMs <= longestGapMs) level.totalMs += atMs - level.heldMs;
      level.heldMs = atMs;
    }
  }
  integrate(heat, atMs, lowDeciC, lack === null, longestGapMs);
}

/** Time at or above each level, between checks no further apart than the gap. */
export function timeAbove({ levels }: Heat): TimeAbove[] {
  return levels.map(({ thresholdDeciC, totalMs }) => ({ thresholdDeciC, hours: totalMs / hourMs }));
}

/**
 * Between two checks the coldest that was read is used, by a check that does not count as well. The equation speaks of consecutive time, so a check below 50 °C or too
 * long a gap starts the sum anew. Null when no time can be summed.
 */
export function heatIntegral({ best }: Heat): HeatIntegral | null {
  return best && { ...best, citation };
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

function integrate(heat: Heat, atMs: number, deciC: number, enough: boolean, longestGapMs: number): void {
  if (deciC < integralFloorDeciC) {
    heat.heldMs = null;
    heat.sum = null;
  } else if (enough) {
    const fromMs = heat.heldMs;
    if (fromMs !== null && atMs - fromMs <= longestGapMs) {
      const share = (atMs - fromMs) / hourMs / holdingHours(Math.min(heat.heldDeciC, deciC));
      heat.sum = heat.sum ?? { fromMs, toMs: fromMs, holdingTimes: 0 };
      heat.sum.toMs = atMs;
      heat.sum.holdingTimes += share;
      if (heat.best === null || heat.sum.holdingTimes > heat.best.holdingTimes) heat.best = { ...heat.sum };
    } else {
      heat.sum = null;
    }
    heat.heldMs = atMs;
    heat.heldDeciC = deciC;
  } else {
    heat.heldDeciC = Math.min(heat.heldDeciC, deciC);
  }
}
