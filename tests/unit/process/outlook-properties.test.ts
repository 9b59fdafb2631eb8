import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BatchFacts,
  type Check,
  type CureFacts,
  evaluateCure,
  evaluateProcess,
  type GateOutlook,
  outlookOf,
  type ProcessRule,
  type RuleReading,
} from '#libs/process';
import { at, hourMs, ruleWith, startMs, timeZone } from './batch.js';
import { histories, rules, seeded } from './histories.js';

const gate = { key: 'process-rule', title: 'Process rule', state: 'unmet' as const, text: 'Not met.' };

/** What is expected of the rule's gate; null when it is met already. */
function expectedOf(
  rule: ProcessRule,
  facts: BatchFacts,
  nowMs: number,
  reading: RuleReading,
): GateOutlook | null {
  const verdict = evaluateProcess(rule, facts, nowMs, reading);
  if (verdict.status === 'met') return null;
  const given = {
    stage: 'active' as const,
    ...{ timeZone, gates: [gate], turns: facts.turns, cure: null, lastLookedAtMs: null, samples: [] },
    processes: [{ gate: gate.key, verdict }],
  };
  return outlookOf(given, nowMs).gates[0] ?? null;
}

const hotCheck = (occurredAtMs: number): Check => ({
  id: `future-${occurredAtMs}`,
  occurredAtMs,
  readings: [1, 2, 3].map((probe) => ({ position: `probe-${probe}`, depthMm: null, temperatureDeciC: 600 })),
});

/** The first of the instants, in order, at which the records show the rule met; null when none does. Once met, it stays so. */
function shownAt(rule: ProcessRule, facts: BatchFacts, instants: readonly number[], reading: RuleReading) {
  let [low, high] = [0, instants.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (evaluateProcess(rule, facts, instants[middle] ?? 0, reading).status === 'met') high = middle;
    else low = middle + 1;
  }
  return instants[low] ?? null;
}

/** From an instant on to another, one after the other; each pause is a part (0 to 1) between the least and the most there may be. */
function going(fromMs: number, toMs: number, parts: readonly number[], leastMs: number, mostMs: number) {
  const instants = [Math.floor(fromMs)];
  for (let ms = fromMs, index = 0; ms <= toMs; index += 1) {
    ms += Math.max(60_000, leastMs + (parts[index % parts.length] ?? 0) * (mostMs - leastMs));
    instants.push(Math.floor(ms));
  }
  return instants;
}

const parts = (count: number) =>
  fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: count, maxLength: count });
const reading = fc.constantFrom('consecutive' as const, 'cumulative' as const);
const past = (facts: BatchFacts, nowMs: number): BatchFacts => ({
  ...facts,
  rawAdditions: facts.rawAdditions.filter(({ occurredAtMs }) => occurredAtMs <= nowMs),
  checks: facts.checks.filter(({ occurredAtMs }) => occurredAtMs <= nowMs),
  turns: facts.turns.filter(({ occurredAtMs }) => occurredAtMs <= nowMs),
});

/** The start of the run and every turn that counts, as the verdict tells them once one more check holds. */
function turnsOfRun(rule: ProcessRule, facts: BatchFacts, nowMs: number, read: RuleReading): number[] {
  const withOneMore = { ...facts, checks: [...facts.checks, hotCheck(nowMs + 1)] };
  const { evidence, clockStartedAtMs } = evaluateProcess(rule, withOneMore, nowMs + 1, read);
  const counted = evidence
    .filter(({ kind, fromMs }) => kind === 'turn-credited' && fromMs >= (clockStartedAtMs ?? Infinity))
    .map(({ fromMs }) => fromMs);
  return [clockStartedAtMs ?? nowMs, ...counted];
}

/** The longest pause between them. */
function paceOf(rule: ProcessRule, instants: readonly number[]): number {
  const longest = Math.max(0, ...instants.map((ms, index) => ms - (instants[index - 1] ?? ms)));
  return Math.max(longest, (rule.turns?.spacingHours ?? 0) * hourMs, 60_000);
}

describe('if readings go on as now', () => {
  const cases = fc.record({
    rule: rules(),
    history: histories,
    nowHours: fc.integer({ min: 1, max: 60 }),
    reading,
    pauses: parts(40),
    turnPauses: parts(8),
  });

  it('the rule is met inside the interval', () => {
    let closed = 0;
    fc.assert(
      fc.property(cases, ({ rule, history, nowHours, reading, pauses, turnPauses }) => {
        const nowMs = at(nowHours);
        const facts = past(history, nowMs);
        const expected = expectedOf(rule, facts, nowMs, reading);
        if (expected?.latestMs == null || expected.earliestMs === null) return;
        closed += 1;
        const { creditedSpans, clockStartedAtMs, required } = evaluateProcess(rule, facts, nowMs, reading);
        const everyMs = Math.min(24, required.longestGapHours ?? 24) * hourMs;
        const untilMs = expected.latestMs + everyMs;
        const heldMs = creditedSpans.at(-1)?.toMs ?? clockStartedAtMs ?? nowMs;
        const gapMs = (required.longestGapHours ?? 24) * hourMs;
        const firstMs = Math.min(nowMs + everyMs * (pauses[0] ?? 0) + 1, heldMs + gapMs);
        const checks = going(firstMs, untilMs, pauses, everyMs / 8, everyMs);
        const spacingMs = (rule.turns?.spacingHours ?? 0) * hourMs;
        const turned = turnsOfRun(rule, facts, nowMs, reading);
        const pace = paceOf(rule, turned);
        const nextMs = Math.max(nowMs, turned.length > 1 ? (turned.at(-1) ?? nowMs) + spacingMs : nowMs);
        const turns = going(nextMs, untilMs, turnPauses, Math.max(spacingMs, pace / 4), pace).map(
          (occurredAtMs) => ({ occurredAtMs, kind: 'turn' as const }),
        );
        const future = {
          ...facts,
          checks: [...facts.checks, ...checks.map(hotCheck)],
          turns: [...facts.turns, ...turns],
        };
        const shown = shownAt(rule, future, checks, reading);
        expect(shown).not.toBeNull();
        expect(shown).toBeGreaterThanOrEqual(expected.earliestMs - 1);
        expect(shown).toBeLessThanOrEqual(expected.latestMs + 1);
      }),
      { ...seeded, numRuns: 500 },
    );
    expect(closed).toBeGreaterThan(30);
  });

  it('the rule is never met before the earliest, however often it is checked and turned', () => {
    let met = 0;
    fc.assert(
      fc.property(cases, ({ rule, history, nowHours, reading, pauses }) => {
        const nowMs = at(nowHours);
        const facts = past(history, nowMs);
        const expected = expectedOf(rule, facts, nowMs, reading);
        if (expected?.earliestMs == null) return;
        const checks = going(nowMs + 600_000, nowMs + 60 * hourMs, pauses, 600_000, 2 * hourMs);
        const turns = checks.map((ms) => ({ occurredAtMs: ms - 1, kind: 'turn' as const }));
        const future = {
          ...facts,
          checks: [...facts.checks, ...checks.map(hotCheck)],
          turns: [...facts.turns, ...turns],
        };
        const shown = shownAt(rule, future, checks, reading);
        if (shown === null) return;
        met += 1;
        expect(shown).toBeGreaterThanOrEqual(expected.earliestMs - 1);
      }),
      seeded,
    );
    expect(met).toBeGreaterThan(100);
  });

  it('a rule that counts local days is met inside the interval', () => {
    let closed = 0;
    const daily = fc.record({
      days: fc.integer({ min: 1, max: 5 }),
      past: fc.integer({ min: 0, max: 6 }),
      cold: fc.option(fc.integer({ min: 0, max: 60 })),
      nowHour: fc.integer({ min: 0, max: 23 }),
      reading,
      startHour: fc.integer({ min: 0, max: 23 }),
    });
    fc.assert(
      fc.property(daily, ({ days, past: pastDays, cold, nowHour, reading, startHour }) => {
        const rule = ruleWith({
          basis: 'daily',
          duration: { days },
          longestGapHours: null,
          continuity: 'unstated',
        });
        const begun = startMs - 8 * hourMs + startHour * hourMs;
        const nowMs = begun + pastDays * 24 * hourMs + nowHour * hourMs;
        const hours = Array.from({ length: pastDays * 4 + 1 }, (_, index) => begun + index * 6 * hourMs);
        const checks = hours.filter((ms) => ms <= nowMs).map(hotCheck);
        if (cold !== null) {
          const ms = begun + cold * 2 * hourMs;
          if (ms <= nowMs)
            checks.push({
              ...hotCheck(ms),
              id: 'cold',
              readings: [{ position: 'x', depthMm: null, temperatureDeciC: 400 }],
            });
        }
        const facts: BatchFacts = {
          timeZone,
          rawAdditions: [{ occurredAtMs: begun, what: 'leaves' }],
          checks,
          turns: [],
        };
        const expected = expectedOf(rule, facts, nowMs, reading);
        if (expected?.earliestMs == null) return;
        const future = Array.from({ length: 40 }, (_, index) => nowMs + 1 + index * 6 * hourMs);
        const all = { ...facts, checks: [...checks, ...future.map(hotCheck)] };
        const instants = Array.from({ length: 24 * 10 }, (_, index) => nowMs + index * hourMs);
        const shown = shownAt(rule, all, instants, reading);
        expect(shown).not.toBeNull();
        expect(shown).toBeGreaterThanOrEqual(expected.earliestMs);
        if (expected.latestMs === null) return;
        closed += 1;
        expect(shown).toBeLessThanOrEqual(expected.latestMs + hourMs);
      }),
      seeded,
    );
    expect(closed).toBeGreaterThan(50);
  });

  it('a cure is done at the instant told', () => {
    const cures = fc.record({
      cureDays: fc.integer({ min: 1, max: 40 }),
      startedHours: fc.integer({ min: 0, max: 100 }),
      hot: fc.array(fc.integer({ min: 1, max: 300 }), { maxLength: 3 }),
      cool: fc.array(fc.integer({ min: 1, max: 300 }), { maxLength: 3 }),
    });
    fc.assert(
      fc.property(cures, ({ cureDays, startedHours, hot, cool }) => {
        const nowMs = at(startedHours + 301);
        const found = (hours: number, temperatureDeciC: number): Check => ({
          id: `${hours}-${temperatureDeciC}`,
          occurredAtMs: at(startedHours + hours),
          readings: [{ position: 'core', depthMm: null, temperatureDeciC }],
        });
        const checks = [...hot.map((hours) => found(hours, 500)), ...cool.map((hours) => found(hours, 300))];
        const facts: CureFacts = {
          cureDays,
          startedAtMs: at(startedHours),
          checks,
          turns: [],
          reheatDeciC: 450,
        };
        const cure = evaluateCure(facts, nowMs, timeZone);
        if (cure.status === 'done') return;
        const lastLookedAtMs = Math.max(-Infinity, ...checks.map(({ occurredAtMs }) => occurredAtMs));
        const { earliestMs, latestMs } = outlookOf(
          {
            ...{ timeZone, stage: 'curing', processes: [], turns: [], cure, samples: [] },
            lastLookedAtMs: Number.isFinite(lastLookedAtMs) ? lastLookedAtMs : null,
            gates: [{ key: 'cure', title: 'Cure', state: 'unmet', text: '' }],
          },
          nowMs,
        );
        const isHot = checks.some(
          ({ occurredAtMs, readings }) =>
            occurredAtMs === lastLookedAtMs && readings[0]?.temperatureDeciC === 500,
        );
        expect(latestMs).toBe(isHot ? null : earliestMs);
        expect(evaluateCure(facts, (earliestMs ?? 0) - 1, timeZone).status).toBe('in-progress');
        expect(evaluateCure(facts, earliestMs ?? 0, timeZone).status).toBe('done');
      }),
      seeded,
    );
  });
});
