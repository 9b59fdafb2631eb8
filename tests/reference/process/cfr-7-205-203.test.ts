/**
 * 7 CFR 205.203(c)(2), compost for organic production, read as quoted on a page about the organic rules:
 * - an initial C:N ratio of between 25:1 and 40:1;
 * - in-vessel or static aerated pile: between 131 °F and 170 °F for 3 days;
 * - windrow: between 131 °F and 170 °F for 15 days, turned at least five times during that time.
 *
 * 131 °F is 55 °C exactly. 170 °F is 76.67 °C, kept to the tenth as 76.7 °C whether it is a limit or a
 * reading, so that a reading of 170 °F is within the limit and one of 76.8 °C (170.24 °F) is not. The text does not say whether the days must be consecutive.
 */
import { temperatureToDeciC } from '#libs/quantities';
import { describe, expect, it } from 'vitest';
import { itAsks } from './boundaries.js';
import { at, checkAt, held, judge } from './history.js';

const windrow = 'us-nop-205-203-windrow';
const pile = 'us-nop-205-203-static-or-vessel';
const mix = { carbonToNitrogen: 30 };
const turnHours = [48, 120, 192, 264, 336];

describe('windrow: 15 days and five turnings', () => {
  itAsks(windrow, { celsius: 55, hours: 360, turnHours, time: 'unsaid', facts: mix });
});

describe('in-vessel and static aerated pile: 3 days', () => {
  itAsks(pile, { celsius: 55, hours: 72, time: 'unsaid', facts: mix });

  it('holds at 170 °F', () => {
    const read = temperatureToDeciC({ value: 170, unit: 'F' }) / 10;
    const verdict = judge(pile, { checks: held(72, read), facts: mix });
    expect(verdict).toMatchObject({ status: 'met', metAtMs: at(72) });
  });

  it('is missed by one check at 76.8 °C', () => {
    const verdict = judge(pile, { checks: [...held(72, 60), checkAt(40, 76.8)], facts: mix });
    expect(verdict).toMatchObject({ metAtMs: null, creditedHours: 24 });
    expect(verdict.evidence.map(({ kind }) => kind)).toContain('above-limit');
  });

  it.each([
    [24.9, 'unmet', null],
    [25, 'met', at(72)],
    [40, 'met', at(72)],
    [40.1, 'unmet', null],
    [null, 'unknown', null],
  ])('of a mix with C:N %s is %s', (carbonToNitrogen, state, metAtMs) => {
    const verdict = judge(pile, { checks: held(72, 55), facts: { carbonToNitrogen } });
    expect(verdict.conditions).toMatchObject([{ key: 'carbon-to-nitrogen', state }]);
    expect(verdict).toMatchObject({ metAtMs, creditedHours: 72 });
  });
});
