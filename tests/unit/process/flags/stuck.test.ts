import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ProbeHour, stuckCautions } from '#libs/process';
import { hour, HOUR_MS, logger, plausiblePile, startMs, timeZone } from './pile.js';

const range = (length: number) => Array.from({ length }, (_, index) => index);
/** A probe that climbs by its step every hour, before anything else: so that its step can be seen. */
const climb = (probe: string, stepDeciC: number) =>
  range(6).map((hours) => hour(probe, hours - 6, 500 + hours * stepDeciC));
const flat = (probe: string, hours: number, deciC = 613) => range(hours).map((at) => hour(probe, at, deciC));
const cautionsOf = (...hours: ProbeHour[]) => stuckCautions([logger(...hours)], timeZone);

describe('a probe that stays on one tenth', () => {
  it('is doubted from 24 hours on where it shows tenths', () => {
    expect(cautionsOf(...climb('a', 1), ...flat('a', 23))).toEqual([]);
    expect(cautionsOf(...climb('a', 1), ...flat('a', 24))).toEqual([
      {
        kind: 'stuck',
        fromMs: startMs,
        toMs: startMs + 24 * HOUR_MS,
        instrument: 'L-2',
        text:
          'L-2, probe a, from 4 Mar 2024 00:00 to 5 Mar 2024 00:00: 61.3 °C (142.3 °F) in all of 96 readings. A probe ' +
          'with steps of 0.1 °C is doubted here after 24 such hours (our own choice): it may be stuck. Look at the ' +
          'probe and its cable.',
      },
    ]);
  });

  it('may stay five times longer where it shows half degrees', () => {
    expect(cautionsOf(...climb('a', 5), ...flat('a', 119))).toEqual([]);
    expect(cautionsOf(...climb('a', 5), ...flat('a', 120))).toHaveLength(1);
  });

  it('is taken for a coarse one where nothing tells its step', () => {
    expect(cautionsOf(...flat('a', 119))).toEqual([]);
    expect(cautionsOf(...flat('a', 120))[0]?.text).toContain('with steps of 0.5 °C');
  });

  it('is taken to have the step of its fellows where it always showed the same', () => {
    const fellow = range(30).map((at) => hour('b', at, 600 + (at % 6)));
    expect(cautionsOf(...flat('a', 24), ...fellow)).toHaveLength(1);
  });

  it('is not doubted when it left the figure once, or was silent for more than a day', () => {
    const left = flat('a', 24).map((each, at) => (at === 12 ? { ...each, maxDeciC: 614 } : each));
    expect(cautionsOf(...climb('a', 1), ...left)).toEqual([]);
    const silent = flat('a', 24).map((each, at) =>
      at < 12 ? each : { ...each, atMs: each.atMs + 24 * HOUR_MS },
    );
    expect(cautionsOf(...climb('a', 1), ...silent)).toEqual([]);
  });
});

describe('a probe that stays on one tenth while another moves', () => {
  const moving = (deciC: number, hours = 12) => [
    ...climb('b', 1),
    ...range(hours).map((at) => hour('b', at, 560, at === 5 ? 560 + deciC : 560)),
  ];

  it('is doubted from 12 hours and 2 °C on', () => {
    const own = climb('a', 1);
    expect(cautionsOf(...own, ...flat('a', 12), ...moving(19))).toEqual([]);
    expect(cautionsOf(...own, ...flat('a', 11), ...moving(20))).toEqual([]);
    const [caution, ...more] = cautionsOf(...own, ...flat('a', 12), ...moving(20));
    expect(more).toEqual([]);
    expect(caution?.text).toContain('while another probe moved by 2 °C');
    expect(caution?.text).toContain('is doubted here after 12 such hours');
  });
});

describe('any pile as one might be', () => {
  const seeds = fc.integer({ min: 0, max: 2 ** 31 });

  it('raises no doubt, with fine probes and coarse ones', () => {
    fc.assert(
      fc.property(seeds, fc.constantFrom(1, 2, 5), (seed, stepDeciC) => {
        expect(stuckCautions([plausiblePile(seed, { stepDeciC })], timeZone)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it('is doubted where one probe stops, from then on', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 30, max: 200 }), (seed, from) => {
        const { hours } = plausiblePile(seed);
        const stopped = hours.map((each) => {
          const [passed, probe] = [(each.atMs - startMs) / HOUR_MS, each.probe];
          return probe === 'core-2' && passed >= from && passed < from + 24 ? hour(probe, passed, 617) : each;
        });
        const cautions = stuckCautions([logger(...stopped.toReversed())], timeZone);
        expect(cautions).toHaveLength(1);
        expect(cautions[0]?.fromMs).toBeLessThanOrEqual(startMs + from * HOUR_MS);
        expect(cautions[0]?.toMs).toBeGreaterThanOrEqual(startMs + (from + 24) * HOUR_MS);
        expect(cautions[0]?.text).toContain('probe core-2');
      }),
      { numRuns: 60 },
    );
  });
});
