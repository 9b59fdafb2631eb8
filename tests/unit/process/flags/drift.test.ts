import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { driftCautions, type LoggerHours } from '#libs/process';
import { hour, HOUR_MS, logger, plausiblePile, startMs, timeZone } from './pile.js';

/** Probes by the mean of each day, told at the noon of it. */
function pile(days: Record<string, readonly number[]>): LoggerHours {
  const noons = Object.entries(days).flatMap(([probe, means]) =>
    means.map((deciC, day) => hour(probe, day * 24 + 12, deciC)),
  );
  return logger(...noons);
}

const steady = (deciC: number, days = 8) => Array.from({ length: days }, () => deciC);
const leaving = (deciCADay: number, days = 7, from = 600) =>
  Array.from({ length: days }, (_, day) => from + day * deciCADay);
const fellows = { a: steady(610), b: steady(590), c: steady(560) };
const cautionsOf = (days: Record<string, readonly number[]>) => driftCautions([pile(days)], timeZone);

describe('a probe that goes away from its fellows', () => {
  it('is doubted after 7 days, each further off, and 5 °C', () => {
    // The middle of 610, 590 and 560 is 590: 1.0 °C off on the first day.
    expect(cautionsOf({ ...fellows, d: [...leaving(8), 600] })).toEqual([]);
    const cautions = cautionsOf({ ...fellows, d: [...leaving(9), 600] });
    expect(cautions).toEqual([
      {
        kind: 'drift',
        fromMs: startMs,
        // The clocks were put forward in that week.
        toMs: startMs + (7 * 24 - 1) * HOUR_MS,
        instrument: 'L-2',
        text:
          'L-2, probe d, 4 Mar 2024 to 10 Mar 2024: its daily mean went from 1.0 to 6.4 °C above the middle of the ' +
          'other probes, further on each of 7 days. 7 such days and 5 °C are doubted here (our own choice): it may ' +
          'drift. Compare it with another thermometer.',
      },
    ]);
  });

  it('counts exactly 5 °C', () => {
    const days = [600, 608, 616, 624, 632, 640];
    expect(cautionsOf({ ...fellows, d: [...days, 650] })).toHaveLength(1);
    expect(cautionsOf({ ...fellows, d: [...days, 649] })).toEqual([]);
  });

  it('is not doubted after 6 days, nor when it came back for one', () => {
    expect(cautionsOf({ ...fellows, d: leaving(20, 6) })).toEqual([]);
    expect(cautionsOf({ ...fellows, d: [600, 620, 640, 639, 660, 680, 700] })).toEqual([]);
  });

  it('is doubted on the cold side too', () => {
    const [caution] = cautionsOf({ ...fellows, d: leaving(-9, 7, 585) });
    expect(caution?.text).toContain('from 0.5 to 5.9 °C below the middle');
  });

  it('is not doubted for coming nearer, nor for the whole pile cooling', () => {
    expect(cautionsOf({ ...fellows, d: leaving(-20, 7, 900) })).toEqual([]);
    const cooling = (from: number) => leaving(-20, 8, from);
    expect(cautionsOf({ a: cooling(610), b: cooling(590), c: cooling(560) })).toEqual([]);
  });

  it('is not told from a single fellow, since either of the two may be off', () => {
    expect(cautionsOf({ a: steady(610), d: leaving(20, 8) })).toEqual([]);
    const cautions = cautionsOf({ a: steady(610), b: steady(590), d: leaving(20, 8) });
    expect(cautions.map(({ text }) => text)).toEqual([expect.stringContaining('probe d')]);
  });
});

describe('any pile as one might be', () => {
  const seeds = fc.integer({ min: 0, max: 2 ** 31 });

  it('raises no doubt', () => {
    fc.assert(
      fc.property(seeds, fc.constantFrom(1, 5), (seed, stepDeciC) => {
        expect(driftCautions([plausiblePile(seed, { days: 20, stepDeciC })], timeZone)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it('is doubted where one probe goes off by 2 °C a day', () => {
    fc.assert(
      fc.property(seeds, fc.constantFrom(20, -20), (seed, deciCADay) => {
        const { hours } = plausiblePile(seed);
        const off = hours.map((each) => {
          if (each.probe !== 'core-1') return each;
          // From far off its fellows on that side, so that it goes away from them all the time.
          const deciC = Math.sign(deciCADay) * 200 + (deciCADay * (each.atMs - startMs)) / (24 * HOUR_MS);
          const [minDeciC, maxDeciC, meanDeciC] = [each.minDeciC, each.maxDeciC, each.meanDeciC].map(
            (figure) => figure + deciC,
          );
          return { ...each, ...{ minDeciC, maxDeciC, meanDeciC } } as typeof each;
        });
        const cautions = driftCautions([logger(...off)], timeZone);
        expect(cautions.map(({ text }) => text)).toEqual([expect.stringContaining('probe core-1')]);
      }),
      { numRuns: 40 },
    );
  });
});
