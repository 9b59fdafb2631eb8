import {
  seriesOf,
  type BatchFacts,
  type Check,
  type LoggerReading,
  type ProbeReading,
  type ProcessRule,
} from '#libs/process';
import fc from 'fast-check';
import { ruleWith, startMs, timeZone } from './batch.js';
import { minuteMs, type Notebook } from './oracle-checks.js';

/** What the evaluator is given of a notebook. */
export function factsOf({ loggers, ...notebook }: Notebook, rule: ProcessRule): BatchFacts {
  return { ...notebook, series: loggers.map(({ logger, readings }) => seriesOf(logger, readings, rule)) };
}

/** A choice of which the first is the likeliest, `plain` times as likely as each of the others. */
function mostly<T, U>(plain: number, first: T, ...others: U[]): fc.Arbitrary<T | U> {
  return fc.constantFrom<T | U>(...new Array<T>(plain).fill(first), ...others);
}

/** Rules with every term there is, each mostly absent, small enough to be met within a few days. */
export const wideRules: fc.Arbitrary<ProcessRule> = fc
  .record({
    duration: fc.integer({ min: 2, max: 14 }).map((hours) => ({ hours })),
    continuity: fc.constantFrom('consecutive' as const, 'cumulative' as const, 'unstated' as const),
    governing: fc.constantFrom('coldest' as const, 'mean' as const, 'coldest-zone' as const),
    thresholdStrict: mostly(2, false, true),
    upperLimitDeciC: mostly(3, null, 706, 766),
    minimumProbes: mostly(3, 1, 2),
    minimumZones: mostly(4, 1, 2),
    minimumDepthMm: mostly(2, null, 300),
    longestGapHours: mostly(1, 3, 6, 12, null),
    graceAfterTurnHours: mostly(2, null, 1, 4),
    turns: mostly(
      3,
      null,
      { count: 1, spacingHours: 0, hotHoursBefore: null },
      { count: 2, spacingHours: 5, hotHoursBefore: null },
      { count: 3, spacingHours: 1, hotHoursBefore: null },
      { count: 1, spacingHours: 0, hotHoursBefore: 3 },
      { count: 2, spacingHours: 2, hotHoursBefore: 2 },
      { count: 3, spacingHours: 6, hotHoursBefore: 4 },
    ),
    peak: mostly(
      6,
      null,
      { thresholdDeciC: 598, strict: false, hours: 1 },
      { thresholdDeciC: 604, strict: true, hours: 3 },
    ),
    average: mostly(
      9,
      null,
      { thresholdDeciC: 592, strict: false },
      { thresholdDeciC: 601, strict: true },
      { thresholdDeciC: 610, strict: false },
    ),
    moisture: mostly(5, null, { leastPercent: 45 }),
    carbonToNitrogen: mostly(5, null, { least: 25, most: 40 }),
  })
  .map((terms) => ruleWith(terms));

/** Rules with a mean and time allowed after a turn, and little besides, so that both come to bear on one run. */
export const graceAndMeanRules: fc.Arbitrary<ProcessRule> = wideRules.map((rule) => ({
  ...rule,
  ...{ graceAfterTurnHours: 4, turns: null, peak: null, average: { thresholdDeciC: 592, strict: false } },
  ...{ moisture: null, carbonToNitrogen: null, upperLimitDeciC: null },
  ...{
    minimumProbes: 1,
    minimumZones: 1,
    minimumDepthMm: null,
    governing: 'mean',
    continuity: 'consecutive',
  },
}));

/**
 * Temperatures are six tenths apart from the threshold of 55 °C, so that a mean of one, two or three of them is a
 * whole number of tenths and sums are exact.
 */
const warmths = [
  ...Array.from({ length: 140 }, (_, index) => 550 + 6 * (index % 20)),
  ...[550, 550, 544, 520, 706, 712, 766, 772, 1000, 1006, 1402],
];
const depths = [450, 450, 450, 450, 450, 450, 300, 300, null, 294];
const zones = [undefined, 'edge', 'core', undefined, null];

/** One probe in one number, plainest first. */
const probes = fc
  .nat(warmths.length * depths.length * zones.length - 1)
  .map((number): Omit<ProbeReading, 'position'> => {
    const zone = zones[number % zones.length];
    const rest = Math.floor(number / zones.length);
    return {
      temperatureDeciC: warmths[rest % warmths.length] ?? NaN,
      depthMm: depths[Math.floor(rest / warmths.length)] ?? null,
      ...(zone === undefined ? {} : { zone }),
    };
  });

type Source = 'hand' | 'L-1' | 'L-2';
interface Visit {
  readonly minute: number;
  readonly source: Source;
  readonly readings: readonly ProbeReading[];
}

/** Mostly an hour or two apart, now and then at once or much later; a logger reads on every ten minutes for a while. */
const visits: fc.Arbitrary<Visit[]> = fc
  .array(
    fc.record({
      pause: fc.oneof(
        { weight: 1, arbitrary: fc.constant(0) },
        { weight: 14, arbitrary: fc.integer({ min: 1, max: 150 }) },
        { weight: 1, arbitrary: fc.integer({ min: 150, max: 900 }) },
      ),
      source: mostly(4, 'hand' as const, 'L-1' as const, 'L-2' as const),
      times: mostly(5, 1, 2, 5, 12),
      probes: fc.array(probes, { minLength: 1, maxLength: 3 }),
    }),
    { maxLength: 26, size: 'max' },
  )
  .map((groups) => {
    let minute = -30;
    return groups.flatMap(({ pause, source, times, probes: some }) => {
      minute += pause;
      const readings = some.map((probe, index) => ({ position: `probe-${index}`, ...probe }));
      const repeated = source === 'hand' ? 1 : times;
      return Array.from({ length: repeated }, (_, index) => {
        if (index > 0) minute += 10;
        return { minute, source, readings };
      });
    });
  });

function checksOf(some: readonly Visit[]): Check[] {
  return some
    .filter(({ source }) => source === 'hand')
    .map(({ minute, readings }, index) => ({
      id: `check-${index}`,
      occurredAtMs: startMs + minute * minuteMs,
      readings,
    }));
}

function loggersOf(some: readonly Visit[]): Notebook['loggers'] {
  return (['L-1', 'L-2'] as const).map((logger) => ({
    logger,
    readings: some
      .filter(({ source }) => source === logger)
      .flatMap(({ minute, readings }): LoggerReading[] =>
        readings.map((reading) => ({ ...reading, atMs: startMs + minute * minuteMs })),
      ),
  }));
}

const later = (hours: number) =>
  fc.integer({ min: 0, max: hours * 60 }).map((minute) => startMs + minute * minuteMs);

const merged = fc.record({
  code: fc.constant('QS-12'),
  occurredAtMs: later(20),
  metAtMs: fc.option(later(20).map((atMs) => atMs - 10 * 60 * minuteMs)),
});

/** Three days or so of a batch with everything that may be known of it. */
export const notebooks: fc.Arbitrary<Notebook> = fc
  .record({
    built: mostly(9, true, false),
    rawAdditions: fc.array(later(20), { maxLength: 1 }),
    mergedFrom: fc.oneof(
      { weight: 3, arbitrary: fc.constant([]) },
      { weight: 1, arbitrary: fc.array(merged, { maxLength: 2 }) },
    ),
    visits,
    turns: fc.array(
      later(60).map((occurredAtMs) => ({ occurredAtMs, kind: 'turn' as const })),
      { maxLength: 12, size: 'max' },
    ),
    moistures: fc.array(fc.record({ occurredAtMs: later(60), percent: mostly(1, 55, 45, 50, 44, 30) }), {
      maxLength: 4,
    }),
    carbonToNitrogen: mostly(2, 30, 25, 40, 41, 24, null, undefined),
  })
  .map(({ built, rawAdditions, visits: some, carbonToNitrogen, ...notebook }) => ({
    ...notebook,
    timeZone,
    rawAdditions: (built ? [startMs, ...rawAdditions] : []).map((occurredAtMs) => ({
      occurredAtMs,
      what: 'leaves',
    })),
    checks: checksOf(some),
    loggers: loggersOf(some),
    ...(carbonToNitrogen === undefined ? {} : { carbonToNitrogen }),
  }));

/** Some time in those days, or soon after. */
export const nowsWithin = later(60);

/** The same batch with all of it so many times as slow, from another instant on. */
export function slowed(notebook: Notebook, times: number, fromMs: number, zone: string): Notebook {
  const move = (ms: number) => fromMs + (ms - startMs) * times;
  const moved = <T extends { readonly occurredAtMs: number }>(items: readonly T[]) =>
    items.map((item) => ({ ...item, occurredAtMs: move(item.occurredAtMs) }));
  return {
    ...notebook,
    timeZone: zone,
    rawAdditions: moved(notebook.rawAdditions),
    checks: moved(notebook.checks),
    turns: moved(notebook.turns),
    mergedFrom: moved(notebook.mergedFrom ?? []).map((batch) => ({
      ...batch,
      metAtMs: batch.metAtMs === null ? null : move(batch.metAtMs),
    })),
    loggers: notebook.loggers.map(({ logger, readings }) => ({
      logger,
      readings: readings.map((reading) => ({ ...reading, atMs: move(reading.atMs) })),
    })),
  };
}

/** A notebook of a batch that was turned once, and found cold soon after. */
export const chilled: fc.Arbitrary<Notebook> = fc
  .tuple(notebooks, later(8), fc.integer({ min: 1, max: 60 }))
  .map(([notebook, turnedMs, minutes]) => ({
    ...notebook,
    rawAdditions: [{ occurredAtMs: startMs, what: 'leaves' }],
    mergedFrom: [],
    turns: [{ occurredAtMs: turnedMs, kind: 'turn' }],
    checks: [
      ...notebook.checks,
      {
        id: 'check-cold',
        occurredAtMs: turnedMs + minutes * minuteMs,
        readings: [{ position: 'probe-0', depthMm: 450, temperatureDeciC: 544 }],
      },
    ],
  }));
