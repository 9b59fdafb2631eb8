import { describe, expect, it } from 'vitest';
import type { Check, ProcessRule } from '#libs/process';
import { check, of, raw, turn, verdictOf } from './batch.js';

const rule: Partial<ProcessRule> = { basis: 'daily', duration: { days: 3 }, longestGapHours: null };

/** A check at a local wall-clock time of the example yard. */
function local(iso: string, ...temperaturesDeciC: number[]): Check {
  return { ...check(0, ...temperaturesDeciC), id: iso, occurredAtMs: Date.parse(iso) };
}

const built = { rawAdditions: [{ occurredAtMs: Date.parse('2024-05-06T08:00-06:00'), what: 'food scraps' }] };
const midnight = (date: string) => Date.parse(`${date}T00:00-06:00`);
const now = (iso: string) => (Date.parse(iso) - Date.parse('2024-05-06T08:00-06:00')) / 3_600_000;

const threeDays = [
  local('2024-05-07T07:30-06:00', 600),
  local('2024-05-08T17:00-06:00', 600),
  local('2024-05-09T06:00-06:00', 600),
];

describe('local days', () => {
  it('are credited when they are over, and the rule is met when the last one ends', () => {
    const verdict = verdictOf(threeDays, { rule, facts: built, now: now('2024-05-10T00:00-06:00') });
    expect(verdict).toMatchObject({ status: 'met', creditedDays: 3, creditedHours: 72 });
    expect(verdict.metAtMs).toBe(midnight('2024-05-10'));
    expect(verdict.creditedSpans).toEqual([{ fromMs: midnight('2024-05-07'), toMs: midnight('2024-05-10') }]);
    expect(verdict.required).toMatchObject({ days: 3, hours: null, longestGapHours: null });
    expect(of(verdict, 'credited')[0]?.text).toContain('the local days from 7 May 2024 to 9 May 2024');
  });

  it('are not credited a minute before they are over', () => {
    const verdict = verdictOf(threeDays, { rule, facts: built, now: now('2024-05-09T23:59-06:00') });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedDays: 2, metAtMs: null });
  });

  it('are not credited on the day raw material went in', () => {
    const checks = [local('2024-05-06T12:00-06:00', 600), ...threeDays];
    const verdict = verdictOf(checks, { rule, facts: built, now: now('2024-05-12T00:00-06:00') });
    expect(verdict).toMatchObject({
      creditedDays: 3,
      clockStartedAtMs: Date.parse('2024-05-06T12:00-06:00'),
    });
  });

  it('are credited from a local midnight on at which the batch was built', () => {
    const facts = { rawAdditions: [{ occurredAtMs: midnight('2024-05-07'), what: 'leaves' }] };
    expect(verdictOf(threeDays, { rule, facts, now: now('2024-05-10T00:00-06:00') }).status).toBe('met');
  });

  it('are spoilt by any check below the threshold', () => {
    const checks = [...threeDays, local('2024-05-08T20:00-06:00', 549)];
    const verdict = verdictOf(checks, { rule, facts: built, now: now('2024-05-10T00:00-06:00') });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedDays: 1 });
    const added = verdictOf(checks, {
      rule: { ...rule, continuity: 'cumulative' },
      facts: built,
      now: now('2024-05-10T00:00-06:00'),
    });
    expect(added.creditedDays).toBe(2);
  });

  it('do not begin a new run on the day the last one broke', () => {
    const checks = [
      local('2024-05-07T07:30-06:00', 600),
      local('2024-05-08T07:30-06:00', 500),
      local('2024-05-08T17:00-06:00', 600),
    ];
    expect(verdictOf(checks, { rule, facts: built }).status).toBe('interrupted');
  });

  it('must follow each other: a day without a check that counts is a gap', () => {
    const [first, , third] = threeDays as [Check, Check, Check];
    const verdict = verdictOf([first, third], { rule, facts: built, now: now('2024-05-10T00:00-06:00') });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedDays: 1 });
    expect(of(verdict, 'gap')).toMatchObject([
      { fromMs: midnight('2024-05-08'), toMs: midnight('2024-05-09') },
    ]);
    expect(of(verdict, 'gap')[0]?.text).toContain('from 8 May 2024 to 8 May 2024');
    const few = verdictOf(
      [first, { ...check(0), occurredAtMs: Date.parse('2024-05-08T12:00-06:00') }, third],
      {
        rule,
        facts: built,
        now: now('2024-05-10T00:00-06:00'),
      },
    );
    expect(few.creditedDays).toBe(1);
  });

  it('leave the present unknown after a whole day without a check', () => {
    const until = (iso: string) =>
      verdictOf(threeDays.slice(0, 2), { rule, facts: built, now: now(iso) }).status;
    expect(until('2024-05-09T23:00-06:00')).toBe('in-progress');
    expect(until('2024-05-10T00:01-06:00')).toBe('insufficient-data');
  });

  it('are 23 and 25 hours long where clocks change', () => {
    const facts = (iso: string) => ({ rawAdditions: [{ occurredAtMs: Date.parse(iso), what: 'leaves' }] });
    const one = { ...rule, duration: { days: 1 } };
    const spring = verdictOf([local('2024-03-10T12:00-06:00', 600)], {
      rule: one,
      facts: facts('2024-03-09T08:00-07:00'),
      now: now('2024-03-11T00:00-06:00'),
    });
    expect(spring).toMatchObject({ status: 'met', creditedDays: 1, creditedHours: 23 });
    const autumn = verdictOf([local('2024-11-03T12:00-07:00', 600)], {
      rule: one,
      facts: facts('2024-11-02T08:00-06:00'),
      now: now('2024-11-04T00:00-07:00'),
    });
    expect(autumn).toMatchObject({ status: 'met', creditedDays: 1, creditedHours: 25 });
  });

  it('are the days of the site, not of Greenwich', () => {
    const checks = [local('2024-05-07T23:30-06:00', 600), local('2024-05-08T00:30-06:00', 600)];
    const at = now('2024-05-09T00:00-06:00');
    expect(verdictOf(checks, { rule, facts: built, now: at }).creditedDays).toBe(2);
    const greenwich = { ...built, timeZone: 'UTC' };
    expect(verdictOf(checks, { rule, facts: greenwich, now: at }).creditedDays).toBe(1);
  });

  it('count turns from the first to the last check that held', () => {
    const turned = { ...rule, turns: { count: 1, spacingHours: 0, hotHoursBefore: null } };
    const facts = (hour: number) => ({ ...built, turns: [turn(hour)] });
    const end = now('2024-05-10T00:00-06:00');
    expect(verdictOf(threeDays, { rule: turned, facts: facts(30), now: end }).status).toBe('met');
    expect(verdictOf(threeDays, { rule: turned, facts: facts(80), now: end }).status).toBe('in-progress');
  });

  it('with a cold check within the time allowed after a turn earn nothing and break nothing', () => {
    const checks = [...threeDays, local('2024-05-08T18:00-06:00', 500)];
    const facts = { ...built, turns: [turn(now('2024-05-08T17:30-06:00'))] };
    const verdict = verdictOf(checks, {
      rule: { ...rule, graceAfterTurnHours: 6 },
      facts,
      now: now('2024-05-10T00:00-06:00'),
    });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedDays: 2 });
    expect(verdict.creditedSpans).toHaveLength(2);
  });

  it('start again with a later raw addition', () => {
    const facts = { rawAdditions: [...built.rawAdditions, raw(now('2024-05-09T07:00-06:00'))] };
    const verdict = verdictOf(threeDays, { rule, facts, now: now('2024-05-09T08:00-06:00') });
    expect(verdict).toMatchObject({ status: 'not-started', creditedDays: 0 });
    expect(of(verdict, 'clock-restarted')[0]?.text).toContain('Lost: 2 local days.');
  });
});
