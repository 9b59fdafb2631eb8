import {
  celsiusOf,
  lengthToMm,
  type Temperature,
  type TemperatureUnit,
  temperatureToDeciC,
} from '#libs/quantities';
import { type Fault, invalid, Problem } from '../http/problems/catalogue.js';
import type { NewCheckDto, NewReadingDto } from './checks.dto.js';

/** A probe's reading as it is kept. */
export interface Reading {
  position: string;
  /** The place of the pile it stands for; null where the position is a place of its own. */
  zone: string | null;
  depthMm: number | null;
  temperatureDeciC: number;
  instrumentId: string | null;
}

/**
 * No open pile freezes deeper, and no probe for piles that we know of shows more (both from memory). A pile that
 * smoulders is hotter than boiling water: that is warned of, and kept.
 */
const PILE_DECI_C = { least: -400, most: 1500 };
/** A little more than the coldest and the hottest air ever measured where people live (from memory). */
const AIR_DECI_C = { least: -600, most: 600 };
const DEEPEST_MM = 10_000;

export function readingsOf({ readings }: NewCheckDto): Reading[] {
  requireOncePerPlace(readings);
  return readings.map(({ position, zone = null, depth, temperature, instrumentId }, index) => ({
    ...{ position, zone },
    depthMm: depth ? depthOf(lengthToMm(depth), `/readings/${index}/depth`) : null,
    temperatureDeciC: deciCOf(temperature, PILE_DECI_C, `/readings/${index}/temperature`),
    instrumentId: instrumentId?.toLowerCase() ?? null,
  }));
}

export function ambientOf({ ambient }: NewCheckDto): number | null {
  return ambient ? deciCOf(ambient, AIR_DECI_C, '/ambient') : null;
}

/** One thermometer, one scale: °C and °F in one check is a slip, and which of them it is nobody can tell later. */
export function requireOneUnit({ readings, ambient }: NewCheckDto): void {
  const units: [TemperatureUnit, string][] = readings.map(({ temperature }, index) => [
    temperature.unit,
    `/readings/${index}/temperature/unit`,
  ]);
  if (ambient) units.push([ambient.unit, '/ambient/unit']);
  const first = units[0]?.[0];
  const faults: Fault[] = units
    .filter(([unit]) => unit !== first)
    .map(([unit, pointer]) => ({ pointer, detail: `is ${unit} where the check began in ${first ?? ''}` }));
  if (faults.length > 0) {
    throw new Problem('invalid', 'Temperatures of one check are all in C or all in F.', faults);
  }
}

/** The same probe told twice would count as two. */
function requireOncePerPlace(readings: readonly NewReadingDto[]): void {
  const places = new Set<string>();
  for (const [index, { position, depth }] of readings.entries()) {
    const place = JSON.stringify([position, depth ? lengthToMm(depth) : null]);
    if (places.has(place)) {
      throw invalid(
        `/readings/${index}/position`,
        'was told before; name the probes apart, as core-1, core-2',
      );
    }
    places.add(place);
  }
}

function depthOf(depthMm: number, pointer: string): number {
  if (depthMm > DEEPEST_MM) throw invalid(pointer, 'is deeper than any pile; is the unit right?');
  return depthMm;
}

function deciCOf(entered: Temperature, range: { least: number; most: number }, pointer: string): number {
  const deciC = temperatureToDeciC(entered);
  if (deciC >= range.least && deciC <= range.most) return deciC;
  const side = deciC > range.most ? 'hotter' : 'colder';
  const typed = `${entered.value} ${entered.unit}${entered.unit === 'F' ? ` (${celsiusOf(deciC)} C)` : ''}`;
  throw invalid(pointer, `${typed} is ${side} than can be; is the unit right?`);
}
