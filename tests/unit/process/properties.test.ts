import { evaluateProcess, type BatchFacts, type Verdict } from '#libs/process';
import { temperatureToDeciC } from '#libs/quantities';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hourMs } from './batch.js';
import { histories, nows, readingsOfRule, rules, seeded } from './histories.js';

const daily = { basis: 'daily', duration: { days: 1 }, longestGapHours: null } as const;
const anyRule = fc.oneof({ weight: 3, arbitrary: rules() }, { weight: 1, arbitrary: rules(daily) });

describe('for random histories', () => {
  it('gives the same verdict in whatever order the facts come', () => {
    fc.assert(
      fc.property(
        anyRule,
        histories,
        nows,
        readingsOfRule,
        fc.infiniteStream(fc.nat()),
        (rule, facts, now, reading, random) => {
          const shuffled = {
            ...facts,
            rawAdditions: shuffle(facts.rawAdditions, random),
            checks: shuffle(facts.checks, random),
            turns: shuffle(facts.turns, random),
          };
          expect(evaluateProcess(rule, shuffled, now, reading)).toEqual(
            evaluateProcess(rule, facts, now, reading),
          );
        },
      ),
      { ...seeded, numRuns: 100 },
    );
  });

  it('never credits less when a reading is hotter', () => {
    fc.assert(
      fc.property(
        anyRule,
        histories,
        nows,
        readingsOfRule,
        fc.array(fc.tuple(fc.nat(), fc.nat(), fc.integer({ min: 1, max: 200 })), {
          minLength: 1,
          maxLength: 3,
        }),
        (rule, facts, now, reading, heats) => {
          const before = evaluateProcess(rule, facts, now, reading);
          const after = evaluateProcess(rule, heats.reduce(heated, facts), now, reading);
          expect(after.metAtMs ?? Infinity).toBeLessThanOrEqual(before.metAtMs ?? Infinity);
          for (const [less, more] of progress(before).map((each, index) => [each, progress(after)[index]])) {
            expect(more).toBeGreaterThanOrEqual(less ?? NaN);
          }
        },
      ),
      seeded,
    );
  });

  it('keeps a rule met, at the same instant, as time goes on', () => {
    fc.assert(
      fc.property(anyRule, histories, nows, nows, readingsOfRule, (rule, history, one, other, reading) => {
        const added = history.rawAdditions.filter((raw) => raw.occurredAtMs <= Math.min(one, other));
        const facts = { ...history, rawAdditions: added };
        const early = evaluateProcess(rule, facts, Math.min(one, other), reading);
        const late = evaluateProcess(rule, facts, Math.max(one, other), reading);
        if (early.metAtMs !== null) expect(late.metAtMs).toBe(early.metAtMs);
      }),
      seeded,
    );
  });

  it('is not moved by what comes after now', () => {
    fc.assert(
      fc.property(anyRule, histories, nows, readingsOfRule, (rule, facts, now, reading) => {
        const { evidence, ...verdict } = evaluateProcess(rule, facts, now, reading);
        const past = evaluateProcess(rule, until(facts, now), now, reading);
        expect({ ...verdict, evidence: evidence.filter(({ kind }) => kind !== 'ignored') }).toEqual(past);
      }),
      { ...seeded, numRuns: 100 },
    );
  });

  it('shows credited spans in order, apart, since the last raw material, and adding up', () => {
    fc.assert(
      fc.property(anyRule, histories, nows, readingsOfRule, (rule, facts, now, reading) => {
        const { creditedSpans, creditedHours, evidence } = evaluateProcess(rule, facts, now, reading);
        const additions = facts.rawAdditions.map((raw) => raw.occurredAtMs).filter((ms) => ms <= now);
        let end = Math.max(...additions) - 1;
        for (const { fromMs, toMs } of creditedSpans) {
          expect(fromMs).toBeGreaterThan(end);
          expect(toMs).toBeGreaterThan(fromMs);
          end = toMs;
        }
        expect(end).toBeLessThanOrEqual(now);
        const total = creditedSpans.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);
        expect(creditedHours).toBeCloseTo(total / hourMs, 9);
        for (const span of creditedSpans)
          expect(evidence).toContainEqual(expect.objectContaining({ kind: 'credited', ...span }));
        expect(evidence.map(({ fromMs }) => fromMs)).toEqual(
          evidence.map(({ fromMs }) => fromMs).toSorted((a, b) => a - b),
        );
      }),
      seeded,
    );
  });

  it('gives one verdict for readings taken in °C and in °F', () => {
    fc.assert(
      fc.property(rules(), histories, nows, readingsOfRule, (rule, facts, now, reading) => {
        const inCelsius = entered(facts, (deciC) => ({ value: deciC / 10, unit: 'C' }));
        const inFahrenheit = entered(facts, (deciC) => ({ value: (deciC * 18 + 3200) / 100, unit: 'F' }));
        expect(evaluateProcess(rule, inFahrenheit, now, reading)).toEqual(
          evaluateProcess(rule, inCelsius, now, reading),
        );
      }),
      { ...seeded, numRuns: 100 },
    );
  });
});

/** How far a verdict has come towards the rule; what is beyond it does not matter. */
function progress({ creditedHours, creditedDays, turnsCredited, required }: Verdict): number[] {
  return [
    Math.min(creditedHours, required.hours ?? Infinity, (required.days ?? Infinity) * 23),
    Math.min(creditedDays, required.days ?? (required.hours ?? 0) / 24),
    Math.min(turnsCredited, required.turns),
  ];
}

function heated(facts: BatchFacts, [which, probe, riseDeciC]: [number, number, number]): BatchFacts {
  const target = facts.checks[which % Math.max(1, facts.checks.length)];
  const checks = facts.checks.map((check) => {
    if (check !== target) return check;
    const readings = check.readings.map((reading, index) =>
      index === probe % check.readings.length
        ? { ...reading, temperatureDeciC: reading.temperatureDeciC + riseDeciC }
        : reading,
    );
    return { ...check, readings };
  });
  return { ...facts, checks };
}

function until(facts: BatchFacts, now: number): BatchFacts {
  const past = <T extends { occurredAtMs: number }>(items: readonly T[]) =>
    items.filter((item) => item.occurredAtMs <= now);
  return {
    ...facts,
    rawAdditions: past(facts.rawAdditions),
    checks: past(facts.checks),
    turns: past(facts.turns),
  };
}

function entered(
  facts: BatchFacts,
  entry: (deciC: number) => { value: number; unit: 'C' | 'F' },
): BatchFacts {
  const checks = facts.checks.map((check) => ({
    ...check,
    readings: check.readings.map((reading) => ({
      ...reading,
      temperatureDeciC: temperatureToDeciC(entry(reading.temperatureDeciC)),
    })),
  }));
  return { ...facts, checks };
}

function shuffle<T>(items: readonly T[], random: fc.Stream<number>): T[] {
  const keys = [...random.take(items.length)];
  return items
    .map((item, index) => ({ item, key: keys[index] ?? 0 }))
    .toSorted((a, b) => a.key - b.key)
    .map(({ item }) => item);
}
