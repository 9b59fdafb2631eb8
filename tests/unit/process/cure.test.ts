import { describe, expect, it } from 'vitest';
import { evaluateCure, type CureFacts } from '#libs/process';
import { at, check, hourMs, startMs, timeZone, turn } from './batch.js';

const cure = (facts: Partial<CureFacts>, now: number) =>
  evaluateCure(
    { cureDays: 30, startedAtMs: at(0), checks: [], turns: [], reheatDeciC: 450, ...facts },
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
      "Curing began on 6 May 2024 08:00, by the manager's word.",
      'Cured for 30 days on 5 Jun 2024 08:00.',
    ]);
  });

  it('starts anew when another batch is merged in, which has not cured here', () => {
    const verdict = cure({ lastMerge: { code: 'QS-14', atMs: at(240) } }, 721);
    expect(verdict).toMatchObject({ status: 'in-progress', startedAtMs: at(240), daysDone: 20 });
    expect(verdict.evidence.map(({ text }) => text)).toContain(
      '16 May 2024 08:00: batch QS-14 was merged in, and the cure starts anew.',
    );
    const before = cure({ lastMerge: { code: 'QS-14', atMs: at(-1) } }, 720);
    expect(before).toMatchObject({ status: 'done', startedAtMs: at(0) });
    expect(cure({ lastMerge: { code: 'QS-14', atMs: at(730) } }, 720).status).toBe('done');
  });

  it('ends at the same time of day, whatever clocks do in between', () => {
    const facts: CureFacts = {
      cureDays: 2,
      startedAtMs: Date.parse('2024-03-09T08:00-07:00'),
      checks: [],
      turns: [],
      reheatDeciC: null,
    };
    const verdict = evaluateCure(facts, Date.parse('2024-04-01T00:00Z'), timeZone);
    expect(verdict.doneAtMs).toBe(Date.parse('2024-03-11T08:00-06:00'));
  });

  it('starts anew at a check at or above the reheat temperature, and says so', () => {
    const verdict = cure({ checks: [check(100, 449), check(200, 300, 450)] }, 721);
    expect(verdict).toMatchObject({ status: 'in-progress', startedAtMs: at(200), daysDone: 21 });
    const reheated = verdict.evidence.find(({ kind }) => kind === 'reheated');
    expect(reheated).toMatchObject({ fromMs: at(200), checkId: 'check-200' });
    expect(reheated?.text).toBe(
      '14 May 2024 16:00: hottest probe 45 °C (113 °F), at or above 45 °C (113 °F). The batch reheated, and the cure starts anew.',
    );
  });

  it('takes hot checks in a row for one reheat and starts at the last of them', () => {
    const checks = [check(10, 500), check(20, 520), check(30, 480), check(40, 300), check(50, 460)];
    const { evidence, startedAtMs } = cure({ checks }, 60);
    expect(startedAtMs).toBe(at(50));
    expect(evidence.filter(({ kind }) => kind === 'still-hot' || kind === 'reheated')).toMatchObject([
      { kind: 'still-hot', fromMs: at(10), toMs: at(30), checkId: 'check-20' },
      { kind: 'reheated', fromMs: at(50), toMs: at(50) },
    ]);
  });

  it('tells a batch that was hot all along from one that heated again', () => {
    const before = (deciC: number) => cure({ checks: [check(-5, deciC), check(10, 450)] }, 20).evidence;
    expect(before(450).map(({ kind }) => kind)).toContain('still-hot');
    expect(before(449).map(({ kind }) => kind)).toContain('reheated');
    expect(before(450)[1]?.text).toBe(
      '6 May 2024 18:00: hottest probe 45 °C (113 °F), at or above 45 °C (113 °F). ' +
        'The batch was still hot: the cure counts from then.',
    );
  });

  it('takes the word of a logger as well', () => {
    const readings = Array.from({ length: 120 }, (_, minute) => (minute >= 30 && minute < 90 ? 460 : 300));
    const series = {
      logger: 'L-2',
      atMs: Float64Array.from(readings, (_, minute) => at(100) + minute * 60_000),
      lowDeciC: Float64Array.from(readings),
      highDeciC: Float64Array.from(readings),
      enough: new Uint8Array(readings.length).fill(1),
      lack: new Uint8Array(readings.length),
    };
    const byHand = { checks: [check(99, 300), check(103, 300)] };
    const { startedAtMs, evidence } = cure({ ...byHand, series: [series] }, 110);
    expect(startedAtMs).toBe(at(100) + 89 * 60_000);
    expect(evidence.find(({ kind }) => kind === 'reheated')).toMatchObject({
      ...{ fromMs: at(100) + 30 * 60_000, toMs: at(100) + 89 * 60_000, checkId: null },
      text: expect.stringContaining('hottest probe of logger L-2 46 °C'),
    });
    expect(cure(byHand, 110).startedAtMs).toBe(at(0));
  });

  it('takes a probe hotter than boiling water for misread, and goes by the others', () => {
    expect(cure({ checks: [check(100, 1400, 300)] }, 720).status).toBe('done');
    expect(cure({ checks: [check(100, 1400, 450)] }, 720).startedAtMs).toBe(at(100));
  });

  it('starts anew even when the days were already done', () => {
    expect(cure({ checks: [check(800, 460)] }, 801)).toMatchObject({ status: 'in-progress', doneAtMs: null });
  });

  it('is not disturbed by heat before it began, after now, or where no limit is set', () => {
    const checks = [check(-5, 600), check(0, 600), check(900, 600)];
    expect(cure({ checks }, 720).evidence.map(({ kind }) => kind)).toEqual(['cure-started', 'cure-done']);
    const unlimited = cure({ checks: [check(100, 700)], reheatDeciC: null }, 720);
    expect(unlimited).toMatchObject({ status: 'done', afterTurn: 'not-asked' });
    expect(unlimited.notes).toEqual([
      'Neither the permit nor a process rule names a temperature, so no reheating interrupts the days.',
    ]);
  });

  it('says whose temperature it is where the permit names none', () => {
    const facts = { checks: [check(100, 560)], reheatDeciC: 550, reheatRule: 'us-503-pfrp-windrow' };
    expect(cure(facts, 720)).toMatchObject({ status: 'in-progress', startedAtMs: at(100) });
    expect(cure(facts, 720).notes[0]).toBe(
      'The permit names no temperature at which a cure starts anew: 55 °C (131 °F) is taken from us-503-pfrp-windrow.',
    );
    expect(cure({ reheatDeciC: 450 }, 720).notes.join()).not.toContain('is taken from');
  });

  it('of no days is done when it begins', () => {
    expect(cure({ cureDays: 0 }, 0)).toMatchObject({ status: 'done', doneAtMs: at(0) });
  });
});

describe('whether the batch stays cool after a turn', () => {
  const after = (facts: Partial<CureFacts>, now = 200) => {
    const { afterTurn, evidence, notes } = cure(facts, now);
    const text = evidence.find(({ kind }) => kind === 'turned')?.text;
    return { afterTurn, notes: notes.join(' '), text };
  };

  it('is shown by a check three days or more after the first turn since it was hot', () => {
    const checks = [check(-50, 600), check(50, 320), check(124, 380)];
    expect(after({ turns: [turn(-60), turn(52)], checks })).toEqual({
      afterTurn: 'stayed-under',
      notes: '',
      text:
        'Turned on 8 May 2024 12:00, last checked 3 days after that: at most 38 °C (100.4 °F), ' +
        'under 45 °C (113 °F).',
    });
    expect(after({ turns: [turn(52.5, 'move')], checks }).afterTurn).toBe('too-soon');
    expect(after({ turns: [turn(-20)], checks }).afterTurn).toBe('stayed-under');
  });

  it('is not shown by a pile that nobody turned since it was hot, and that holds nothing back', () => {
    const checks = [check(-50, 600), check(76, 300)];
    const verdict = cure({ turns: [turn(-60)], checks }, 30 * 24);
    expect(verdict).toMatchObject({ status: 'done', afterTurn: 'not-turned' });
    expect(verdict.notes[0]).toMatch(
      /^No turn is recorded since it was last at 45 °C \(113 °F\) or more, 4 May 2024 06:00\. Curing begins where/,
    );
    expect(cure({ checks: [check(76, 300)] }, 100).notes[0]).toMatch(/^No turn is recorded\. /);
  });

  it('is not shown where nobody looked after the turn, or the turn is yet to come', () => {
    const checks = [check(10, 300)];
    expect(after({ turns: [turn(10)], checks })).toMatchObject({ afterTurn: 'not-checked' });
    expect(after({ turns: [turn(201)], checks }).afterTurn).toBe('not-turned');
  });

  it('counts no turn from before the batch was last found hot', () => {
    const checks = [check(10, 300), check(60, 450), check(140, 300)];
    expect(after({ turns: [turn(20)], checks }).afterTurn).toBe('not-turned');
    expect(after({ turns: [turn(20), turn(61)], checks }).afterTurn).toBe('stayed-under');
  });

  it('says when a later turn was not followed by a check', () => {
    const checks = [check(92, 300)];
    const { afterTurn, notes } = after({ turns: [turn(20), turn(114)], checks });
    expect(afterTurn).toBe('stayed-under');
    expect(notes).toBe('It was turned again on 11 May 2024 02:00, and not checked since.');
  });
});

describe('how closely a cure was watched', () => {
  it('is told with the hottest probe and the longest time without a reading', () => {
    const { evidence, notes } = cure({ checks: [check(24, 300), check(240, 310, 352)], turns: [] }, 300);
    expect(evidence.find(({ kind }) => kind === 'watched')).toEqual({
      ...{ kind: 'watched', fromMs: startMs, toMs: startMs + 240 * hourMs, checkId: null },
      text:
        'Measured 2 times since, the last on 16 May 2024 08:00: at most 35.2 °C (95.4 °F). ' +
        'The longest time without a reading was 9 days.',
    });
    expect(notes.join(' ')).not.toMatch(/No reading/);
  });

  it('says so where nobody looked', () => {
    expect(cure({ turns: [turn(1)] }, 30 * 24)).toMatchObject({
      status: 'done',
      notes: [
        expect.stringMatching(/^No check follows the turn/),
        'No reading is recorded after 6 May 2024 08:00: the days are counted, and the temperature is not shown.',
      ],
    });
  });
});
