import type { Random } from './random.js';

/** How a batch fares: most do well, and some teach something. */
export type Course = 'good' | 'never-heats' | 'interrupted' | 'contaminated' | 'stalls-dry' | 'ammonia';

const PROBES = [
  { position: 'north end', zone: 'edge', offC: -1 },
  { position: 'middle', zone: 'core', offC: 2 },
  { position: 'south end', zone: 'edge', offC: -1 },
] as const;

const STALLS_ON_DAY = 9;

export const fahrenheit = (celsius: number): number => Math.round(celsius * 1.8 + 32);

/** Core temperature that a pile of this course would show `day` days after it was finished, °C. */
export function coreC(course: Course, day: number, ambientC: number): number {
  if (course === 'never-heats') return ambientC + 12 * Math.exp(-((day - 5) ** 2) / 40) + 4;
  if (course === 'ammonia') return ambientC + (52 - ambientC) * (1 - Math.exp(-day / 4));
  const warmUp = 1 - Math.exp(-day / 1.4);
  const decline = day > 22 ? Math.exp(-(day - 22) / 8) : 1;
  const rise = (63 - ambientC) * warmUp * decline;
  if (course === 'stalls-dry' && day > STALLS_ON_DAY) {
    return ambientC + rise * Math.exp(-(day - STALLS_ON_DAY) / 4);
  }
  // A frozen stand pipe and no turn: the pile falls asleep in the second week and is woken too late.
  const asleep = course === 'interrupted' && day >= 8 && day <= 13 ? 19 : 0;
  return ambientC + rise - asleep;
}

export interface Reading {
  position: string;
  zone: string;
  depth: { value: number; unit: 'in' };
  temperature: { value: number; unit: 'F' };
}

/** Readings of one round with the long probe. The ends of a windrow are cooler than its middle. */
export function readings(course: Course, day: number, ambientC: number, random: Random): Reading[] {
  const core = coreC(course, day, ambientC);
  return PROBES.map(({ position, zone, offC }) => ({
    ...{ position, zone, depth: { value: 18, unit: 'in' } },
    temperature: { value: fahrenheit(Math.max(core + offC + random.normal(0, 0.9), -10)), unit: 'F' },
  }));
}

export type Felt = 'dry' | 'moist' | 'wet';

export function moistureFelt(course: Course, day: number, random: Random): Felt {
  if (course === 'never-heats') return random.chance(0.7) ? 'dry' : 'moist';
  if (course === 'interrupted' && day >= 6 && day <= 14) return 'dry';
  if (course === 'stalls-dry' && day > STALLS_ON_DAY - 3) return 'dry';
  return random.chance(0.85) ? 'moist' : random.pick(['dry', 'wet'] as const);
}

/** What an oven and a kitchen scale make of it, percent of the whole mass. */
export function moistureMeasured(felt: Felt, random: Random): number {
  if (felt === 'dry') return random.whole(31, 36);
  return felt === 'wet' ? random.whole(61, 64) : random.whole(47, 57);
}

export function odourOf(course: Course, day: number, random: Random): 'earthy' | 'ammonia' | 'sour' | 'none' {
  if (course === 'ammonia') return 'ammonia';
  if (day < 10 && course !== 'never-heats') return random.chance(0.3) ? 'ammonia' : 'none';
  return day < 40 && random.chance(0.05) ? 'sour' : 'earthy';
}
