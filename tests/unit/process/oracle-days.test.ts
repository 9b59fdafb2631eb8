import { evaluateProcess } from '#libs/process';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { startMs } from './batch.js';
import { readingsOfRule, seeded } from './histories.js';
import { factsOf, notebooks, nowsWithin, slowed, wideRules } from './notebooks.js';
import { oracleByDays } from './oracle-days.js';

/** Four days or so before clocks go forward, and before they go back; by half an hour on Lord Howe. */
const changes = fc.constantFrom(
  ['America/Denver', '2024-03-07T08:00-07:00'],
  ['America/Denver', '2024-10-31T08:00-06:00'],
  ['Europe/London', '2024-03-27T00:00Z'],
  ['Europe/London', '2024-10-23T00:00+01:00'],
  ['Pacific/Auckland', '2024-04-03T18:15+13:00'],
  ['Pacific/Auckland', '2024-09-25T18:15+12:00'],
  ['Australia/Lord_Howe', '2024-04-03T09:00+11:00'],
  ['Australia/Lord_Howe', '2024-10-02T09:00+10:30'],
);

const dailyRules = fc.tuple(wideRules, fc.integer({ min: 1, max: 5 })).map(([rule, days]) => ({
  ...rule,
  ...{ basis: 'daily' as const, duration: { days }, longestGapHours: null },
  ...{ peak: null, average: null, moisture: null, carbonToNitrogen: null },
  turns: rule.turns && { ...rule.turns, hotHoursBefore: null },
}));

it('agrees with a clerk and a wall calendar on 3,000 random histories of local days across changes of the clock', () => {
  const seen = { met: 0, unmet: 0, short: 0, long: 0, turns: 0 };
  fc.assert(
    fc.property(
      fc.tuple(dailyRules, notebooks, nowsWithin, readingsOfRule, changes),
      ([rule, plain, plainNow, reading, [zone = '', from = '']]) => {
        const notebook = slowed(plain, 6, Date.parse(from), zone);
        const now = Date.parse(from) + (plainNow - startMs) * 6;
        const verdict = evaluateProcess(rule, factsOf(notebook, rule), now, reading);
        const { metAtMs, creditedDays: days, creditedHours: hours, turnsCredited: turns } = verdict;
        expect({ days, hours, turns, metAtMs }).toEqual(oracleByDays(rule, notebook, now, verdict.reading));
        seen[metAtMs === null ? 'unmet' : 'met'] += 1;
        if (turns > 0) seen.turns += 1;
        if (hours < 24 * days) seen.short += 1;
        if (hours > 24 * days) seen.long += 1;
      },
    ),
    { ...seeded, numRuns: 3000 },
  );
  expect(Math.min(seen.met, seen.unmet, seen.short, seen.long, seen.turns)).toBeGreaterThan(100);
}, 120_000);
