import { Exact, exactAmountOf, requireStored, wholeOf } from './exact.js';

export const volumeUnits = ['L', 'gal', 'ft3', 'yd3', 'm3'] as const;
export type VolumeUnit = (typeof volumeUnits)[number];

/** A volume as a person entered it. `gal` is the US liquid gallon. */
export interface Volume {
  readonly value: number;
  readonly unit: VolumeUnit;
}

/** Exact by definition. Source: NIST Handbook 44, Appendix C (gallon 231 in³, foot 0.304 8 m, yard 0.914 4 m). */
const millilitresIn: Readonly<Record<VolumeUnit, Exact>> = {
  L: new Exact(1000),
  gal: new Exact('3785.411784'),
  ft3: new Exact('28316.846592'),
  yd3: new Exact('764554.857984'),
  m3: new Exact(1_000_000),
};

/** Millilitres, before any rounding. Throws RangeError when not finite or negative. */
export const exactMl = ({ value, unit }: Volume): Exact =>
  exactAmountOf(value, 'volume').times(millilitresIn[unit]);

/** Whole millilitres, rounded half to even once. Throws RangeError when not finite, negative, or too large to be exact. */
export function volumeToMl(volume: Volume): number {
  return wholeOf(exactMl(volume), 'volume');
}

/** Whole millilitres in another unit, for display. Throws RangeError unless `volumeMl` is whole and ≥ 0. */
export function mlToUnit(volumeMl: number, unit: VolumeUnit): number {
  return new Exact(requireStored(volumeMl, 'volumeMl')).dividedBy(millilitresIn[unit]).toNumber();
}

/** Whole millilitres as litres. Throws RangeError unless `volumeMl` is whole and ≥ 0. */
export function litresOf(volumeMl: number): number {
  return requireStored(volumeMl, 'volumeMl') / 1000;
}

/**
 * Mass in whole grams of a volume at a bulk density (1 kg/m³ = 1 g/L). It is an estimate: bulk density varies with
 * moisture, chopping and how the container was filled. Throws RangeError on a density or volume below zero or too large.
 */
export function estimateMassG(volumeMl: number, densityKgM3: number): number {
  const density = exactAmountOf(densityKgM3, 'densityKgM3');
  return wholeOf(density.times(requireStored(volumeMl, 'volumeMl')).dividedBy(1000), 'estimated mass');
}
