import {
  evaluateCure,
  evaluateProcess,
  seriesOf,
  validateRule,
  verdictStatuses,
  type BatchFacts,
} from '#libs/process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { at, check, hourMs, of, raw, ruleWith, startMs, turn, verdictOf } from './batch.js';
import { seeded } from './histories.js';

const finite = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.integer({ min: startMs, max: startMs + 100 * hourMs }),
);
const maybe = fc.option(finite);

const wildRule = fc
  .record({
    thresholdDeciC: finite,
    upperLimitDeciC: maybe,
    duration: fc.oneof(fc.record({ hours: finite }), fc.record({ days: finite })),
    basis: fc.constantFrom('elapsed' as const, 'daily' as const),
    continuity: fc.constantFrom('consecutive' as const, 'cumulative' as const, 'unstated' as const),
    governing: fc.constantFrom('coldest' as const, 'mean' as const, 'coldest-zone' as const),
    thresholdStrict: fc.boolean(),
    peak: fc.option(fc.record({ thresholdDeciC: finite, strict: fc.boolean(), hours: finite })),
    average: fc.option(fc.record({ thresholdDeciC: finite, strict: fc.boolean() })),
    moisture: fc.option(fc.record({ leastPercent: finite })),
    carbonToNitrogen: fc.option(fc.record({ least: finite, most: finite })),
    minimumProbes: finite,
    minimumZones: finite,
    minimumDepthMm: maybe,
    longestGapHours: maybe,
    turns: fc.option(fc.record({ count: finite, spacingHours: finite, hotHoursBefore: maybe })),
    graceAfterTurnHours: maybe,
  })
  .map((changes) => ruleWith(changes));

const wildReading = fc.record({
  position: fc.string(),
  zone: fc.option(fc.string()),
  depthMm: maybe,
  temperatureDeciC: finite,
});

const wildSeries = fc
  .tuple(
    fc.string(),
    fc.array(fc.tuple(wildReading, finite)),
    fc.constantFrom('coldest' as const, 'mean' as const, 'coldest-zone' as const),
  )
  .map(([logger, readings, governing]) =>
    seriesOf(
      logger,
      readings.map(([reading, atMs]) => ({ ...reading, atMs })),
      ruleWith({ governing }),
    ),
  );

const wildFacts: fc.Arbitrary<BatchFacts> = fc.record({
  timeZone: fc.oneof(fc.constantFrom('Pacific/Apia', 'Europe/London', 'Nowhere/Land', ''), fc.string()),
  rawAdditions: fc.array(fc.record({ occurredAtMs: finite, what: fc.string() })),
  checks: fc.array(
    fc.record({
      id: fc.string(),
      occurredAtMs: finite,
      readings: fc.array(wildReading),
    }),
  ),
  turns: fc.array(
    fc.record({ occurredAtMs: finite, kind: fc.constantFrom('turn' as const, 'move' as const) }),
  ),
  mergedFrom: fc.array(fc.record({ code: fc.string(), occurredAtMs: finite, metAtMs: maybe })),
  series: fc.array(wildSeries, { maxLength: 3 }),
  moistures: fc.array(fc.record({ occurredAtMs: finite, percent: finite })),
  carbonToNitrogen: maybe,
});

describe('whatever finite numbers come in', () => {
  it('a verdict comes out', () => {
    fc.assert(
      fc.property(wildRule, wildFacts, finite, (rule, facts, now) => {
        const verdict = evaluateProcess(rule, facts, now);
        expect(verdictStatuses).toContain(verdict.status);
        expect(verdict.status === 'met').toBe(verdict.metAtMs !== null);
        expect(Array.isArray(validateRule(rule))).toBe(true);
      }),
      seeded,
    );
  });

  it('a cure verdict comes out', () => {
    fc.assert(
      fc.property(
        finite,
        maybe,
        maybe,
        wildFacts,
        finite,
        (cureDays, startedAtMs, reheatDeciC, facts, now) => {
          const cure = evaluateCure(
            { cureDays, startedAtMs, reheatDeciC, checks: facts.checks, turns: facts.turns },
            now,
            facts.timeZone,
          );
          expect(cure.status === 'done').toBe(cure.doneAtMs !== null);
        },
      ),
      seeded,
    );
  });
});

describe('odd but possible records', () => {
  it('may be empty', () => {
    const nothing: BatchFacts = { timeZone: 'UTC', rawAdditions: [], checks: [], turns: [] };
    expect(evaluateProcess(ruleWith(), nothing, startMs)).toMatchObject({
      status: 'not-started',
      creditedHours: 0,
      creditedDays: 0,
      turnsCredited: 0,
      clockStartedAtMs: null,
      metAtMs: null,
      creditedSpans: [],
      evidence: [],
      heatIntegral: null,
    });
  });

  it('may hold only checks from before the first raw material', () => {
    const verdict = verdictOf([check(-20, 600), check(-10, 600)], { now: 5 });
    expect(verdict).toMatchObject({ status: 'not-started', creditedHours: 0 });
    expect(verdict.evidence.map(({ kind }) => kind)).toEqual(['raw-addition']);
  });

  it('may name a time zone nobody knows, which is said', () => {
    const verdict = verdictOf([check(0, 600)], { facts: { timeZone: 'Nowhere/Land' } });
    expect(verdict.notes).toContain('The time zone "Nowhere/Land" is not known. Times are given in UTC.');
    expect(of(verdict, 'clock-started')[0]?.text).toContain('6 May 2024 14:00');
  });

  it('may be a year of readings, one a minute from eight probes', () => {
    const probes = Array.from({ length: 8 }, (_, index) => ({
      position: `probe-${index}`,
      depthMm: null,
      temperatureDeciC: 560 + index,
    }));
    const checks = Array.from({ length: 525_600 }, (_, minute) => ({
      id: `check-${minute}`,
      occurredAtMs: at(minute / 60),
      readings: probes,
    }));
    const facts = { timeZone: 'America/Denver', rawAdditions: [raw(0)], checks, turns: [turn(5)] };
    const verdict = evaluateProcess(ruleWith(), facts, at(9000));
    expect(verdict).toMatchObject({ status: 'met', metAtMs: at(48), creditedHours: 525_599 / 60 });
    expect(verdict.evidence.map(({ kind }) => kind)).toEqual([
      'raw-addition',
      'clock-started',
      'credited',
      'met',
    ]);
  });
});
