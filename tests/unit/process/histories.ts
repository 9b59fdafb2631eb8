import type { BatchFacts, Check, ProcessRule } from '#libs/process';
import fc from 'fast-check';
import { ruleWith, startMs, timeZone } from './batch.js';

const minuteMs = 60_000;

/** The same random histories on every run. */
export const seeded = { seed: 20240506, numRuns: 300 };

/** Random rules small enough to be met within a few days of random checks. */
export function rules(changes: Partial<ProcessRule> = {}): fc.Arbitrary<ProcessRule> {
  return fc
    .record({
      duration: fc.integer({ min: 2, max: 16 }).map((hours) => ({ hours })),
      continuity: fc.constantFrom('consecutive' as const, 'cumulative' as const, 'unstated' as const),
      governing: fc.constantFrom('coldest' as const, 'mean' as const),
      minimumProbes: fc.constantFrom(1, 2),
      longestGapHours: fc.constantFrom(3, 6, 12),
      turns: fc.option(
        fc.record({
          count: fc.integer({ min: 1, max: 3 }),
          spacingHours: fc.constantFrom(0, 1, 5),
          hotHoursBefore: fc.constant(null),
        }),
      ),
      graceAfterTurnHours: fc.option(fc.constantFrom(1, 4)),
    })
    .map((random) => ruleWith({ ...random, ...changes }));
}

const hot = fc.integer({ min: 550, max: 700 });
const mixed = fc.integer({ min: 450, max: 700 });

/** Mostly hot, so that runs get long enough to meet something. */
const readings = fc
  .oneof(
    { weight: 12, arbitrary: fc.array(hot, { minLength: 1, maxLength: 3 }) },
    { weight: 1, arbitrary: fc.array(mixed, { minLength: 1, maxLength: 3 }) },
  )
  .map((temperatures) =>
    temperatures.map((temperatureDeciC, index) => ({
      position: `probe-${index}`,
      depthMm: null,
      temperatureDeciC,
    })),
  );

/** One check after another, mostly an hour or two apart, now and then longer; at most one a minute. */
const checks: fc.Arbitrary<Check[]> = fc
  .array(
    fc.tuple(
      fc.oneof(
        { weight: 10, arbitrary: fc.integer({ min: 1, max: 150 }) },
        { weight: 1, arbitrary: fc.integer({ min: 150, max: 900 }) },
      ),
      readings,
    ),
    { maxLength: 40, size: 'max' },
  )
  .map((visits) => {
    let minute = -30;
    return visits.map(([pause, probes]) => {
      minute += pause;
      return { id: `check-${minute}`, occurredAtMs: startMs + minute * minuteMs, readings: probes };
    });
  });

const later = (hours: number) =>
  fc.integer({ min: 1, max: hours * 60 }).map((minute) => startMs + minute * minuteMs);

/** Two days or so of a batch, built at their start and perhaps added to. */
export const histories: fc.Arbitrary<BatchFacts> = fc.record({
  timeZone: fc.constant(timeZone),
  rawAdditions: fc
    .array(later(20), { maxLength: 2 })
    .map((instants) => [startMs, ...instants].map((occurredAtMs) => ({ occurredAtMs, what: 'leaves' }))),
  checks,
  turns: fc.array(
    later(60).map((occurredAtMs) => ({ occurredAtMs, kind: 'turn' as const })),
    { maxLength: 15, size: 'max' },
  ),
});

/** Some time in those days, or soon after. */
export const nows = later(72);

export const readingsOfRule = fc.constantFrom('consecutive' as const, 'cumulative' as const);
