import { describe, expect, it } from 'vitest';
import { at, check, of, turn, verdictOf } from './batch.js';

const days = [0, 24, 48, 72].map((hour) => check(hour, 600));
const rule = { turns: { count: 2, spacingHours: 0, hotHoursBefore: null } };

describe('turns', () => {
  it('are asked for besides the time', () => {
    const one = verdictOf(days, { rule, facts: { turns: [turn(5)] } });
    expect(one).toMatchObject({ status: 'in-progress', creditedHours: 72, turnsCredited: 1, metAtMs: null });
    const two = verdictOf(days, { rule, facts: { turns: [turn(5), turn(10)] } });
    expect(two).toMatchObject({ status: 'met', turnsCredited: 2, metAtMs: at(48) });
  });

  it('beyond the number asked for are told as such', () => {
    const verdict = verdictOf(days, { rule, facts: { turns: [turn(5), turn(10), turn(20)] } });
    expect(of(verdict, 'turn-credited').map(({ text }) => text.split(': ')[1])).toEqual([
      'turn 1 of the 2 asked for.',
      'turn 2 of the 2 asked for.',
      'turn 3, where 2 are asked for.',
    ]);
  });

  it('after the time was up still count while the batch is hot', () => {
    const verdict = verdictOf(days, { rule, facts: { turns: [turn(5), turn(60)] } });
    expect(verdict).toMatchObject({ status: 'met', metAtMs: at(60), creditedHours: 72 });
  });

  it('count at the first and the last check that held', () => {
    const verdict = verdictOf(days, { rule, facts: { turns: [turn(0), turn(72)] } });
    expect(verdict).toMatchObject({ status: 'met', turnsCredited: 2, metAtMs: at(72) });
  });

  it('do not count before the batch was hot', () => {
    const verdict = verdictOf([check(10, 600), check(20, 600)], { rule, facts: { turns: [turn(5)] } });
    expect(verdict.turnsCredited).toBe(0);
    expect(of(verdict, 'turn-not-credited')[0]?.text).toContain(
      'checks before and after it do not both show 55 °C',
    );
  });

  it('do not count between a check that held and one that did not', () => {
    const checks = [check(0, 600), check(20, 600), check(30, 500), check(40, 600)];
    const cumulative = { ...rule, continuity: 'cumulative' } as const;
    const verdict = verdictOf(checks, { rule: cumulative, facts: { turns: [turn(10), turn(25), turn(35)] } });
    expect(verdict.turnsCredited).toBe(1);
    expect(of(verdict, 'turn-not-credited')).toMatchObject([{ fromMs: at(25) }, { fromMs: at(35) }]);
  });

  it('wait for the next check to show that the batch was still hot', () => {
    const facts = { turns: [turn(80)] };
    const waiting = verdictOf(days, { rule, facts, now: 90 });
    expect(waiting.turnsCredited).toBe(0);
    expect(of(waiting, 'turn-not-credited')[0]?.text).toContain('not counted yet');
    expect(verdictOf([...days, check(95, 600)], { rule, facts }).turnsCredited).toBe(1);
  });

  it('are lost with their run', () => {
    const checks = [check(0, 600), check(20, 600), check(30, 500), check(40, 600), check(50, 600)];
    const facts = { turns: [turn(5), turn(10), turn(45)] };
    const verdict = verdictOf(checks, { rule, facts });
    expect(verdict.turnsCredited).toBe(1);
    expect(of(verdict, 'below-threshold')[0]?.text).toContain('Lost: 20 hours and 2 turns.');
    expect(verdictOf(checks, { rule: { ...rule, continuity: 'cumulative' }, facts }).turnsCredited).toBe(3);
  });

  it('closer together than the spacing count once', () => {
    const spaced = { turns: { count: 3, spacingHours: 24, hotHoursBefore: null } };
    const facts = { turns: [turn(1), turn(24), turn(25), turn(48), turn(49)] };
    const verdict = verdictOf(days, { rule: spaced, facts });
    expect(of(verdict, 'turn-credited').map((each) => each.fromMs)).toEqual([at(1), at(25), at(49)]);
    expect(verdict.metAtMs).toBe(at(49));
    expect(of(verdict, 'turn-not-credited')[0]?.text).toContain(
      'less than 24 hours after the last counted turn',
    );
  });

  it('are spaced within their own run only, and numbered anew in each', () => {
    const spaced = { turns: { count: 2, spacingHours: 24, hotHoursBefore: null } };
    const checks = [check(0, 600), check(20, 600), check(30, 500), check(40, 600), check(50, 600)];
    const facts = { turns: [turn(19), turn(41)] };
    const verdict = verdictOf(checks, { rule: spaced, facts });
    expect(verdict.turnsCredited).toBe(1);
    expect(of(verdict, 'turn-credited').map(({ text }) => text)).toEqual([
      'Turned on 7 May 2024 03:00: turn 1 of the 2 asked for.',
      'Turned on 8 May 2024 01:00: turn 1 of the 2 asked for.',
    ]);
    const added = { ...spaced, continuity: 'cumulative' } as const;
    expect(of(verdictOf(checks, { rule: added, facts }), 'turn-not-credited')).toHaveLength(1);
  });

  it('after the rule was met are told only where they count', () => {
    const verdict = verdictOf(days, {
      rule,
      facts: { turns: [turn(5), turn(10), turn(60), turn(80)] },
      now: 85,
    });
    expect(of(verdict, 'turn-credited')).toHaveLength(3);
    expect(of(verdict, 'turn-not-credited')).toEqual([]);
  });

  it('of one instant are one turn', () => {
    const verdict = verdictOf(days, { rule, facts: { turns: [turn(5), turn(5, 'move')] } });
    expect(verdict.turnsCredited).toBe(1);
  });

  it('may be moves from bay to bay', () => {
    const verdict = verdictOf(days, { rule, facts: { turns: [turn(5, 'move'), turn(6)] } });
    expect(verdict.status).toBe('met');
    expect(of(verdict, 'turn-credited')[0]?.text).toBe(
      'Moved, which turns it, on 6 May 2024 13:00: turn 1 of the 2 asked for.',
    );
  });

  it('are not spoken of where the rule asks for none', () => {
    const verdict = verdictOf(days, { facts: { turns: [turn(5), turn(500)] } });
    expect(verdict.turnsCredited).toBe(0);
    expect(of(verdict, 'turn-credited')).toEqual([]);
    expect(of(verdict, 'turn-not-credited')).toEqual([]);
  });
});

describe('the time a rule allows after a turn', () => {
  const grace = { ...rule, graceAfterTurnHours: 12 };
  const facts = { turns: [turn(20), turn(30)] };

  it('keeps a cold check from breaking the run, and credits nothing around it', () => {
    const checks = [check(0, 600), check(18, 600), check(26, 500), check(40, 600), check(52, 600)];
    const verdict = verdictOf(checks, { rule: grace, facts });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedHours: 30, turnsCredited: 1 });
    expect(verdict.creditedSpans).toEqual([
      { fromMs: at(0), toMs: at(18) },
      { fromMs: at(40), toMs: at(52) },
    ]);
    expect(of(verdict, 'after-turn')).toMatchObject([{ fromMs: at(26), checkId: 'check-26' }]);
  });

  it('ends at its last hour', () => {
    const cold = (hour: number) => [check(0, 600), check(18, 600), check(hour, 500)];
    expect(verdictOf(cold(32), { rule: grace, facts }).status).toBe('in-progress');
    expect(verdictOf(cold(32.1), { rule: grace, facts }).status).toBe('interrupted');
  });

  it('is given anew only once a check has held', () => {
    const held = [check(0, 600), check(18, 600), check(29, 600), check(42, 500)];
    expect(verdictOf(held, { rule: grace, facts }).status).toBe('in-progress');
    // A turn comes before a check of the same instant.
    const withTurn = [check(0, 600), check(18, 600), check(30, 600), check(42, 500)];
    expect(verdictOf(withTurn, { rule: grace, facts }).status).toBe('interrupted');
  });

  it('has an end, however often a cold pile is turned', () => {
    const hours = { ...grace, turns: null, graceAfterTurnHours: 4 };
    const colds = Array.from({ length: 14 }, (_, day) => 25 + 24 * day);
    const checks = [
      ...[check(0, 600), check(24, 600), ...colds.map((hour) => check(hour, 300))],
      ...[check(360, 600), check(384, 600)],
    ];
    const turned = { turns: colds.map((hour) => turn(hour - 1)) };
    const verdict = verdictOf(checks, { rule: hours, facts: turned });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedHours: 24, clockStartedAtMs: at(360) });
    const days = { ...hours, basis: 'daily', duration: { days: 3 }, longestGapHours: null } as const;
    expect(verdictOf(checks, { rule: days, facts: turned })).toMatchObject({
      metAtMs: null,
      clockStartedAtMs: at(360),
    });
  });

  it('lets no turn count from a check it excused to the next that held', () => {
    const checks = [check(0, 600), check(18, 600), check(26, 500), check(40, 600), check(52, 600)];
    const credited = (...hours: number[]) =>
      verdictOf(checks, { rule: grace, facts: { turns: [20, ...hours].map((hour) => turn(hour)) } })
        .turnsCredited;
    expect(credited(26)).toBe(2);
    expect(credited(26.1)).toBe(1);
    expect(credited(39.9)).toBe(1);
    expect(credited(40)).toBe(2);
    const days = { ...grace, basis: 'daily', duration: { days: 3 }, longestGapHours: null } as const;
    const daily = (hour: number) =>
      verdictOf(checks, { rule: days, facts: { turns: [turn(20), turn(hour)] } }).turnsCredited;
    expect([26, 26.1, 39.9, 40].map(daily)).toEqual([2, 1, 1, 2]);
  });

  it('does not let a check with too few probes bridge a gap, nor be credited over', () => {
    const few = { ...grace, minimumProbes: 2, longestGapHours: 24 };
    const near = [check(0, 600, 600), check(18, 600, 600), check(26, 500), check(40, 600, 600)];
    expect(verdictOf(near, { rule: few, facts })).toMatchObject({ status: 'in-progress', creditedHours: 18 });
    const far = [check(0, 600, 600), check(18, 600, 600), check(26, 500), check(43, 600, 600)];
    expect(verdictOf(far, { rule: few, facts })).toMatchObject({
      creditedHours: 0,
      clockStartedAtMs: at(43),
    });
  });

  it('lets a check with too few probes show nothing, not even that a gap has passed', () => {
    const few = { ...grace, minimumProbes: 2, longestGapHours: 12 };
    const verdict = verdictOf([check(10, 600, 600), check(18, 600, 600), check(32, 500)], {
      rule: few,
      facts,
    });
    expect(verdict).toMatchObject({ status: 'insufficient-data', creditedHours: 8 });
  });

  it('excuses no check above the upper limit', () => {
    const checks = [check(0, 600), check(18, 600), check(26, 500, 800)];
    expect(verdictOf(checks, { rule: { ...grace, upperLimitDeciC: 767 }, facts }).status).toBe('interrupted');
  });
});
