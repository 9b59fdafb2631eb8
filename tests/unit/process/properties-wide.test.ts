import { evaluateProcess, seriesOf, type ProbeReading, type Verdict } from '#libs/process';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { batch, hourMs, ruleWith, startMs } from './batch.js';
import { readingsOfRule, seeded } from './histories.js';
import { factsOf, notebooks, nowsWithin, wideRules } from './notebooks.js';
import { minuteMs, type Notebook } from './oracle-checks.js';

const runs = { ...seeded, numRuns: 400 };
/** No probe is made implausible by being warmed up to this. */
const hottestDeciC = 1000;

it('gives the same verdict in whatever order loggers, their readings, checks, turns and measures come', () => {
  fc.assert(
    fc.property(wideRules, notebooks, nowsWithin, readingsOfRule, (rule, notebook, now, reading) => {
      const backwards: Notebook = {
        ...notebook,
        rawAdditions: notebook.rawAdditions.toReversed(),
        checks: notebook.checks.toReversed(),
        turns: notebook.turns.toReversed(),
        moistures: (notebook.moistures ?? []).toReversed(),
        mergedFrom: (notebook.mergedFrom ?? []).toReversed(),
        loggers: notebook.loggers
          .toReversed()
          .map(({ logger, readings }) => ({ logger, readings: readings.toReversed() })),
      };
      expect(evaluateProcess(rule, factsOf(backwards, rule), now, reading)).toEqual(
        evaluateProcess(rule, factsOf(notebook, rule), now, reading),
      );
    }),
    runs,
  );
});

it('never credits less when it is hotter, unless above an upper limit or hotter than boiling water', () => {
  let gained = 0;
  fc.assert(
    fc.property(
      wideRules,
      notebooks,
      nowsWithin,
      readingsOfRule,
      fc.integer({ min: 1, max: 80 }),
      fc.integer({ min: 1, max: 5 }),
      (limited, notebook, now, reading, riseDeciC, every) => {
        const rule = { ...limited, upperLimitDeciC: null };
        const before = evaluateProcess(rule, factsOf(notebook, rule), now, reading);
        const warmer = factsOf(warmed(notebook, riseDeciC, every), rule);
        const after = evaluateProcess(rule, warmer, now, reading);
        expect(after.metAtMs ?? Infinity).toBeLessThanOrEqual(before.metAtMs ?? Infinity);
        for (const [index, more] of progress(after).entries()) {
          expect(more).toBeGreaterThanOrEqual(progress(before)[index] ?? NaN);
        }
        if (after.creditedHours > before.creditedHours) gained += 1;
      },
    ),
    runs,
  );
  expect(gained).toBeGreaterThan(20);
});

it('is met no later where time is added up than where it must be consecutive', () => {
  const seen = { met: 0, earlier: 0 };
  fc.assert(
    fc.property(wideRules, notebooks, nowsWithin, (asked, notebook, now) => {
      const rule = { ...asked, continuity: 'unstated' as const };
      const facts = factsOf(notebook, rule);
      const added = evaluateProcess(rule, facts, now, 'cumulative').metAtMs ?? Infinity;
      const unbroken = evaluateProcess(rule, facts, now, 'consecutive').metAtMs ?? Infinity;
      expect(added).toBeLessThanOrEqual(unbroken);
      if (added < Infinity) seen.met += 1;
      if (added < unbroken) seen.earlier += 1;
    }),
    { ...runs, numRuns: 1000 },
  );
  expect(Math.min(seen.met / 4, seen.earlier)).toBeGreaterThan(5);
});

it('credits a finer series of one line no less than a coarser one, and no more than the time it was hot', () => {
  const knots = fc.array(
    fc.integer({ min: -8, max: 12 }).map((twelfths) => 550 + 12 * twelfths),
    { minLength: 2, maxLength: 30, size: 'max' },
  );
  const parts = fc.constantFrom(2, 3, 4, 6);
  let finer = 0;
  fc.assert(
    fc.property(knots, parts, fc.constantFrom(1, 2), readingsOfRule, (line, split, gap, continuity) => {
      const rule = ruleWith({ duration: { hours: 3 }, longestGapHours: gap, continuity });
      const verdictOn = (some: number) => {
        const readings = sampled(line, some);
        const now = startMs + (line.length - 1) * hourMs;
        return evaluateProcess(rule, batch({ series: [seriesOf('L-1', readings, rule)] }), now);
      };
      const coarse = verdictOn(1);
      const fine = verdictOn(split);
      expect(fine.metAtMs ?? Infinity).toBeLessThanOrEqual(coarse.metAtMs ?? Infinity);
      if (continuity === 'consecutive') return;
      expect(fine.creditedHours).toBeLessThanOrEqual(hotHours(line) + 1e-9);
      if (fine.metAtMs === null) expect(fine.creditedHours).toBeGreaterThanOrEqual(coarse.creditedHours);
      if (fine.creditedHours > coarse.creditedHours) finer += 1;
    }),
    runs,
  );
  expect(finer).toBeGreaterThan(50);
});

/** How far a verdict has come towards the rule; what is beyond it does not matter. */
function progress({ creditedHours, turnsCredited, required }: Verdict): number[] {
  return [Math.min(creditedHours, required.hours ?? NaN), Math.min(turnsCredited, required.turns)];
}

/** Every so manieth check, and every logger, by so much hotter. */
function warmed(notebook: Notebook, riseDeciC: number, every: number): Notebook {
  const warmer = <T extends ProbeReading>(readings: readonly T[]) =>
    readings.map((reading) => ({
      ...reading,
      temperatureDeciC: Math.max(
        reading.temperatureDeciC,
        Math.min(hottestDeciC, reading.temperatureDeciC + riseDeciC),
      ),
    }));
  return {
    ...notebook,
    checks: notebook.checks.map((check, index) =>
      index % every === 0 ? { ...check, readings: warmer(check.readings) } : check,
    ),
    loggers: notebook.loggers.map(({ logger, readings }) => ({ logger, readings: warmer(readings) })),
  };
}

/** A line with a corner every hour, read so many times an hour. */
function sampled(line: readonly number[], times: number) {
  return Array.from({ length: (line.length - 1) * times + 1 }, (_, index) => {
    const left = line[Math.floor(index / times)] ?? NaN;
    const right = line[Math.ceil(index / times)] ?? NaN;
    const temperatureDeciC = left + ((right - left) * (index % times)) / times;
    return {
      position: 'core',
      depthMm: null,
      temperatureDeciC,
      atMs: startMs + (index * 60 * minuteMs) / times,
    };
  });
}

/** How long the line itself was at or above 55 °C. */
function hotHours(line: readonly number[]): number {
  return line.slice(1).reduce((hours, right, index) => {
    const left = line[index] ?? NaN;
    const [low, high] = [Math.min(left, right), Math.max(left, right)];
    if (low >= 550) return hours + 1;
    return hours + (high > 550 ? (high - 550) / (high - low) : 0);
  }, 0);
}
