/**
 * 310 CMR 32.80(4), low temperature composting, Massachusetts: not less than 40 °C for five consecutive days, and not less
 * than 55 °C during four hours of this five day period. Read in a copy current through Register 1538 (3 January 2025).
 */
import { describe, expect, it } from 'vitest';
import { at, checkAt, held, judge } from './history.js';

const code = 'us-ma-32-80-low-temperature';

function peaked(toHour: number, peakHours: number, peakCelsius: number) {
  const peak = [checkAt(52, peakCelsius), checkAt(52 + peakHours, peakCelsius)];
  return [...held(48, 40), ...peak, ...held(toHour, 40, 60)];
}

describe('five consecutive days at 40 °C with four hours at 55 °C', () => {
  it('is met to the hour, at 55 °C itself', () => {
    const verdict = judge(code, { checks: peaked(120, 4, 55) });
    expect(verdict).toMatchObject({ status: 'met', metAtMs: at(120), creditedHours: 120 });
    expect(verdict.conditions).toMatchObject([{ key: 'peak', state: 'met' }]);
  });

  it('is missed by an hour of the five days', () => {
    expect(judge(code, { checks: peaked(119, 4, 55) })).toMatchObject({ metAtMs: null, creditedHours: 119 });
  });

  it.each([
    ['a tenth of an hour', 3.9, 55],
    ['a tenth of a degree', 4, 54.9],
  ])('is missed by %s of the peak', (_, hours, celsius) => {
    expect(judge(code, { checks: peaked(120, hours, celsius) })).toMatchObject({
      metAtMs: null,
      conditions: [{ key: 'peak', state: 'unmet' }],
    });
  });

  it('is not added up, even when asked to', () => {
    const checks = [...peaked(120, 4, 55).slice(0, -1), checkAt(119, 39.9), ...held(150, 40, 130)];
    expect(judge(code, { checks, reading: 'cumulative' })).toMatchObject({
      reading: 'consecutive',
      metAtMs: null,
    });
  });
});
