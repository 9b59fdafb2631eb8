import { evaluateProcess, type Verdict } from '#libs/process';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { readingsOfRule, seeded } from './histories.js';
import { chilled, factsOf, graceAndMeanRules, notebooks, nowsWithin, wideRules } from './notebooks.js';
import { minuteMs } from './oracle-checks.js';
import { oracleByHours } from './oracle-hours.js';

/** How many of the 10,000 histories must show each of these, so that agreement means something. */
const leastSeen = {
  ...{ met: 700, unmet: 3000, 'clock-restarted': 500, credited: 3000, merged: 500, ignored: 500 },
  ...{ gap: 500, 'below-threshold': 500, 'above-limit': 200, 'after-turn': 100, 'too-dry': 100 },
  ...{ 'too-few-probes': 500, 'too-few-zones': 300, 'too-shallow': 300, implausible: 500 },
  ...{ 'turn-credited': 500, 'turn-not-credited': 500 },
  ...{ 'peak met': 200, 'peak unmet': 500, 'average met': 120, 'average unmet': 500 },
  'average met after a turn': 40,
  ...{ 'moisture met': 50, 'moisture unknown': 200 },
  ...{ 'carbon-to-nitrogen met': 200, 'carbon-to-nitrogen unmet': 100, 'carbon-to-nitrogen unknown': 100 },
};

/** A window of which some was excused: the mean was met, and some of the time that counts lies on either side of the cold. */
function meanAcrossCold({ conditions, creditedSpans, evidence }: Verdict): boolean {
  return (
    conditions.some(({ key, state }) => key === 'average' && state === 'met') &&
    evidence.some(
      ({ kind, fromMs, toMs }) =>
        kind === 'after-turn' &&
        creditedSpans.some((span) => span.toMs <= fromMs) &&
        creditedSpans.some((span) => toMs <= span.fromMs),
    )
  );
}

function seenIn(verdict: Verdict): Set<string> {
  const { metAtMs, evidence, conditions } = verdict;
  return new Set([
    ...(meanAcrossCold(verdict) ? ['average met after a turn'] : []),
    metAtMs === null ? 'unmet' : 'met',
    ...evidence.map(({ kind }) => kind),
    ...conditions.map(({ key, state }) => `${key} ${state}`),
  ]);
}

const everyCase = fc.oneof(
  { weight: 9, arbitrary: fc.tuple(wideRules, notebooks) },
  { weight: 1, arbitrary: fc.tuple(graceAndMeanRules, chilled) },
);

it('agrees with a minute-by-minute count on 10,000 random histories of every kind', () => {
  const seen = new Map<string, number>();
  fc.assert(
    fc.property(everyCase, nowsWithin, readingsOfRule, ([rule, notebook], now, reading) => {
      const verdict = evaluateProcess(rule, factsOf(notebook, rule), now, reading);
      for (const what of seenIn(verdict)) seen.set(what, (seen.get(what) ?? 0) + 1);
      const { metAtMs, creditedHours, turnsCredited } = verdict;
      const toTheMinute = metAtMs === null ? null : Math.ceil(metAtMs / minuteMs) * minuteMs;
      const creditedMinutes = Math.round(creditedHours * 60 * 1e6) / 1e6;
      expect({ creditedMinutes, turns: turnsCredited, metAtMs: toTheMinute }).toEqual(
        oracleByHours(rule, notebook, now, verdict.reading),
      );
    }),
    { ...seeded, numRuns: 10_000 },
  );
  const short = Object.entries(leastSeen).filter(([what, least]) => (seen.get(what) ?? 0) < least);
  expect(short.map(([what, least]) => `${what}: ${seen.get(what) ?? 0} of ${least}`)).toEqual([]);
}, 240_000);
