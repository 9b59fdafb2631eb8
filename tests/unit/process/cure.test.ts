import { describe, expect, it } from 'vitest';
import { evaluateCure, type CureFacts } from '#libs/process';
import { at, check, timeZone } from './batch.js';

const cure = (facts: Partial<CureFacts>, now: number) =>
  evaluateCure(
    { cureDays: 30, startedAtMs: at(0), checks: [], reheatDeciC: 450, ...facts },
    at(now),
    timeZone,
  );

describe('a cure', () => {
  it('has not started before the stage has', () => {
    const none = { status: 'not-started', startedAtMs: null, daysDone: 0, daysRequired: 30, doneAtMs: null };
    expect(cure({ startedAtMs: null }, 100)).toMatchObject({ ...none, evidence: [] });
    expect(cure({ startedAtMs: at(101) }, 100)).toMatchObject(none);
  });

  it('is done after so many days, to the minute', () => {
    expect(cure({}, 30 * 24 - 1)).toMatchObject({ status: 'in-progress', daysDone: 29, doneAtMs: null });
    const done = cure({}, 30 * 24);
    expect(done).toMatchObject({ status: 'done', daysDone: 30, doneAtMs: at(720) });
    expect(done.evidence.map(({ text }) => text)).toEqual([
      'Curing began on 6 May 2024 08:00.',
      'Cured for 30 days on 5 Jun 2024 08:00.',
    ]);
  });

  it('ends at the same time of day, whatever clocks do in between', () => {
    const facts: CureFacts = {
      cureDays: 2,
      startedAtMs: Date.parse('2024-03-09T08:00-07:00'),
      checks: [],
      reheatDeciC: null,
    };
    const verdict = evaluateCure(facts, Date.parse('2024-04-01T00:00Z'), timeZone);
    expect(verdict.doneAtMs).toBe(Date.parse('2024-03-11T08:00-06:00'));
  });

  it('starts anew at a check at or above the reheat temperature, and says so', () => {
    const verdict = cure({ checks: [check(100, 449), check(200, 300, 450)] }, 721);
    expect(verdict).toMatchObject({ status: 'in-progress', startedAtMs: at(200), daysDone: 21 });
    expect(verdict.evidence[1]).toMatchObject({ kind: 'reheated', fromMs: at(200), checkId: 'check-200' });
    expect(verdict.evidence[1]?.text).toBe(
      '14 May 2024 16:00: hottest probe 45 °C (113 °F), at or above 45 °C (113 °F). The batch reheated, and the cure starts anew.',
    );
  });

  it('takes hot checks in a row for one reheat and starts at the last of them', () => {
    const checks = [check(10, 500), check(20, 520), check(30, 480), check(40, 300), check(50, 460)];
    const { evidence, startedAtMs } = cure({ checks }, 60);
    expect(startedAtMs).toBe(at(50));
    expect(evidence.filter(({ kind }) => kind === 'reheated')).toMatchObject([
      { fromMs: at(10), toMs: at(30), checkId: 'check-20' },
      { fromMs: at(50), toMs: at(50) },
    ]);
  });

  it('starts anew even when the days were already done', () => {
    expect(cure({ checks: [check(800, 460)] }, 801)).toMatchObject({ status: 'in-progress', doneAtMs: null });
  });

  it('is not disturbed by heat before it began, after now, or where no limit is set', () => {
    const checks = [check(-5, 600), check(0, 600), check(900, 600)];
    expect(cure({ checks }, 720).evidence.map(({ kind }) => kind)).toEqual(['cure-started', 'cure-done']);
    expect(cure({ checks: [check(100, 700)], reheatDeciC: null }, 720).status).toBe('done');
  });

  it('of no days is done when it begins', () => {
    expect(cure({ cureDays: 0 }, 0)).toMatchObject({ status: 'done', doneAtMs: at(0) });
  });
});
