import {
  advanceProcess,
  beginProcess,
  concludeProcess,
  evaluateProcess,
  evaluateReadings,
  seriesOf,
  type BatchFacts,
  type ProcessRule,
} from '#libs/process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { at, batch, check, of, ruleWith, startMs, verdictOf } from './batch.js';
import { histories, nows, readingsOfRule, rules, seeded } from './histories.js';

const extras = fc.record({
  peak: fc.option(fc.constant({ thresholdDeciC: 600, strict: true, hours: 2 })),
  average: fc.option(fc.constant({ thresholdDeciC: 620, strict: false })),
  moisture: fc.option(fc.constant({ leastPercent: 40 })),
  carbonToNitrogen: fc.option(fc.constant({ least: 25, most: 40 })),
});
const daily = { basis: 'daily', duration: { days: 1 }, longestGapHours: null } as const;
const anyRule = fc
  .tuple(fc.oneof(rules(), rules(daily)), extras)
  .map(([rule, more]): ProcessRule => ({ ...rule, ...more }));
const moistures = fc.array(
  fc.record({
    occurredAtMs: fc.integer({ min: 1, max: 4000 }).map((minute) => startMs + minute * 60_000),
    percent: fc.integer({ min: 35, max: 60 }),
  }),
  { maxLength: 5 },
);

/** A logger's columns of the same checks, so that both ways of looking are read. */
function withSeries(facts: BatchFacts, rule: ProcessRule): BatchFacts {
  const readings = facts.checks.flatMap((each, index) =>
    index % 2 === 0 ? [] : each.readings.map((reading) => ({ ...reading, atMs: each.occurredAtMs })),
  );
  const checks = facts.checks.filter((_, index) => index % 2 === 0);
  return { ...facts, checks, series: [seriesOf('L-2', readings, rule)], carbonToNitrogen: 30 };
}

describe('a record read piece by piece', () => {
  it('gives the very verdict it gives read at once, wherever it is cut', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(
        fc.tuple(anyRule, histories, moistures),
        nows,
        fc.array(nows, { maxLength: 4 }),
        readingsOfRule,
        ([rule, history, measures], now, cuts, reading) => {
          const facts = withSeries({ ...history, moistures: measures }, rule);
          const whole = evaluateProcess(rule, facts, now, reading);
          let state = beginProcess(rule, facts.timeZone, reading);
          for (const cut of [...cuts.filter((each) => each < now).sort((a, b) => a - b), now]) {
            state = JSON.parse(JSON.stringify(advanceProcess(state, facts, cut))) as typeof state;
          }
          const kept = JSON.stringify(state);
          expect(concludeProcess(state, now)).toEqual(whole);
          expect(JSON.stringify(state)).toBe(kept);
          seen.add(whole.status);
        },
      ),
      seeded,
    );
    expect([...seen]).toEqual(
      expect.arrayContaining(['met', 'in-progress', 'interrupted', 'insufficient-data']),
    );
  });

  it('passes over what was read before, and leaves out what is later', () => {
    const facts = batch({ checks: [check(0, 600), check(20, 600), check(40, 600)] });
    const early = advanceProcess(beginProcess(ruleWith(), facts.timeZone), facts, at(20));
    expect(advanceProcess(early, facts, at(20))).toEqual(early);
    expect(of(concludeProcess(early, at(20)), 'ignored')).toHaveLength(1);
    expect(concludeProcess(advanceProcess(early, facts, at(40)), at(40)).creditedHours).toBe(40);
  });

  it('holds what was found and not what was read', () => {
    const minutes = Array.from({ length: 5000 }, (_, minute) => ({
      ...{ atMs: at(minute / 60), position: 'core', zone: null, depthMm: null, temperatureDeciC: 600 },
    }));
    const facts = batch({ series: [seriesOf('L-2', minutes, ruleWith())] });
    const state = advanceProcess(beginProcess(ruleWith(), facts.timeZone), facts, at(100));
    expect(JSON.stringify(state).length).toBeLessThan(4000);
  });
});

describe('both readings', () => {
  const checks = [check(0, 600), check(24, 600), check(25, 500), check(26, 600), check(50, 600)];

  it('are given where the rule leaves it open, that of the permit first', () => {
    const unstated = ruleWith({ continuity: 'unstated' });
    const { verdict, other } = evaluateReadings(unstated, batch({ checks }), at(50), 'cumulative');
    expect([verdict.reading, verdict.status]).toEqual(['cumulative', 'met']);
    expect([other?.reading, other?.status]).toEqual(['consecutive', 'in-progress']);
    expect(evaluateReadings(ruleWith(), batch({ checks }), at(50)).other).toBeNull();
  });
});

describe('a logger', () => {
  const reading = (hours: number, temperatureDeciC: number, position = 'core') => ({
    ...{ atMs: at(hours), position, zone: null, depthMm: null, temperatureDeciC },
  });

  it('has its probes of one instant looked at as one check, whatever order they come in', () => {
    const rule = ruleWith({ minimumProbes: 2 });
    const readings = [
      reading(1, 600),
      reading(0, 590, 'edge'),
      reading(0, 600),
      reading(2, 600),
      reading(2, 1200, 'edge'),
    ];
    const { atMs, lowDeciC, highDeciC, enough, lack } = seriesOf('L-2', readings, rule);
    expect([...atMs]).toEqual([at(0), at(1), at(2)]);
    expect([...lowDeciC]).toEqual([590, 600, 600]);
    expect([...highDeciC]).toEqual([600, 600, 600]);
    expect([...enough]).toEqual([1, 0, 0]);
    expect([...lack]).toEqual([0, 1, 0]);
  });

  it('is named in the evidence, and no check is', () => {
    const series = [
      seriesOf('L-2', [reading(0, 600), reading(10, 600), reading(11, 500), reading(12, 510)], ruleWith()),
    ];
    const verdict = verdictOf([], { facts: { series }, now: 12 });
    expect(of(verdict, 'below-threshold')).toMatchObject([{ checkId: null, fromMs: at(11), toMs: at(12) }]);
    expect(of(verdict, 'below-threshold')[0]?.text).toContain('2 readings of logger L-2 from');
    expect(of(verdict, 'clock-started')[0]?.text).toContain('first check or reading');
  });

  it('and a check of one instant: the worst stands', () => {
    const series = [seriesOf('L-2', [reading(0, 600), reading(10, 600)], ruleWith())];
    expect(verdictOf([check(10, 540)], { facts: { series } }).status).toBe('interrupted');
    expect(verdictOf([check(10, 620)], { facts: { series } }).creditedHours).toBe(10);
  });

  it('that hovers about the threshold is told as a sum for each day', () => {
    const hovering = Array.from({ length: 600 }, (_, minute) =>
      reading(minute / 60, minute % 2 === 0 ? 560 : 540),
    );
    const series = [seriesOf('L-2', hovering, ruleWith())];
    const verdict = verdictOf([], { facts: { series }, now: 10 });
    expect(verdict.evidence.length).toBeLessThan(8);
    expect(of(verdict, 'below-threshold')[0]?.text).toContain('300 readings of logger L-2');
    expect(of(verdict, 'below-threshold')[0]?.text).toContain('So it was 300 times, told together.');
  });

  it('may be read out of order', () => {
    const { atMs, ...columns } = seriesOf(
      'L-2',
      [reading(0, 600), reading(10, 600), reading(20, 600)],
      ruleWith(),
    );
    const series = [{ ...columns, atMs: atMs.toReversed() }];
    expect(verdictOf([], { facts: { series }, now: 20 }).creditedHours).toBe(20);
  });
});
