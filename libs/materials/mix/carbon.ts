import type { Span } from './span.js';

/** Carbon of volatile solids: "between 45 to 60 percent", taken as 55 where nothing better is known. */
const CARBON_OF_ORGANIC_MATTER = { typical: 1 / 1.8, min: 0.45, max: 0.6 } as const;

/** No more of the dry matter than this can be carbon: all of it volatile, at the upper end above. */
export const MOST_CARBON_PERCENT = 60;

/**
 * Carbon in per cent of dry matter, from its ash: (100 − ash) / 1.8. Source of the formula and of the range above:
 * Cornell Composting, "Determining the Carbon Content" (compost.css.cornell.edu/calc/carbon.html), after Adams et al. 1951;
 * within 2 to 10 % of a measured value (Gotaas 1956, as told by Polprasert, Organic Waste Recycling, section 3).
 * Throws RangeError unless 0 ≤ ash ≤ 100.
 */
export function carbonPercentFromAsh(ashPercentDry: number): number {
  if (!(ashPercentDry >= 0 && ashPercentDry <= 100))
    throw new RangeError(`ash cannot be ${ashPercentDry} % of dry matter`);
  return (100 - ashPercentDry) * CARBON_OF_ORGANIC_MATTER.typical;
}

/** The same with its ends: of the ash, and of how much of the rest is carbon. */
export function carbonSpanFromAsh(ash: Span): Span {
  return {
    typical: carbonPercentFromAsh(ash.typical),
    min: (100 - ash.max) * CARBON_OF_ORGANIC_MATTER.min,
    max: (100 - ash.min) * CARBON_OF_ORGANIC_MATTER.max,
  };
}

/** The other way round, capped at all of the dry matter. */
export function organicSpanFromCarbon(carbon: Span): Span {
  const { typical, min, max } = CARBON_OF_ORGANIC_MATTER;
  return {
    typical: Math.min(100, carbon.typical / typical),
    min: Math.min(100, carbon.min / max),
    max: Math.min(100, carbon.max / min),
  };
}
