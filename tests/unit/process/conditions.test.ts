import { describe, expect, it } from 'vitest';
import type { BatchFacts, ProcessRule } from '#libs/process';
import { at, check, of, turn, verdictOf } from './batch.js';

const day = (temperatureDeciC: number, ...hours: number[]) =>
  hours.map((hour) => check(hour, temperatureDeciC));
const hot = day(600, 0, 12, 24, 36, 48);
const measured = (hours: number, percent: number) => ({ occurredAtMs: at(hours), percent });

describe('a threshold that is to be passed', () => {
  const rule = { thresholdStrict: true };

  it('is not reached by itself', () => {
    expect(verdictOf(day(550, 0, 24, 48), { rule }).status).toBe('not-started');
    const verdict = verdictOf(day(551, 0, 24, 48), { rule });
    expect(verdict).toMatchObject({ status: 'met', metAtMs: at(48) });
    expect(of(verdict, 'met')[0]?.text).toContain('(48 hours above 55 °C (131 °F))');
    expect(of(verdict, 'credited')[0]?.text).toContain('was above 55 °C (131 °F)');
  });

  it('is said so of what missed it', () => {
    const verdict = verdictOf([check(0, 560), check(10, 550)], { rule });
    expect(of(verdict, 'below-threshold')[0]?.text).toContain('not above 55 °C (131 °F)');
  });
});

describe('zones', () => {
  const zoned = (hours: number, ...probes: [zone: string | null, deciC: number][]) => ({
    ...check(hours),
    readings: probes.map(([zone, temperatureDeciC], index) => ({
      ...{ position: `p${index}`, zone, depthMm: null, temperatureDeciC },
    })),
  });

  it('govern by the mean of the coldest', () => {
    const rule = { governing: 'coldest-zone' } as const;
    const held = zoned(10, ['edge', 540], ['edge', 560], ['core', 650]);
    expect(verdictOf([check(0, 600), held], { rule }).creditedHours).toBe(10);
    const cold = zoned(10, ['edge', 540], ['edge', 559], ['core', 650]);
    const verdict = verdictOf([check(0, 600), cold], { rule });
    expect(of(verdict, 'below-threshold')[0]?.text).toContain('mean of the coldest zone 54.9 °C');
    expect(verdictOf([check(0, 600), zoned(10, [null, 549], [null, 700])], { rule }).creditedHours).toBe(0);
  });

  it('must be as many as asked, though a cold one counts against the batch all the same', () => {
    const rule = { minimumProbes: 2, minimumZones: 2 };
    const full = (hours: number) => zoned(hours, ['edge', 600], ['core', 600]);
    const few = verdictOf([full(0), zoned(10, ['core', 600], ['core', 610]), full(20)], { rule });
    expect(few.creditedHours).toBe(20);
    expect(of(few, 'too-few-zones')).toMatchObject([{ fromMs: at(10) }]);
    const cold = verdictOf([full(0), zoned(10, ['core', 600], ['core', 540])], { rule });
    expect(cold.status).toBe('interrupted');
  });
});

describe('a probe hotter than boiling water', () => {
  it('leaves its check neither earning nor breaking', () => {
    const verdict = verdictOf([check(0, 600), check(10, 600, 1001), check(20, 600)]);
    expect(verdict.creditedHours).toBe(20);
    expect(of(verdict, 'implausible')[0]?.text).toContain('Counted neither for nor against the batch.');
    expect(
      verdictOf([check(0, 600), check(10, 1000), check(20, 600)]).evidence.map(({ kind }) => kind),
    ).not.toContain('implausible');
  });

  it('does not hide a cold one, nor break the upper limit', () => {
    expect(verdictOf([check(0, 600), check(10, 549, 1400)]).status).toBe('interrupted');
    const rule = { upperLimitDeciC: 700 };
    expect(verdictOf([check(0, 600), check(10, 600, 1400)], { rule }).status).toBe('in-progress');
  });
});

describe('a higher level', () => {
  const rule = { peak: { thresholdDeciC: 650, strict: false, hours: 12 } };
  const withPeak = (peakDeciC: number, ...peakHours: number[]) =>
    [0, 6, 12, 18, 24, 30, 36, 42, 48, 54].map((hour) =>
      check(hour, peakHours.includes(hour) ? peakDeciC : 600),
    );

  it('must be held so long, without a break where time must be consecutive', () => {
    expect(verdictOf(withPeak(650, 6, 12, 18), { rule })).toMatchObject({ status: 'met', metAtMs: at(48) });
    expect(verdictOf(withPeak(649, 6, 12, 18), { rule }).metAtMs).toBeNull();
    const parted = verdictOf(withPeak(650, 6, 12, 24, 30), { rule });
    expect(parted).toMatchObject({ status: 'in-progress', conditions: [{ key: 'peak', state: 'unmet' }] });
    expect(parted.conditions[0]?.text).toContain('Shown: 6 hours.');
    const added = { ...rule, continuity: 'cumulative' } as const;
    expect(verdictOf(withPeak(650, 6, 12, 24, 30), { rule: added }).metAtMs).toBe(at(48));
  });

  it('may come after the time was up', () => {
    const late = [...withPeak(650, 48, 54), check(60, 650)];
    expect(verdictOf(late, { rule }).metAtMs).toBe(at(60));
  });
});

describe('a mean over the time', () => {
  const asked = (strict: boolean) => ({ thresholdDeciC: 400, average: { thresholdDeciC: 450, strict } });

  it('is reached at the level, or above it where that is asked', () => {
    expect(verdictOf(day(450, 0, 24, 48), { rule: asked(false) }).metAtMs).toBe(at(48));
    expect(verdictOf(day(450, 0, 24, 48), { rule: asked(true) }).status).toBe('in-progress');
    expect(verdictOf(day(451, 0, 24, 48), { rule: asked(true) }).metAtMs).toBe(at(48));
  });

  it('weighs each pair with its colder check', () => {
    const verdict = verdictOf([check(0, 440), check(24, 460), check(48, 460)], { rule: asked(false) });
    // 24 hours at 44 and 24 at 46 °C make 45 °C; the mean of the three checks would be more.
    expect(verdict.metAtMs).toBe(at(48));
    const less = verdictOf([check(0, 439), check(24, 460), check(48, 460)], { rule: asked(false) });
    expect(less.conditions).toMatchObject([{ key: 'average', state: 'unmet' }]);
  });

  it('is looked for in every window that is long enough, to the instant', () => {
    const cold = [0, 24, 48].map((hour) => check(hour, 420));
    const warm = [72, 96, 120].map((hour) => check(hour, 470));
    // Up to hour 72 the pairs weigh 42 °C, then 47: the window from hour 52.8 to 100.8 is the first with a mean of 45 °C.
    const verdict = verdictOf([...cold, ...warm], { rule: asked(false) });
    const window = 48;
    const sum = (from: number, to: number) => (72 - from) * -30 + (to - 72) * 20;
    const first = 72 + (window * 30) / 50;
    expect(sum(first - window, first)).toBeCloseTo(0, 9);
    expect(verdict.metAtMs).toBe(at(first));
  });

  it('goes on across what a turn excuses, by the coldest that was read', () => {
    const checks = [...day(650, 0, 1.5, 3), check(3.5, 540), ...day(650, 4, 5, 6, 7, 8)];
    const metAtOf = (thresholdDeciC: number) =>
      verdictOf(checks, {
        rule: {
          ...{ duration: { hours: 4 }, longestGapHours: 3, graceAfterTurnHours: 4 },
          average: { thresholdDeciC, strict: false },
        },
        facts: { turns: [turn(3.2)] },
      }).metAtMs;
    expect(metAtOf(592)).toBe(at(5));
    // Only the last four hours have no cold in them.
    expect(metAtOf(650)).toBe(at(8));
    expect(metAtOf(651)).toBeNull();
  });

  it('is not carried over a break', () => {
    const parted = [...day(500, 0, 24, 40), check(41, 300), ...day(420, 42, 66, 90)];
    expect(verdictOf(parted, { rule: asked(false) }).metAtMs).toBeNull();
  });
});

describe('moisture', () => {
  const rule = { moisture: { leastPercent: 40 } };
  const wet = (...moistures: [number, number][]) => ({
    moistures: moistures.map((each) => measured(...each)),
  });

  it('that nobody measured leaves the rule open', () => {
    const verdict = verdictOf(hot, { rule });
    expect(verdict).toMatchObject({ status: 'insufficient-data', creditedHours: 48, metAtMs: null });
    expect(verdict.conditions).toMatchObject([{ key: 'moisture', state: 'unknown' }]);
    expect(of(verdict, 'condition')[0]?.text).toContain('not all the rule asks');
  });

  it('is shown by a measure inside the time that counts', () => {
    expect(verdictOf(hot, { rule, facts: wet([20, 40]) })).toMatchObject({ status: 'met', metAtMs: at(48) });
  });

  it('is not told by a measure from before or after the batch was hot', () => {
    const cooled = [...hot, check(60, 300)];
    const verdict = verdictOf(cooled, { rule, facts: wet([60, 50]) });
    expect(verdict).toMatchObject({ status: 'insufficient-data', creditedHours: 48, turnsCredited: 0 });
    expect(verdict.conditions).toMatchObject([{ key: 'moisture', state: 'unknown' }]);
    expect(verdictOf(cooled, { rule, facts: wet([48, 50]) }).status).toBe('met');
    expect(verdictOf(hot.slice(1), { rule, facts: wet([11.9, 50]) }).conditions).toMatchObject([
      { state: 'unknown' },
    ]);
  });

  it('that was measured only while no time was credited is not there', () => {
    const excused = [...day(600, 0, 24), check(26, 500), ...day(600, 28, 76)];
    const facts = { ...wet([26, 50]), turns: [turn(25)] };
    const verdict = verdictOf(excused, {
      rule: { ...rule, graceAfterTurnHours: 4, longestGapHours: 48 },
      facts,
    });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedHours: 72 });
    expect(verdict.conditions).toMatchObject([{ key: 'moisture', state: 'unmet' }]);
  });

  it('below the least breaks the run, until a better measure', () => {
    const verdict = verdictOf(hot, { rule, facts: wet([6, 50], [18, 39.9], [30, 41]) });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedHours: 12, clockStartedAtMs: at(36) });
    expect(of(verdict, 'too-dry')[0]?.text).toContain('39.9 %, below the 40 % asked for');
    expect(of(verdict, 'too-dry')).toMatchObject([{ fromMs: at(18), toMs: at(24), checkId: 'check-24' }]);
  });

  it('is not looked at where the rule asks for none', () => {
    expect(verdictOf(hot, { facts: wet([18, 10]) })).toMatchObject({ status: 'met', conditions: [] });
  });
});

describe('the mix', () => {
  const rule = { carbonToNitrogen: { least: 25, most: 40 } };
  const judged = (carbonToNitrogen: number | null, checks = hot) =>
    verdictOf(checks, { rule, facts: { carbonToNitrogen } });

  it('must lie within, its ends included', () => {
    expect(judged(25).status).toBe('met');
    expect(judged(40).status).toBe('met');
    expect(judged(24.9)).toMatchObject({ status: 'interrupted', creditedHours: 48 });
    expect(judged(40.1).conditions[0]?.text).toContain('It is 40.1, and no time at heat changes that.');
  });

  it('leaves the time of a whole run standing when it is broken later, and the evidence says so', () => {
    const verdict = judged(24, [...hot, check(50, 300)]);
    expect(verdict).toMatchObject({ status: 'interrupted', creditedHours: 48 });
    const [broken] = of(verdict, 'below-threshold');
    expect(broken?.text).toContain('What it had by then stands: 48 hours.');
    expect(broken?.text).not.toContain('Lost');
  });

  it('that is not known leaves the rule open once the time is there', () => {
    expect(judged(null).status).toBe('insufficient-data');
    expect(judged(null, hot.slice(0, 3)).status).toBe('in-progress');
    expect(judged(null, [...hot, check(50, 300)])).toMatchObject({
      status: 'insufficient-data',
      creditedHours: 48,
    });
  });
});

describe('turns after so much heat', () => {
  const rule: Partial<ProcessRule> = {
    duration: { hours: 24 },
    continuity: 'cumulative',
    turns: { count: 2, spacingHours: 0, hotHoursBefore: 24 },
  };
  const turned = (hours: number[], facts: Partial<BatchFacts> = {}, checks = hot) =>
    verdictOf(checks, { rule, facts: { turns: hours.map((hour) => turn(hour)), ...facts } });

  it('count when the run up to the last check is that long, since the turn before', () => {
    expect(turned([24, 48])).toMatchObject({ turnsCredited: 2, metAtMs: at(48) });
    expect(turned([23, 48]).turnsCredited).toBe(1);
    expect(turned([24, 47]).turnsCredited).toBe(1);
  });

  it('need no hot check after them, but a hot one lately before', () => {
    expect(turned([25], {}, [...hot.slice(0, 3), check(26, 300)]).turnsCredited).toBe(1);
    expect(turned([27], {}, [...hot.slice(0, 3), check(26, 300)]).turnsCredited).toBe(0);
    expect(verdictOf(hot, { rule, facts: { turns: [turn(72)] }, now: 80 }).turnsCredited).toBe(1);
    expect(verdictOf(hot, { rule, facts: { turns: [turn(73)] }, now: 80 }).turnsCredited).toBe(0);
  });
});

describe('cautions', () => {
  const caution = (fromHour: number, toHour: number) => ({
    kind: 'drift' as const,
    ...{ fromMs: at(fromHour), toMs: at(toHour), instrument: 'T-1', text: 'T-1 drifts.' },
  });

  it('are those that touch what was credited or, where nothing was, all', () => {
    const facts = { cautions: [caution(-20, -10), caution(40, 60)] };
    const verdict = verdictOf(hot, { facts });
    expect(verdict.cautions).toEqual([caution(40, 60)]);
    expect(verdict.notes.join(' ')).toContain('1 caution about the instruments');
    expect(verdictOf([check(0, 300)], { facts: { cautions: [caution(-20, -10)] } }).cautions).toHaveLength(1);
  });
});
