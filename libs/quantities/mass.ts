import { Exact, exactAmountOf, requireStored, requireWhole, wholeOf } from './exact.js';

export const massUnits = ['g', 'kg', 'lb', 'oz', 't', 'short-ton'] as const;
export type MassUnit = (typeof massUnits)[number];

/** A mass as a person entered it. `t` is the metric tonne; `lb` and `oz` are avoirdupois; `short-ton` is 2 000 lb. */
export interface Mass {
  readonly value: number;
  readonly unit: MassUnit;
}

/** Exact by definition. Source: NIST Handbook 44, Appendix C (avoirdupois pound 453.592 37 g, short ton 907.184 74 kg). */
const gramsIn: Readonly<Record<MassUnit, Exact>> = {
  g: new Exact(1),
  kg: new Exact(1000),
  lb: new Exact('453.59237'),
  oz: new Exact('28.349523125'),
  t: new Exact(1_000_000),
  'short-ton': new Exact('907184.74'),
};

/** Whole grams, rounded half to even once. Throws RangeError when not finite, negative, or too large to be exact. */
export function massToG(mass: Mass): number {
  return wholeOf(exactAmountOf(mass.value, 'mass').times(gramsIn[mass.unit]), 'mass');
}

/** Grams unrounded, for what is not a stored amount: the division of a scale. Throws RangeError when not finite or negative. */
export function gramsUnrounded(mass: Mass): number {
  return exactAmountOf(mass.value, 'mass').times(gramsIn[mass.unit]).toNumber();
}

/**
 * Whether a scale of this division can have shown this mass: a whole number of divisions, in the exact decimals that
 * were typed, across units too. Throws RangeError when either is not finite or negative.
 */
export function isWholeDivisions(mass: Mass, division: Mass): boolean {
  const grams = ({ value, unit }: Mass) => exactAmountOf(value, 'mass').times(gramsIn[unit]);
  return grams(mass).modulo(grams(division)).isZero();
}

/** Whole grams in another unit, for display: the nearest JS number. A difference may be below zero. Throws RangeError unless whole. */
export function gToUnit(massG: number, unit: MassUnit): number {
  return new Exact(requireWhole(massG, 'massG')).dividedBy(gramsIn[unit]).toNumber();
}

/** Whole grams as kilograms; a difference may be below zero. Throws RangeError unless `massG` is whole. */
export function kgOf(massG: number): number {
  return requireWhole(massG, 'massG') / 1000;
}

/** Whole grams printed in a unit with fixed decimals, rounded half to even from the exact value: 1 234 g in kg, 2 → "1.23". */
export function formatMass(massG: number, unit: MassUnit, decimals: number): string {
  const exact = new Exact(requireWhole(massG, 'massG')).dividedBy(gramsIn[unit]);
  return exact.toDecimalPlaces(decimals).toFixed(decimals); // rounded first, so that a small negative is not "-0.00"
}

/** The exact sum of stored masses. Throws RangeError when one is not whole and ≥ 0, or the sum is too large to be exact. */
export function sumG(massesG: Iterable<number>): number {
  let total = 0;
  for (const massG of massesG) total = requireStored(total + requireStored(massG, 'massG'), 'sum of masses');
  return total;
}
