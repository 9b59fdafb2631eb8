import { describe, expect, it } from 'vitest';
import { holdingHours } from '#libs/process';
import { at, check, raw, verdictOf } from './batch.js';

const hoursAbove = (verdict: ReturnType<typeof verdictOf>) =>
  verdict.timeAboveHours.map(({ thresholdDeciC, hours }) => [thresholdDeciC, hours]);

describe('time above', () => {
  it('is counted at each level between checks that are both there', () => {
    const verdict = verdictOf([
      check(0, 450),
      check(10, 550),
      check(20, 649),
      check(30, 399),
      check(40, 700),
    ]);
    expect(hoursAbove(verdict)).toEqual([
      [400, 20],
      [450, 20],
      [500, 10],
      [550, 10],
      [600, 0],
      [650, 0],
    ]);
  });

  it('is counted since the last raw material, without gaps and without checks that do not count', () => {
    const checks = [
      check(0, 600, 600),
      check(10, 600, 600),
      check(20, 600),
      check(30, 600, 600),
      check(60, 600, 600),
    ];
    const verdict = verdictOf(checks, { rule: { minimumProbes: 2 }, facts: { rawAdditions: [raw(5)] } });
    expect(hoursAbove(verdict)[4]).toEqual([600, 20]);
  });
});

describe('the time-temperature integral', () => {
  it('sums time over holding time at the colder of two checks', () => {
    const verdict = verdictOf([check(0, 600), check(5, 650), check(10, 550)]);
    const expected = 5 / holdingHours(600) + 5 / holdingHours(550);
    expect(verdict.heatIntegral).toMatchObject({ fromMs: at(0), toMs: at(10) });
    expect(verdict.heatIntegral?.holdingTimes).toBeCloseTo(expected, 12);
  });

  it('is lowered by a colder check that does not count', () => {
    const rule = { minimumProbes: 2 };
    const sumOf = (deciC: number) =>
      verdictOf([check(0, 600, 600), check(5, deciC), check(10, 600, 600)], { rule }).heatIntegral
        ?.holdingTimes;
    expect(sumOf(600)).toBeCloseTo(10 / holdingHours(600), 12);
    expect(sumOf(620)).toBeCloseTo(10 / holdingHours(600), 12);
    expect(sumOf(510)).toBeCloseTo(10 / holdingHours(510), 12);
  });

  it('starts anew after a check below 50 °C or too long a gap, and keeps the largest sum', () => {
    const verdict = verdictOf([
      check(0, 600),
      check(20, 600),
      check(21, 499),
      check(22, 600),
      check(30, 600),
    ]);
    expect(verdict.heatIntegral).toMatchObject({ fromMs: at(0), toMs: at(20) });
    const gap = verdictOf([check(0, 600), check(10, 600), check(35, 600), check(55, 600)]);
    expect(gap.heatIntegral).toMatchObject({ fromMs: at(35), toMs: at(55) });
  });

  it('is not given where no time at 50 °C is shown', () => {
    expect(verdictOf([check(0, 499), check(10, 600)]).heatIntegral).toBeNull();
  });
});
