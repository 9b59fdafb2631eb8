import type { LoggerHours, ProbeHour } from '#libs/process';

export const timeZone = 'America/Denver';
/** Midnight at the yard, before the clocks are put forward on 10 March. */
export const startMs = Date.parse('2024-03-04T00:00-07:00');
export const HOUR_MS = 3_600_000;

/** One hour of a probe that shows the figures given. */
export function hour(probe: string, hours: number, minDeciC: number, maxDeciC = minDeciC): ProbeHour {
  const atMs = startMs + hours * HOUR_MS;
  return { probe, atMs, readings: 4, minDeciC, maxDeciC, meanDeciC: (minDeciC + maxDeciC) / 2 };
}

export const logger = (...hours: readonly ProbeHour[]): LoggerHours => ({ logger: 'L-2', hours });

/** Figures from 0 (included) to 1, the same for the same seed. */
export function chance(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/**
 * A pile as one might be: all of it warms and cools by degrees a day, every place has its own level and wanders about it, and
 * the probes show steps of `stepDeciC`.
 */
export function plausiblePile(seed: number, { days = 12, probes = 4, stepDeciC = 1 } = {}): LoggerHours {
  const next = chance(seed);
  const about = (spread: number) => (next() * 2 - 1) * spread;
  const round = (deciC: number) => Math.round(deciC / stepDeciC) * stepDeciC;
  const places = Array.from({ length: probes }, (_, index) => ({
    probe: `core-${index + 1}`,
    levelDeciC: about(80),
    wanderDeciC: about(3),
  }));
  const [swingDeciC, phase] = [30 + next() * 40, next() * 6];
  const hours: ProbeHour[] = [];
  for (let passed = 0; passed < days * 24; passed += 1) {
    const commonDeciC = 580 + swingDeciC * Math.sin(phase + passed / 30) + about(1);
    for (const place of places) {
      place.wanderDeciC = 0.9 * place.wanderDeciC + about(3);
      const deciC = commonDeciC + place.levelDeciC + place.wanderDeciC;
      hours.push(hour(place.probe, passed, round(deciC - next()), round(deciC + next())));
    }
  }
  return logger(...hours);
}
