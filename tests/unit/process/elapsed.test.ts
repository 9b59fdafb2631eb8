import { describe, expect, it } from 'vitest';
import { at, check, hoursOf, of, verdictOf } from './batch.js';

describe('hours between checks', () => {
  it('are credited when both checks held, and the rule is met at the very hour', () => {
    const verdict = verdictOf([check(4, 560), check(24, 600), check(48, 580), check(60, 570)]);
    expect(verdict.status).toBe('met');
    expect(hoursOf(verdict.clockStartedAtMs)).toBe(4);
    expect(hoursOf(verdict.metAtMs)).toBe(52);
    expect(verdict.creditedHours).toBe(56);
    expect(verdict.creditedDays).toBe(56 / 24);
    expect(verdict.creditedSpans).toEqual([{ fromMs: at(4), toMs: at(60) }]);
  });

  it('are one hour short until they are not', () => {
    expect(verdictOf([check(0, 550), check(24, 550), check(47, 550)])).toMatchObject({
      status: 'in-progress',
      creditedHours: 47,
      metAtMs: null,
    });
    expect(verdictOf([check(0, 550), check(24, 550), check(48, 550)]).metAtMs).toBe(at(48));
  });

  it('are no more between two checks than the whole time asked for', () => {
    const short = { duration: { hours: 2 }, longestGapHours: null };
    expect(verdictOf([check(0, 600), check(36, 600)], { rule: short })).toMatchObject({
      creditedHours: 0,
      metAtMs: null,
    });
    expect(verdictOf([check(0, 600), check(2, 600)], { rule: short }).metAtMs).toBe(at(2));
  });

  it('count exactly at the threshold and not a tenth below it', () => {
    expect(verdictOf([check(0, 550), check(10, 550)]).creditedHours).toBe(10);
    expect(verdictOf([check(0, 550), check(10, 549)])).toMatchObject({
      status: 'interrupted',
      creditedHours: 0,
    });
  });

  it('are not guessed at on the way up or down', () => {
    const verdict = verdictOf([check(0, 540), check(1, 560), check(5, 560), check(6, 540)], {
      rule: { continuity: 'cumulative' },
    });
    expect(verdict.creditedSpans).toEqual([{ fromMs: at(1), toMs: at(5) }]);
  });

  it('count across a gap of exactly the longest, and not a minute more', () => {
    expect(verdictOf([check(0, 600), check(24, 600)]).creditedHours).toBe(24);
    const late = verdictOf([check(0, 600), check(24 + 1 / 60, 600)]);
    expect(late).toMatchObject({
      status: 'in-progress',
      creditedHours: 0,
      clockStartedAtMs: at(24 + 1 / 60),
    });
    expect(of(late, 'gap')).toMatchObject([{ fromMs: at(0), toMs: at(24 + 1 / 60) }]);
  });

  it('use 36 hours, named as our own, where the rule names no gap', () => {
    const rule = { longestGapHours: null };
    expect(verdictOf([check(0, 600), check(36, 600)], { rule }).creditedHours).toBe(36);
    const late = verdictOf([check(0, 600), check(36.5, 600)], { rule });
    expect(late.creditedHours).toBe(0);
    expect(late.required.longestGapHours).toBe(36);
    expect(late.notes.join(' ')).toContain("36 hours used here are this program's own choice");
  });

  it('are told rounded down, so that a run just short does not read as long enough', () => {
    const verdict = verdictOf([check(0, 600), check(24, 600), check(47.99, 600)]);
    expect(of(verdict, 'credited')[0]?.text).toContain('Credited: 47.9 hours,');
  });

  it('of a rule written in days are 24 each', () => {
    const verdict = verdictOf([check(0, 600), check(24, 600), check(48, 600), check(72, 600)], {
      rule: { duration: { days: 3 } },
    });
    expect(verdict).toMatchObject({ status: 'met', metAtMs: at(72), required: { hours: 72, days: null } });
  });
});

describe('a run that was broken', () => {
  const broken = [check(0, 600), check(20, 600), check(40, 600), check(41, 500), check(42, 510)];

  it('loses its hours under the consecutive reading', () => {
    const verdict = verdictOf(broken);
    expect(verdict).toMatchObject({
      status: 'interrupted',
      creditedHours: 0,
      creditedSpans: [],
      clockStartedAtMs: null,
    });
    expect(of(verdict, 'credited')).toMatchObject([{ fromMs: at(0), toMs: at(40) }]);
    expect(of(verdict, 'below-threshold')).toMatchObject([
      { fromMs: at(41), toMs: at(42), checkId: 'check-41' },
    ]);
  });

  it('keeps them under the cumulative reading', () => {
    const verdict = verdictOf([...broken, check(50, 600), check(60, 600)], {
      rule: { continuity: 'cumulative' },
    });
    expect(verdict).toMatchObject({
      status: 'met',
      metAtMs: at(58),
      creditedHours: 50,
      clockStartedAtMs: at(0),
    });
    expect(verdict.creditedSpans).toHaveLength(2);
    expect(of(verdict, 'clock-restarted')).toEqual([]);
  });

  it('starts anew at the next check that holds', () => {
    const verdict = verdictOf([...broken, check(50, 600), check(60, 600)]);
    expect(verdict).toMatchObject({ status: 'in-progress', creditedHours: 10, clockStartedAtMs: at(50) });
    expect(of(verdict, 'clock-restarted')).toMatchObject([{ fromMs: at(50) }]);
  });

  it('does not matter once the rule was met', () => {
    const verdict = verdictOf([
      check(0, 600),
      check(24, 600),
      check(48, 600),
      check(72, 300),
      check(96, 600),
    ]);
    expect(verdict).toMatchObject({ status: 'met', metAtMs: at(48), creditedHours: 48 });
    expect(verdict.evidence.map(({ kind }) => kind)).toEqual([
      'raw-addition',
      'clock-started',
      'credited',
      'met',
    ]);
  });
});

describe('a rule that leaves open whether time must be consecutive', () => {
  const checks = [check(0, 600), check(24, 600), check(25, 500), check(26, 600), check(50, 600)];
  const rule = { continuity: 'unstated' } as const;

  it('is read as consecutive, the stricter, and says so', () => {
    const verdict = verdictOf(checks, { rule });
    expect(verdict).toMatchObject({ reading: 'consecutive', status: 'in-progress', creditedHours: 24 });
    expect(verdict.notes[0]).toContain('read as consecutive');
  });

  it('is read as cumulative when asked, and says so', () => {
    const verdict = verdictOf(checks, { rule, reading: 'cumulative' });
    expect(verdict).toMatchObject({ reading: 'cumulative', status: 'met', metAtMs: at(50) });
    expect(verdict.notes[0]).toContain('read as cumulative');
  });

  it('cannot be overruled where it does say', () => {
    expect(verdictOf(checks, { reading: 'cumulative' }).reading).toBe('consecutive');
  });
});

describe('status', () => {
  it('is not started without checks, or before one reaches the threshold', () => {
    expect(verdictOf([]).status).toBe('not-started');
    expect(verdictOf([check(10, 400), check(20, 549)])).toMatchObject({
      status: 'not-started',
      clockStartedAtMs: null,
    });
  });

  it('is in progress from the first check that holds', () => {
    expect(verdictOf([check(10, 550)])).toMatchObject({ status: 'in-progress', creditedHours: 0 });
  });

  it('is insufficient when a batch that was counting has not been checked for too long', () => {
    const checks = [check(0, 600), check(24, 600)];
    expect(verdictOf(checks, { now: 48 }).status).toBe('in-progress');
    const silent = verdictOf(checks, { now: 49 });
    expect(silent).toMatchObject({ status: 'insufficient-data', creditedHours: 24 });
    expect(of(silent, 'gap')).toMatchObject([{ fromMs: at(24), toMs: at(49) }]);
  });

  it('stays interrupted however long ago that was', () => {
    expect(verdictOf([check(0, 600), check(1, 300)], { now: 5000 }).status).toBe('interrupted');
  });

  it('is never interrupted where time is added up', () => {
    const verdict = verdictOf([check(0, 600), check(10, 600), check(20, 300)], {
      rule: { continuity: 'cumulative' },
    });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedHours: 10 });
  });
});
