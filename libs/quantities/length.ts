import { Exact, exactAmountOf, requireStored, wholeOf } from './exact.js';

export const lengthUnits = ['cm', 'in', 'm', 'ft'] as const;
export type LengthUnit = (typeof lengthUnits)[number];

/** A length as a person entered it: a probe's depth, a pile's height. */
export interface Length {
  readonly value: number;
  readonly unit: LengthUnit;
}

/** Exact by definition. Source: NIST Handbook 44, Appendix C (international inch 2.54 cm). */
const millimetresIn: Readonly<Record<LengthUnit, Exact>> = {
  cm: new Exact(10),
  in: new Exact('25.4'),
  m: new Exact(1000),
  ft: new Exact('304.8'),
};

/** Millimetres, before any rounding. Throws RangeError when not finite or negative. */
export const exactMm = ({ value, unit }: Length): Exact =>
  exactAmountOf(value, 'length').times(millimetresIn[unit]);

/** Whole millimetres, rounded half to even once. Throws RangeError when not finite, negative, or too large to be exact. */
export function lengthToMm(length: Length): number {
  return wholeOf(exactMm(length), 'length');
}

/** Whole millimetres in another unit, for display. Throws RangeError unless `lengthMm` is whole and ≥ 0. */
export function mmToUnit(lengthMm: number, unit: LengthUnit): number {
  return new Exact(requireStored(lengthMm, 'lengthMm')).dividedBy(millimetresIn[unit]).toNumber();
}

/** Whole micrometres in another unit, for display: what lies thinner than millimetres tell. Throws as `mmToUnit` does. */
export function umToUnit(lengthUm: number, unit: LengthUnit): number {
  return new Exact(requireStored(lengthUm, 'lengthUm')).dividedBy(millimetresIn[unit].times(1000)).toNumber();
}
