import { describe, expect, it } from 'vitest';
import {
  type BatchFacts,
  type CureVerdict,
  type Gate,
  type GateSample,
  evaluateProcess,
  outlookOf,
  type OutlookFacts,
  type ProcessRule,
} from '#libs/process';
import { at, batch, check, hoursOf, raw, ruleWith, timeZone, turn } from './batch.js';

const gate = (key: string, state: Gate['state'] = 'unmet'): Gate => ({
  key,
  title: key,
  state,
  text: `About ${key}.`,
});

const outlook = (facts: Partial<OutlookFacts>, now: number) =>
  outlookOf(
    {
      ...{ timeZone, stage: 'active', gates: [], processes: [], turns: [], cure: null },
      ...{ lastLookedAtMs: null, samples: [] },
      ...facts,
    },
    at(now),
  );

/** Of one rule (48 hours, checks at most 24 apart, where an example does not say otherwise), in hours after hour 0. */
function ofRule(rule: Partial<ProcessRule>, facts: Partial<BatchFacts>, now: number) {
  const given = batch(facts);
  const verdict = evaluateProcess(ruleWith(rule), given, at(now));
  const processes = [{ gate: 'process-rule', verdict }];
  const [expected] = outlook({ gates: [gate('process-rule')], processes, turns: given.turns }, now).gates;
  if (!expected) throw new Error('no gate is open');
  return {
    interval: [hoursOf(expected.earliestMs), hoursOf(expected.latestMs)],
    says: expected.assumptions,
  };
}

const hot = (...hours: number[]) => hours.map((hour) => check(hour, 600));

describe('the time of a rule', () => {
  it('goes on from the last check that held, to the first check after it is there', () => {
    const { interval, says } = ofRule({}, { checks: hot(10, 30) }, 31);
    expect(interval).toEqual([58, 82]);
    expect(says).toEqual([
      'It needs 28 hours more at 55 °C (131 °F) or more, counted on from 7 May 2024 14:00, and stays that hot.',
      'It is checked every 24 hours or oftener, next by 8 May 2024 14:00, with as many probes as the rule asks.',
    ]);
  });

  it('can be there already, and only wait for the check that shows it', () => {
    // Two checks of a rule of 21 hours credit no more than 21 hours between them.
    expect(ofRule({ duration: { hours: 21 } }, { checks: hot(10, 30) }, 40).interval).toEqual([40, 61]);
  });

  it('begins anew from now, with an open end, where nothing shows heat', () => {
    for (const checks of [[], [check(10, 400)], [...hot(10, 30), check(40, 400)], hot(10, 30)]) {
      const now = checks.length === 2 ? 60 : 41;
      expect(ofRule({}, { checks }, now).interval).toEqual([now + 48, null]);
    }
  });

  it('is added up where the rule says so', () => {
    const checks = [...hot(10, 30), check(40, 400)];
    expect(ofRule({ continuity: 'cumulative' }, { checks }, 41).interval).toEqual([68, null]);
  });

  it('is never more than all of it after raw material went in again', () => {
    const facts = { checks: hot(10, 30), rawAdditions: [raw(0), raw(31)] };
    expect(ofRule({}, facts, 32).interval).toEqual([80, null]);
  });

  it('of local days ends with a day, and with the next one where today does not count', () => {
    const daily = { basis: 'daily', duration: { days: 3 }, longestGapHours: null } as const;
    const { interval, says } = ofRule(daily, { checks: hot(10, 34) }, 35);
    // Hour 0 is 8:00: the day after ends at hour 40, and two days are missing at hour 35.
    expect(interval).toEqual([88, 112]);
    expect(says[1]).toContain('today included');
  });
});

describe('the turns of a rule', () => {
  const turns = { count: 3, spacingHours: 10, hotHoursBefore: null };

  it('come as close as the rule lets them be, or at the longest pause so far', () => {
    const facts = { checks: hot(10, 30, 50, 70), turns: [turn(25), turn(60)] };
    const { interval, says } = ofRule({ turns }, facts, 71);
    // 48 hours are there; one more turn: not before hour 71 (60 + 10), and at the latest 35 hours after the last one.
    expect(interval).toEqual([71, 60 + 35 + 24]);
    expect(says.at(-1)).toContain('at least every 35 hours');
  });

  it('have no pace before one has counted', () => {
    const { interval, says } = ofRule({ turns }, { checks: hot(10, 30, 50, 70) }, 71);
    expect(interval).toEqual([91, null]);
    expect(says.at(-1)).toContain('no pace');
  });

  it('that were made since the last check wait for the next one', () => {
    const facts = { checks: hot(10, 30, 50, 70), turns: [turn(25), turn(60), turn(71)] };
    const { interval, says } = ofRule({ turns }, facts, 72);
    expect(interval).toEqual([72, 96]);
    expect(says.at(-1)).toContain('9 May 2024 07:00');
  });

  it('wait for the hot time before them where the rule asks for it', () => {
    const each = { count: 2, spacingHours: 0, hotHoursBefore: 24 };
    expect(ofRule({ turns: each }, { checks: hot(10, 30, 50) }, 51).interval).toEqual([75, null]);
  });
});

describe('what a rule asks besides', () => {
  it('leaves the end open where it is not shown', () => {
    const { interval, says } = ofRule({ moisture: { leastPercent: 40 } }, { checks: hot(10, 30) }, 31);
    expect(interval).toEqual([58, null]);
    expect(says.at(-1)).toContain('the end is open');
  });

  it('has no date where the mix is wrong', () => {
    const rule = { carbonToNitrogen: { least: 25, most: 40 } };
    expect(ofRule(rule, { checks: hot(10, 30), carbonToNitrogen: 50 }, 31).interval).toEqual([null, null]);
  });
});

describe('the other gates', () => {
  const cure = (facts: Partial<CureVerdict>): CureVerdict => ({
    ...{ status: 'in-progress', startedAtMs: at(100), daysDone: 0, daysRequired: 30, doneAtMs: null },
    ...{ afterTurn: 'not-asked', evidence: [], notes: [] },
    ...facts,
  });
  const one = (facts: Partial<OutlookFacts>, now = 200) => outlook(facts, now).gates[0];

  it('a cure is over after its local days', () => {
    const expected = one({ gates: [gate('cure')], cure: cure({}) });
    expect([hoursOf(expected?.earliestMs ?? null), hoursOf(expected?.latestMs ?? null)]).toEqual([820, 820]);
  });

  it('a cure that was last found hot has an open end', () => {
    const hotRun = { fromMs: at(90), toMs: at(100), kind: 'reheated', text: '', checkId: null } as const;
    const facts = { gates: [gate('cure')], cure: cure({ evidence: [hotRun] }) };
    expect(one({ ...facts, lastLookedAtMs: at(100) })).toMatchObject({ latestMs: null });
    expect(one({ ...facts, lastLookedAtMs: at(110) })?.latestMs).toBe(at(820));
  });

  it('a cure that has not begun comes after the process rules', () => {
    const verdict = evaluateProcess(ruleWith(), batch({ checks: hot(10, 30) }), at(31));
    const { gates } = outlook(
      {
        gates: [gate('process-rule'), gate('cure')],
        processes: [{ gate: 'process-rule', verdict }],
        cure: cure({ status: 'not-started', startedAtMs: null }),
      },
      31,
    );
    expect(hoursOf(gates[1]?.earliestMs ?? null)).toBe(58 + 30 * 24);
    expect(gates[1]?.latestMs).toBeNull();
  });

  it('a sample takes nobody knows how long, and says which one is out', () => {
    const sample: GateSample = {
      kind: 'maturity',
      occurredAtMs: at(150),
      outcome: 'information',
      results: [],
    };
    const gates = [gate('sample:maturity')];
    expect(one({ gates })).toMatchObject({ earliestMs: at(200), latestMs: null });
    expect(one({ gates })?.assumptions[0]).toContain('None');
    expect(one({ gates, samples: [sample] })?.assumptions[0]).toContain('12 May 2024 14:00');
  });

  it('what waiting does not mend has no date', () => {
    for (const key of ['permit-valid', 'inputs-allowed', 'balance', 'process-rule']) {
      expect(one({ gates: [gate(key, 'unknown')] })).toMatchObject({ earliestMs: null, latestMs: null });
    }
  });
});

describe('the whole', () => {
  it('is ready now where nothing is left', () => {
    const { gates, earliestMs, latestMs } = outlook(
      { gates: [gate('process-rule', 'met'), gate('cure', 'not-required')] },
      5,
    );
    expect([gates, earliestMs, latestMs]).toEqual([[], at(5), at(5)]);
  });

  it('is ready when the last gate is, and open where one of them is', () => {
    const verdict = evaluateProcess(ruleWith(), batch({ checks: hot(10, 30) }), at(31));
    const processes = [{ gate: 'process-rule', verdict }];
    const alone = outlook({ gates: [gate('process-rule')], processes }, 31);
    expect([hoursOf(alone.earliestMs), hoursOf(alone.latestMs)]).toEqual([58, 82]);
    const both = outlook({ gates: [gate('process-rule'), gate('sample:maturity')], processes }, 31);
    expect([hoursOf(both.earliestMs), both.latestMs]).toEqual([58, null]);
    const never = outlook({ gates: [gate('process-rule'), gate('balance')], processes }, 31);
    expect(never.earliestMs).toBeNull();
  });

  it('says that it is no promise', () => {
    expect(outlook({ gates: [gate('process-rule', 'met')] }, 1).notes[0]).toContain('no promise');
  });

  it('tells no time of a batch that is being built, and says so', () => {
    const processes = [
      {
        gate: 'process-rule',
        verdict: evaluateProcess(ruleWith({}), batch({ checks: hot(10, 30) }), at(31)),
      },
    ];
    const gates = [gate('permit-valid', 'met'), gate('process-rule'), gate('cure', 'not-required')];
    const built = outlook({ stage: 'building', gates, processes }, 31);
    expect(built).toMatchObject({ earliestMs: null, latestMs: null });
    expect(built.notes[0]).toContain('still being built, and has been neither heated nor cured');
    expect(built.gates).toMatchObject([{ gate: 'process-rule', earliestMs: null, latestMs: null }]);
    const met = gates.map((each) => ({ ...each, state: 'met' as const }));
    expect(outlook({ stage: 'building', gates: met }, 31)).toMatchObject({ gates: [], earliestMs: null });
  });

  it('tells no time where nothing was named that takes any', () => {
    const gates = [
      ...[gate('permit-valid', 'met'), gate('inputs-allowed', 'met'), gate('balance', 'met')],
      ...[gate('process-rule', 'not-required'), gate('cure', 'not-required')],
    ];
    for (const stage of ['active', 'curing'] as const) {
      const { earliestMs, latestMs, notes } = outlook({ stage, gates }, 1);
      expect([earliestMs, latestMs]).toEqual([null, null]);
      expect(notes[0]).toMatch(
        /^Neither a process rule nor a cure nor a sample .+ local authority decide\.$/,
      );
    }
    for (const key of ['process-rule', 'process-rule:us-503-psrp', 'cure', 'sample:maturity'])
      expect(outlook({ gates: [...gates, gate(key, 'met')] }, 1).earliestMs).toBe(at(1));
  });
});
