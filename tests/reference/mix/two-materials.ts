/**
 * The closed formulas for so much of a first material and a second, which what is blended and what is solved must come to.
 * Source: Cornell Composting, "Moisture Content" and "C/N Ratio" (compost.css.cornell.edu/calc): read there or on a copy are
 * the definitions and, of moisture, a substitution; the forms below are derived from them.
 */
export interface WetAndDry {
  readonly moisturePercent: number;
  readonly carbonPercentDry: number;
  readonly nitrogenPercentDry: number;
}

/** Q2 = Q1 (G − M1) / (M2 − G), for a goal between the two moistures. */
export function secondForMoistureG(firstG: number, first: number, second: number, goal: number): number {
  return (firstG * (goal - first)) / (second - goal);
}

/** The same with M2 = 100. */
export function waterForMoistureG(firstG: number, first: number, goal: number): number {
  return secondForMoistureG(firstG, first, 100, goal);
}

/**
 * Q2 = Q1 N1 (R − C1/N1)(100 − M1) / [N2 (C2/N2 − R)(100 − M2)], in masses of carbon, so that a second material without
 * nitrogen will do.
 */
export function secondForCarbonToNitrogenG(
  firstG: number,
  first: WetAndDry,
  second: WetAndDry,
  goal: number,
): number {
  return (-firstG * excess(first, goal)) / excess(second, goal);
}

/** Carbon beyond what goes with the nitrogen at that ratio, in per cent of the wet mass. */
function excess({ carbonPercentDry, nitrogenPercentDry, moisturePercent }: WetAndDry, goal: number): number {
  return (carbonPercentDry - goal * nitrogenPercentDry) * (1 - moisturePercent / 100);
}
