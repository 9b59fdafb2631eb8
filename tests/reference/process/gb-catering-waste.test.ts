/**
 * Catering waste in the United Kingdom, read in SI 2006/1293 (Wales) Schedule 1 Part II and SR (NI) 2003/495 Schedule 1
 * Part II, as made:
 * - closed reactor: 60 °C for 2 days, particles of at most 40 cm;
 * - closed reactor: 70 °C for 1 hour, particles of at most 6 cm;
 * - housed windrow: 60 °C for 8 days, during which it is turned at least three times, at no less than 2 days from each
 *   other, particles of at most 40 cm.
 * Nothing is said on whether the time must be consecutive.
 */
import { describe, expect, it } from 'vitest';
import { itAsks } from './boundaries.js';
import { checkAt, held, judge } from './history.js';

const hour = 'gb-catering-closed-70';
const windrow = 'gb-catering-housed-windrow';

describe('closed reactor: 2 days at 60 °C', () => {
  itAsks('gb-catering-closed-60', { celsius: 60, hours: 48, time: 'unsaid' });
});

describe('closed reactor: 1 hour at 70 °C', () => {
  itAsks(hour, { celsius: 70, hours: 1, time: 'unsaid' });

  it('is not shown by two visits on two days', () => {
    expect(judge(hour, { checks: [checkAt(0, 75), checkAt(24, 75)] })).toMatchObject({
      metAtMs: null,
      creditedHours: 0,
    });
  });
});

describe('housed windrow: 8 days at 60 °C and three turns', () => {
  itAsks(windrow, { celsius: 60, hours: 192, turnHours: [48, 96, 144], time: 'unsaid' });

  it('does not count a turn an hour less than 2 days after another', () => {
    const checks = held(192, 60);
    expect(judge(windrow, { checks, turnHours: [48, 95, 144] })).toMatchObject({
      metAtMs: null,
      turnsCredited: 2,
    });
    expect(judge(windrow, { checks, turnHours: [48, 95, 143, 191] })).toMatchObject({
      status: 'met',
      turnsCredited: 3,
    });
  });
});
