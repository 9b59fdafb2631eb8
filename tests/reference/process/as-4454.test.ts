/**
 * AS 4454-2012, clause 3.2.1, windrows, from memory:
 * - 55 °C or more for 3 consecutive days before each of at least 3 turns;
 * - with manure, food and other material of higher risk: 55 °C or more for 15 days or longer, with at least 5 turns.
 */
import type { Check } from '#libs/process';
import { describe, expect, it } from 'vitest';
import { itAsks } from './boundaries.js';
import { at, checkAt, held, judge, ruleOf } from './history.js';

const turned = 'au-as-4454-turned';
const highRisk = 'au-as-4454-high-risk';

/** Checks every 12 hours and at every turn, since the hours before a turn are those up to the check before it. */
function lookedAt(toHour: number, celsius: number, turnHours: readonly number[]): Check[] {
  const atTurns = turnHours.filter((hour) => hour <= toHour).map((hour) => checkAt(hour, celsius));
  return [...held(toHour, celsius), ...atTurns];
}

describe('3 consecutive days before each of 3 turns', () => {
  const judged = (turnHours: readonly number[], toHour = 216, celsius = 55) =>
    judge(turned, { checks: lookedAt(toHour, celsius, turnHours), turnHours });

  it('is met at the third turn', () => {
    expect(judged([72, 144, 216])).toMatchObject({
      ...{ status: 'met', metAtMs: at(216), creditedHours: 216, turnsCredited: 3 },
    });
  });

  it.each([
    ['the first', [71, 144, 216]],
    ['the second', [72, 143, 215]],
    ['the third', [72, 144, 215]],
  ])('is missed when %s turn comes an hour early', (_, turnHours) => {
    expect(judged(turnHours)).toMatchObject({ metAtMs: null, turnsCredited: 2 });
  });

  it('does not lose the days before a turn that came early', () => {
    expect(judged([71, 72, 144, 216])).toMatchObject({ metAtMs: at(216), turnsCredited: 3 });
  });

  it('is missed by an hour, by a turn, or by a tenth of a degree', () => {
    expect(judged([72, 144, 216], 215)).toMatchObject({ metAtMs: null, turnsCredited: 2 });
    expect(judged([72, 144])).toMatchObject({ metAtMs: null, creditedHours: 216, turnsCredited: 2 });
    expect(judged([72, 144, 216], 216, 54.9)).toMatchObject({ metAtMs: null, turnsCredited: 0 });
  });

  it('allows the batch to cool after a turn, and wants three whole days again', () => {
    const cooled = [...held(144, 55), checkAt(145, 40), ...held(228, 55, 156)];
    const verdict = judge(turned, { checks: cooled, turnHours: [72, 144, 228] });
    expect(verdict).toMatchObject({ metAtMs: at(228), creditedHours: 216, turnsCredited: 3 });
    const early = { checks: [...cooled, checkAt(227, 55)], turnHours: [72, 144, 227] };
    expect(judge(turned, early)).toMatchObject({
      metAtMs: null,
      turnsCredited: 2,
    });
  });

  it('does not add up two pieces to the 3 days before a turn', () => {
    const checks = [...held(36, 55), checkAt(40, 40), ...held(84, 55, 48)];
    expect(judge(turned, { checks, turnHours: [84] }).turnsCredited).toBe(0);
  });
});

describe('higher risk: 15 days and five turns', () => {
  const turnHours = [60, 130, 190, 260, 330];
  itAsks(highRisk, { celsius: 55, hours: 360, turnHours, time: 'unsaid' });
});

it.each([turned, highRisk])('%s says that it is from memory', (code) => {
  expect(ruleOf(code).textStatus).toBe('from-memory');
});
