import { Temporal } from 'temporal-polyfill';
import { formatMass } from '#libs/quantities';
import type { MassUse } from './mass.js';
import type { VolumeUse } from './volume.js';

export const headroomWarnings = [
  'no-permit',
  'permit-ends',
  'yearly-mass',
  'weekly-mass',
  'stored-volume',
  'volume-unknown',
  'material-not-named',
] as const;

/** Something to see to before a limit is reached. */
export interface HeadroomWarning {
  readonly about: (typeof headroomWarnings)[number];
  readonly text: string;
}

/** From this share of a limit on it is told; our own choice. */
const WARN_FROM_SHARE = 0.8;
/** A permit takes weeks to be made out again; our own choice. */
const WARN_DAYS_BEFORE_END = 60;

export function massWarnings(about: 'yearly-mass' | 'weekly-mass', use: MassUse): HeadroomWarning[] {
  const { usedG, limitG, share, projectedG } = use;
  if (limitG === null || share === null) return [];
  const span = about === 'yearly-mass' ? 'year' : 'week';
  const of = `${kg(usedG)} of the ${kg(limitG)} that the permit allows in a ${span}`;
  if (usedG > limitG) return [{ about, text: `The limit is passed: ${of}.` }];
  const goesBeyond = projectedG !== null && projectedG > limitG;
  if (share < WARN_FROM_SHARE && !goesBeyond) return [];
  const ahead = goesBeyond
    ? ` If as much comes as lately, it will be ${kg(projectedG)} at the end of the ${span}: more than is allowed.`
    : '';
  return [{ about, text: `${percent(share)} is used: ${of}.${ahead}` }];
}

export function volumeWarnings({ usedMl, unknown, limitMl }: VolumeUse): HeadroomWarning[] {
  if (limitMl === null) return [];
  const share = usedMl / limitMl;
  const atLeast = unknown.length > 0 ? 'At least ' : '';
  const of = `${cubicMetres(usedMl)} of the ${cubicMetres(limitMl)} that the permit allows to be stored`;
  const told: HeadroomWarning[] = [];
  if (usedMl > limitMl) told.push({ about: 'stored-volume', text: `The limit is passed: ${of}.` });
  else if (share >= WARN_FROM_SHARE)
    told.push({ about: 'stored-volume', text: `${atLeast}${percent(share)} is used: ${of}.` });
  if (unknown.length > 0) {
    const text = `More lies there than ${cubicMetres(usedMl)}: the volume of ${unknown.join(', ')} is not known.`;
    told.push({ about: 'volume-unknown', text });
  }
  return told;
}

export interface PermitDays {
  readonly reference: string;
  /** Last local day; null while it is open-ended. */
  readonly validTo: string | null;
}

/** `followed`: another permit begins no later than the day after the last one of this. Throws RangeError on what is no day. */
export function permitWarnings(
  permit: PermitDays | null,
  today: string,
  followed: boolean,
): HeadroomWarning[] {
  if (!permit)
    return [{ about: 'no-permit', text: 'No permit is in force today, as far as is entered here.' }];
  if (permit.validTo === null || followed) return [];
  const days = Temporal.PlainDate.from(today).until(permit.validTo, { largestUnit: 'day' }).days;
  if (days > WARN_DAYS_BEFORE_END) return [];
  const left = days === 0 ? 'today' : days === 1 ? 'tomorrow' : `in ${days} days, on ${permit.validTo}`;
  const text = `The permit ${permit.reference} ends ${left}, and no other is entered that follows it.`;
  return [{ about: 'permit-ends', text }];
}

/** Of materials that were taken in and that the permit does not name; one that names none allows all. */
export function materialWarnings(
  takenIn: readonly { readonly name: string; readonly massG: number }[],
): HeadroomWarning[] {
  return takenIn.map(({ name, massG }) => ({
    about: 'material-not-named',
    text: `${name} was taken in (${kg(massG)}), which the permit does not name.`,
  }));
}

const kg = (massG: number) => `${formatMass(massG, 'kg', 0)} kg`;
/** Never more than is used. 0.29 * 100 is 28.999999999999996, which is no 28 %. */
const percent = (share: number) => `${Math.floor(Number((share * 100).toPrecision(12)))} %`;
/** Of less than one in litres: a tenth of a cubic metre is many buckets. */
const cubicMetres = (ml: number) => (ml < 1e6 ? `${Math.round(ml / 1e3)} L` : `${(ml / 1e6).toFixed(1)} m³`);
