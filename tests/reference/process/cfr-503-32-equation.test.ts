/**
 * 40 CFR 503.32(a)(3)(ii)(A): D = 131,700,000 / 10^(0.14 t), D in days, t in °C, t of 50 or more, never under 20 minutes.
 * The equation was read in 15A NCAC 02T .1106 and 327 IAC 6.1-4-13, which repeat it. The holding times below are that
 * equation worked out by hand and rounded as shown.
 */
import { evaluateProcess, holdingHours, processRule } from '#libs/process';
import { describe, expect, it } from 'vitest';

const published: [celsius: number, holding: number, unit: 'days' | 'hours' | 'minutes', decimals: number][] =
  [
    [50, 13.17, 'days', 2],
    [55, 63.1, 'hours', 1],
    [60, 12.58, 'hours', 2],
    [65, 2.51, 'hours', 2],
    [70, 30.1, 'minutes', 1],
  ];
const hoursIn = { days: 24, hours: 1, minutes: 1 / 60 };

describe('the time-temperature equation', () => {
  it.each(published)('at %d °C asks for %d %s', (celsius, holding, unit, decimals) => {
    expect(holdingHours(celsius * 10) / hoursIn[unit]).toBeCloseTo(holding, decimals);
  });

  it('never asks for less than 20 minutes', () => {
    expect(holdingHours(712) * 60).toBeCloseTo(20.41, 2);
    expect(holdingHours(713) * 60).toBe(20);
    expect(holdingHours(900) * 60).toBe(20);
  });

  it('does not apply below 50 °C', () => {
    expect(holdingHours(499)).toBe(Infinity);
  });

  it('is fulfilled once by material held for its holding time', () => {
    const rule = processRule('us-503-pfrp-in-vessel');
    if (rule === undefined) throw new Error('no in-vessel rule');
    const builtMs = Date.parse('2024-05-06T08:00Z');
    const endMs = builtMs + Math.round(12.58 * 3_600_000);
    const checks = [builtMs, endMs].map((occurredAtMs, index) => ({
      id: `check-${index}`,
      occurredAtMs,
      readings: [{ position: 'core', depthMm: null, temperatureDeciC: 600 }],
    }));
    const rawAdditions = [{ occurredAtMs: builtMs, what: 'food scraps' }];
    const verdict = evaluateProcess(rule, { timeZone: 'UTC', rawAdditions, checks, turns: [] }, endMs);
    expect(verdict.heatIntegral?.holdingTimes).toBeCloseTo(1, 3);
    expect(verdict.heatIntegral?.citation).toBe('40 CFR 503.32(a)(3)(ii)(A)');
    expect(verdict.status).toBe('in-progress');
  });
});
