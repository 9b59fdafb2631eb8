import type { Random } from './random.js';

/** How a batch fares: most do well, and some teach something. */
export type Course = 'good' | 'never-heats' | 'interrupted' | 'contaminated';

const PROBES = ['north end', 'middle', 'south end'] as const;

const fahrenheit = (celsius: number) => Math.round(celsius * 1.8 + 32);

/** Core temperature that a pile of this course would show `day` days after it was finished, °C. */
function coreC(course: Course, day: number, ambientC: number): number {
  if (course === 'never-heats') return ambientC + 12 * Math.exp(-((day - 5) ** 2) / 40) + 4;
  const warmUp = 1 - Math.exp(-day / 1.4);
  const decline = day > 24 ? Math.exp(-(day - 24) / 14) : 1;
  const rise = (63 - ambientC) * warmUp * decline;
  // A frozen stand pipe and no turn: the pile falls asleep in the second week and is woken too late.
  const asleep = course === 'interrupted' && day >= 8 && day <= 13 ? 19 : 0;
  return ambientC + rise - asleep;
}

export interface Reading {
  position: string;
  depth: { value: number; unit: 'in' };
  temperature: { value: number; unit: 'F' };
}

/** Readings of one round with the long probe. The ends of a windrow are cooler than its middle. */
export function readings(course: Course, day: number, ambientC: number, random: Random): Reading[] {
  const core = coreC(course, day, ambientC);
  return PROBES.map((position, index) => ({
    position,
    depth: { value: 18, unit: 'in' },
    temperature: {
      value: fahrenheit(Math.max(core + (index === 1 ? 2 : -1) + random.normal(0, 0.9), -10)),
      unit: 'F',
    },
  }));
}

export function moistureFelt(course: Course, day: number, random: Random): 'dry' | 'moist' | 'wet' {
  if (course === 'never-heats') return random.chance(0.7) ? 'dry' : 'moist';
  if (course === 'interrupted' && day >= 6 && day <= 14) return 'dry';
  return random.chance(0.85) ? 'moist' : random.pick(['dry', 'wet'] as const);
}

export function odourOf(course: Course, day: number, random: Random): 'earthy' | 'ammonia' | 'sour' | 'none' {
  if (day < 10 && course !== 'never-heats') return random.chance(0.3) ? 'ammonia' : 'none';
  return random.chance(0.05) ? 'sour' : 'earthy';
}
