/**
 * 40 CFR Part 503, Appendix B, (A)(4), processes to significantly reduce pathogens, composting: 40 °C or higher for five
 * days, and for four hours of that time above 55 °C. The figures were read in 40 CFR 257 Appendix II, which has the same
 * words ("40 C for 5 days. For four hours during this period the temperature exceeds 55 C").
 */
import { describe, expect, it } from 'vitest';
import { at, checkAt, held, judge } from './history.js';

const code = 'us-503-psrp';

/** At one temperature throughout, but for so many hours of the third day. */
function peaked(toHour: number, celsius: number, peakHours: number, peakCelsius: number) {
  const peak = [checkAt(52, peakCelsius), checkAt(52 + peakHours, peakCelsius)];
  return [...held(48, celsius), ...peak, ...held(toHour, celsius, 60)];
}

describe('five days at 40 °C with four hours above 55 °C', () => {
  it('is met to the hour', () => {
    const verdict = judge(code, { checks: peaked(120, 40, 4, 55.1) });
    expect(verdict).toMatchObject({ status: 'met', metAtMs: at(120), creditedHours: 120 });
    expect(verdict.conditions).toMatchObject([{ key: 'peak', state: 'met' }]);
  });

  it('is missed by an hour of the five days', () => {
    expect(judge(code, { checks: peaked(119, 40, 4, 55.1) })).toMatchObject({
      metAtMs: null,
      creditedHours: 119,
    });
  });

  it('is missed by a tenth of an hour of the four', () => {
    const verdict = judge(code, { checks: peaked(120, 40, 3.9, 55.1) });
    expect(verdict).toMatchObject({ metAtMs: null, creditedHours: 120 });
    expect(verdict.conditions).toMatchObject([{ key: 'peak', state: 'unmet' }]);
  });

  it('is missed at 55 °C itself, which does not exceed it', () => {
    expect(judge(code, { checks: peaked(120, 40, 4, 55) })).toMatchObject({
      metAtMs: null,
      conditions: [{ key: 'peak', state: 'unmet' }],
    });
  });

  it('is missed a tenth of a degree below 40 °C', () => {
    const checks = [...peaked(120, 40, 4, 55.1), checkAt(90.5, 39.9)];
    expect(judge(code, { checks }).metAtMs).toBeNull();
  });
});
