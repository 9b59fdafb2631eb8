import type { Interval } from './figures.js';
import type { Choice, Term } from './terms.js';

/**
 * The exact least and greatest of Σ above / Σ below, where each material may choose any of its corners.
 *
 * Trying every combination takes 2ⁿ steps and more; the extreme of a ratio of sums needs few (W. Dinkelbach, "On nonlinear
 * fractional programming", Management Science 13 (1967) 492–498, from memory). Ask of a ratio λ that can be had: does any
 * choice make Σ above − λ·Σ below greater than 0? That is a sum, so each material answers for itself. If so, that choice has
 * a greater ratio, and is asked next; if not, nothing exceeds λ, and λ is the greatest. Each ratio is of some choice and
 * exceeds the one before, and choices are finitely many: it ends, on an extreme that is attained.
 *
 * `from` is a ratio that can be had, to begin with. Above it may be without end (Infinity), where nothing need be below.
 */
export function rangeOf(terms: readonly Term[], from: number): Interval {
  const upside = terms.map(({ corners }) => corners);
  const downside = upside.map((corners) => corners.map(([above, below]): Choice => [-above, below]));
  return { min: 0 - greatest(downside, -from), max: greatest(upside, from) }; // 0 −, or the least could be −0
}

function greatest(options: readonly (readonly Choice[])[], from: number): number {
  let ratio = from;
  for (;;) {
    const chosen = options.map((choices) => best(choices, ratio));
    const above = sum(chosen.map(([part]) => part));
    const below = sum(chosen.map(([, part]) => part));
    if (below <= 0) return above > 0 ? Infinity : ratio;
    if (!(above / below > ratio)) return ratio;
    ratio = above / below;
  }
}

function best(choices: readonly Choice[], ratio: number): Choice {
  const gain = ([above, below]: Choice): number => above - ratio * below;
  return choices.reduce((one, other) => (gain(other) > gain(one) ? other : one));
}

export function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}
