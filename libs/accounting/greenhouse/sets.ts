import { ipcc2006Ar4, ipcc2006Ar5, ipcc2006Ar6 } from './ipcc.js';
import type { GreenhouseSet } from './set.js';
import { warm15, warm16 } from './warm.js';

export const greenhouseSetCodes = [
  'us-epa-warm-15',
  'us-epa-warm-16',
  'ipcc-2006-ar4',
  'ipcc-2006-ar5',
  'ipcc-2006-ar6',
] as const;
export type GreenhouseSetCode = (typeof greenhouseSetCodes)[number];

/** Every set there is, in the order of `greenhouseSetCodes`. A set never changes: another edition has another code. */
export const greenhouseSets: readonly GreenhouseSet[] = [
  warm15,
  warm16,
  ipcc2006Ar4,
  ipcc2006Ar5,
  ipcc2006Ar6,
];

/** Throws RangeError when there is no such set. */
export function greenhouseSet(code: string): GreenhouseSet {
  const set = greenhouseSets.find((known) => known.code === code);
  if (!set) throw new RangeError(`no set of greenhouse factors is called ${code}`);
  return set;
}
