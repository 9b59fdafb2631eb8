/**
 * Bioabfallverordnung (Germany), Annex 2, wording of 2012 and later, read in the text itself:
 * - no. 2.2.2.1, thermophilic composting: at least 55 °C over a time of 2 weeks "as contiguous as possible", 60 °C over
 *   6 days or 65 °C over 3 days, acting on all of the material; the water content should be at least 40 %;
 * - no. 2.2.1.1, pasteurisation: at least 70 °C over a contiguous time of at least 1 hour.
 */
import { describe, expect, it } from 'vitest';
import { itAsks } from './boundaries.js';
import { at, checkAt, held, judge, moistureOf } from './history.js';

const profiles: [code: string, celsius: number, hours: number][] = [
  ['de-bioabfv-55', 55, 336],
  ['de-bioabfv-60', 60, 144],
  ['de-bioabfv-65', 65, 72],
];

describe.each(profiles)('%s: %d °C over %d hours', (code, celsius, hours) => {
  itAsks(code, { celsius, hours, time: 'unsaid', facts: { moistures: moistureOf(40, hours + 12) } });

  it.each([
    [40, 'met', at(hours)],
    [39, 'unmet', null],
    [undefined, 'unknown', null],
  ])('water at %s percent: %s', (percent, state, metAtMs) => {
    const facts = percent === undefined ? {} : { moistures: moistureOf(percent, hours) };
    const verdict = judge(code, { checks: held(hours, celsius), facts });
    expect(verdict.conditions).toMatchObject([{ key: 'moisture', state }]);
    expect(verdict.metAtMs).toBe(metAtMs);
  });
});

it('lets the coldest part of the material govern', () => {
  const readings = (celsius: number) =>
    [600, celsius * 10].map((temperatureDeciC, probe) => ({
      ...{ position: `core-${probe}`, depthMm: null, temperatureDeciC },
    }));
  const checks = (celsius: number) =>
    held(336, 60).map((check) => ({ ...check, readings: readings(celsius) }));
  const facts = { moistures: moistureOf(40, 336) };
  expect(judge('de-bioabfv-55', { checks: checks(55), facts }).metAtMs).toBe(at(336));
  expect(judge('de-bioabfv-55', { checks: checks(54.9), facts }).metAtMs).toBeNull();
});

describe('pasteurisation: 70 °C over one contiguous hour', () => {
  const code = 'de-bioabfv-pasteurisation';
  itAsks(code, { celsius: 70, hours: 1, time: 'unbroken' });

  it('is not shown by two visits on two days', () => {
    expect(judge(code, { checks: [checkAt(0, 75), checkAt(24, 75)] }).metAtMs).toBeNull();
  });
});
