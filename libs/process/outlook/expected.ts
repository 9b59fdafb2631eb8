import type { Expected } from './facts.js';

/** Nothing that time alone brings about. */
export const never = (text: string): Expected => ({ earliestMs: null, latestMs: null, assumptions: [text] });

/** When both are there: the later of the two ends, open where one of them is. */
export function bothOf(a: Expected, b: Expected): Expected {
  return {
    earliestMs: laterOf(a.earliestMs, b.earliestMs),
    latestMs: laterOf(a.latestMs, b.latestMs),
    assumptions: [...a.assumptions, ...b.assumptions],
  };
}

function laterOf(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : Math.max(a, b);
}
