import { formatMass, sumG } from '#libs/quantities';

/**
 * Mass kept out of disposal: accepted less what later went to landfill as residue (refused and pulled material is never
 * accepted). Below zero in a period in which more residue left for landfill than material came. Whole grams in and out.
 * Source: 14 CCR 18815.9(a), residuals sent to disposal are reported apart from what was received.
 */
export function divertedG(masses: { readonly acceptedG: number; readonly landfilledG: number }): number {
  return sumG([masses.acceptedG]) - sumG([masses.landfilledG]);
}

/**
 * Short tons with two decimals, as municipal reports in the United States print them, rounded half to even once. Give it
 * the exact total: printed rows need not add up to the printed total, and rounded rows must never be summed.
 */
export function printShortTons(massG: number): string {
  return formatMass(massG, 'short-ton', 2);
}
