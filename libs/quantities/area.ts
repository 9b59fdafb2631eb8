import { Exact, exactAmountOf, requireStored, wholeOf } from './exact.js';

export const areaUnits = ['m2', 'ft2', 'acre', 'ha'] as const;
export type AreaUnit = (typeof areaUnits)[number];

/** An area as a person entered it: a bed, a lawn, a field. `acre` is 43 560 square feet. */
export interface Area {
  readonly value: number;
  readonly unit: AreaUnit;
}

/** Exact by definition. Source: NIST Handbook 44, Appendix C (foot 0.304 8 m, acre 43 560 ft², hectare 10 000 m²). */
const squareMillimetresIn: Readonly<Record<AreaUnit, Exact>> = {
  m2: new Exact(1_000_000),
  ft2: new Exact('92903.04'),
  acre: new Exact('4046856422.4'),
  ha: new Exact(10_000_000_000),
};

/** Square millimetres, before any rounding. Throws RangeError when not finite or negative. */
export const exactMm2 = ({ value, unit }: Area): Exact =>
  exactAmountOf(value, 'area').times(squareMillimetresIn[unit]);

/** Whole square millimetres, rounded half to even once. Throws RangeError when not finite, negative, or too large to be exact. */
export function areaToMm2(area: Area): number {
  return wholeOf(exactMm2(area), 'area');
}

/** Whole square millimetres in another unit, for display. Throws RangeError unless `areaMm2` is whole and ≥ 0. */
export function mm2ToUnit(areaMm2: number, unit: AreaUnit): number {
  return new Exact(requireStored(areaMm2, 'areaMm2')).dividedBy(squareMillimetresIn[unit]).toNumber();
}
