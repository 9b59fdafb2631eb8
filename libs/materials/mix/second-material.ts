/** A material in the closed formulas for two of them. Moisture is of wet mass, carbon and nitrogen of dry matter. */
export interface WetAndDry {
  readonly moisturePercent: number;
  readonly carbonPercentDry: number;
  readonly nitrogenPercentDry: number;
}

/**
 * How much of a second material brings so much of a first to a moisture: Q2 = Q1 (G − M1) / (M2 − G). Source: Cornell
 * Composting, "Moisture Content" (compost.css.cornell.edu/calc): "the moisture goal must be between the moisture contents
 * of the two materials". With M2 = 100 it is the water to add. Throws RangeError where no amount does, and on bad input.
 */
export function secondForMoistureG(
  firstG: number,
  firstPercent: number,
  secondPercent: number,
  goalPercent: number,
): number {
  const percents = [firstPercent, secondPercent, goalPercent];
  if (!(firstG >= 0 && Number.isFinite(firstG)) || !percents.every((one) => one >= 0 && one <= 100))
    throw new RangeError(`cannot mix ${firstG} g at ${firstPercent} % with ${secondPercent} %`);
  if (firstPercent === goalPercent) return 0;
  const secondG = (firstG * (goalPercent - firstPercent)) / (secondPercent - goalPercent);
  if (!(secondG >= 0 && Number.isFinite(secondG)))
    throw new RangeError(`${goalPercent} % does not lie between ${firstPercent} % and ${secondPercent} %`);
  return secondG;
}

/** The water that brings so much of a material to a moisture. Throws RangeError where it is wetter already, or for 100 %. */
export function waterForMoistureG(firstG: number, firstPercent: number, goalPercent: number): number {
  return secondForMoistureG(firstG, firstPercent, 100, goalPercent);
}

/**
 * How much of a second material brings so much of a first to a C:N:
 * Q2 = Q1 (R·N1 − C1)(100 − M1) / [(C2 − R·N2)(100 − M2)], which is Cornell's formula ("C/N Ratio",
 * compost.css.cornell.edu/calc/cn_ratio.html) told in masses of carbon, so that a second material without nitrogen will do.
 * Throws RangeError where no amount does, and on bad input.
 */
export function secondForCarbonToNitrogenG(
  firstG: number,
  first: WetAndDry,
  second: WetAndDry,
  goal: number,
): number {
  const percents = [first, second].flatMap((one) => Object.values(one) as number[]);
  const possible = percents.every((one) => one >= 0 && one <= 100) && firstG >= 0 && goal > 0;
  if (!possible || !Number.isFinite(firstG) || !Number.isFinite(goal))
    throw new RangeError(`cannot mix ${firstG} g for a C:N of ${goal}`);
  const shortOfCarbon = firstG * excess(first, goal) * -1;
  if (shortOfCarbon === 0) return 0;
  const secondG = shortOfCarbon / excess(second, goal);
  if (!(secondG >= 0 && Number.isFinite(secondG)))
    throw new RangeError(`a C:N of ${goal} does not lie between those of the two materials`);
  return secondG;
}

/** Carbon beyond what goes with the nitrogen at that ratio, in per cent of the wet mass. */
function excess({ carbonPercentDry, nitrogenPercentDry, moisturePercent }: WetAndDry, goal: number): number {
  return (carbonPercentDry - goal * nitrogenPercentDry) * (1 - moisturePercent / 100);
}
