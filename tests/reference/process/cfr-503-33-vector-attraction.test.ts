/**
 * 40 CFR 503.33(b)(5), vector attraction reduction, aerobic process: 14 days or longer, during which the temperature is
 * higher than 40 °C and its average higher than 45 °C. The figures were read in an engineering textbook's table of the
 * options ("at least 14 days at over 40C", average over 45C); COMAR 26.04.11 takes the paragraph over by reference.
 */
import { describe, expect, it } from 'vitest';
import { at, checkAt, held, judge, ruleOf } from './history.js';

const code = 'us-503-vector-attraction';
const average = (state: string) => [{ key: 'average', state }];

describe('14 days above 40 °C that average above 45 °C', () => {
  it('is a rule of its own beside that for pathogens', () => {
    expect(ruleOf(code).purpose).toBe('vector-attraction');
  });

  it('is met at an average of 45.1 °C, to the hour', () => {
    expect(judge(code, { checks: held(336, 45.1) })).toMatchObject({
      ...{ status: 'met', metAtMs: at(336), creditedHours: 336, conditions: average('met') },
    });
  });

  it('is missed at an average of 45.0 °C', () => {
    expect(judge(code, { checks: held(336, 45) })).toMatchObject({
      ...{ metAtMs: null, creditedHours: 336, conditions: average('unmet') },
    });
  });

  it('is missed by an hour', () => {
    expect(judge(code, { checks: held(335, 45.1) })).toMatchObject({ metAtMs: null, creditedHours: 335 });
  });

  it('is met by a cool week and a hot one', () => {
    const checks = [...held(168, 41), ...held(336, 51, 180)];
    expect(judge(code, { checks })).toMatchObject({ metAtMs: at(336), conditions: average('met') });
  });

  it('is missed by a cool week and one that does not make up for it', () => {
    const checks = [...held(168, 41), ...held(336, 48, 180)];
    expect(judge(code, { checks })).toMatchObject({ metAtMs: null, conditions: average('unmet') });
  });

  it('is missed when one check is at 40 °C itself, however hot the rest', () => {
    const checks = [...held(336, 60), checkAt(170, 40)];
    expect(judge(code, { checks, reading: 'cumulative' })).toMatchObject({
      reading: 'consecutive',
      metAtMs: null,
    });
    const warmer = [...held(336, 60), checkAt(170, 40.1)];
    expect(judge(code, { checks: warmer }).metAtMs).toBe(at(336));
  });
});
