import { creditByDay, evaluateProcess, seriesOf, type BatchFacts, type ProcessRule } from '#libs/process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hourMs, ruleWith } from './batch.js';
import { histories, nows, readingsOfRule, rules, seeded } from './histories.js';

const daily = { basis: 'daily', duration: { days: 2 }, longestGapHours: null } as const;

/** A batch in the Mountain time zone whose single probe reads 60 °C at each of the local times. */
function hotAt(times: readonly string[], turns: readonly string[] = []): BatchFacts {
  return {
    timeZone: 'America/Denver',
    rawAdditions: [{ occurredAtMs: Date.parse('2024-01-01T00:00Z'), what: 'leaves' }],
    checks: times.map((time, index) => ({
      id: `check-${index}`,
      occurredAtMs: Date.parse(time),
      readings: [{ position: 'core', depthMm: null, temperatureDeciC: 600 }],
    })),
    turns: turns.map((time) => ({ occurredAtMs: Date.parse(time), kind: 'turn' })),
  };
}

function daysOf(rule: ProcessRule, facts: BatchFacts, nowMs = Date.parse('2025-01-01T00:00Z')) {
  return creditByDay(rule, facts, evaluateProcess(rule, facts, nowMs), nowMs);
}

describe('the credit of each local day', () => {
  it('adds up to what the verdict credits, whatever the history and the zone', () => {
    const zones = fc.constantFrom('America/Denver', 'Pacific/Auckland', 'Australia/Lord_Howe', 'UTC');
    const anyRule = fc.oneof(rules(), rules(daily));
    let credited = 0;
    fc.assert(
      fc.property(
        anyRule,
        histories,
        nows,
        readingsOfRule,
        zones,
        (rule, history, now, reading, timeZone) => {
          const facts = { ...history, timeZone };
          const verdict = evaluateProcess(rule, facts, now, reading);
          const days = creditByDay(rule, facts, verdict, now);
          const sumMs = days.reduce((sum, day) => sum + day.creditedMs, 0);
          expect(sumMs).toBe(Math.round(verdict.creditedHours * hourMs));
          if (rule.basis === 'daily') {
            const whole = days.filter((day) => day.creditedMs === day.endMs - day.startMs);
            expect(whole).toHaveLength(verdict.creditedDays);
          }
          const seen = facts.checks.filter((check) => check.occurredAtMs <= now).length;
          expect(days.reduce((sum, day) => sum + day.checks, 0)).toBe(seen);
          for (const [index, day] of days.entries()) {
            expect(day.creditedMs).toBeLessThanOrEqual(day.endMs - day.startMs);
            if (index > 0) expect(day.startMs).toBeGreaterThanOrEqual(days[index - 1]!.endMs);
          }
          if (sumMs > 0) credited += 1;
        },
      ),
      seeded,
    );
    expect(credited).toBeGreaterThan(100);
  });

  it('has 23 hours in a day on which clocks go forward, and 25 where they go back', () => {
    const rule = ruleWith();
    const spring = hotAt(['2024-03-09T12:00-07:00', '2024-03-10T12:00-06:00', '2024-03-11T12:00-06:00']);
    expect(daysOf(rule, spring).map(({ day, creditedMs }) => [day, creditedMs / hourMs])).toEqual([
      ['2024-03-09', 12],
      ['2024-03-10', 23],
      ['2024-03-11', 12],
    ]);
    const autumn = hotAt(['2024-11-02T18:00-06:00', '2024-11-03T12:00-07:00', '2024-11-04T06:00-07:00']);
    expect(daysOf(rule, autumn).map(({ day, creditedMs }) => [day, creditedMs / hourMs])).toEqual([
      ['2024-11-02', 6],
      ['2024-11-03', 25],
      ['2024-11-04', 6],
    ]);
  });

  it('tells of a day without a check that others credit, and leaves out one that nothing is known of', () => {
    const facts = hotAt(['2024-05-06T23:00-06:00', '2024-05-08T01:00-06:00', '2024-05-12T01:00-06:00']);
    const days = daysOf(ruleWith({ longestGapHours: 30, continuity: 'cumulative' }), facts);
    expect(
      days.map(({ day, checks, creditedMs, longestGapMs }) => [
        day,
        checks,
        creditedMs / hourMs,
        longestGapMs! / hourMs,
      ]),
    ).toEqual([
      ['2024-05-06', 1, 1, 26],
      ['2024-05-07', 0, 24, 26],
      ['2024-05-08', 1, 1, 96],
      ['2024-05-12', 1, 0, 96],
    ]);
  });

  it('tells the coldest and the hottest of what was read, how much of it counted, and the turns', () => {
    const facts = hotAt(['2024-05-06T08:00-06:00', '2024-05-06T20:00-06:00'], ['2024-05-06T09:00-06:00']);
    const [first, second] = facts.checks;
    const probe = (position: string, temperatureDeciC: number) => ({
      position,
      depthMm: null,
      temperatureDeciC,
    });
    const checks = [
      { ...first!, readings: [probe('edge', 571), probe('core', 660)] },
      { ...second!, readings: [probe('core', 640)] },
    ];
    const rule = ruleWith({ minimumProbes: 2 });
    expect(daysOf(rule, { ...facts, checks })).toMatchObject([
      {
        checks: 2,
        counted: 1,
        lowestDeciC: 571,
        highestDeciC: 660,
        longestGapMs: null,
        turns: 1,
        creditedMs: 0,
      },
    ]);
  });

  it('counts a logger by its instants beside the checks', () => {
    const facts = hotAt(['2024-05-06T08:00-06:00']);
    const fromMs = Date.parse('2024-05-06T08:00-06:00');
    const readings = Array.from({ length: 24 }, (_, index) => ({
      ...{ position: 'core', depthMm: null, temperatureDeciC: 560 + index },
      atMs: fromMs + (index + 1) * hourMs,
    }));
    const rule = ruleWith();
    const days = daysOf(rule, { ...facts, series: [seriesOf('L-1', readings, rule)] });
    expect(days).toMatchObject([
      {
        day: '2024-05-06',
        checks: 1,
        loggerInstants: 15,
        counted: 16,
        lowestDeciC: 560,
        longestGapMs: hourMs,
      },
      { day: '2024-05-07', checks: 0, loggerInstants: 9, counted: 9, highestDeciC: 583 },
    ]);
  });
});
