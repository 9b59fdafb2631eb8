import { describe, expect, it } from 'vitest';
import { at, check, of, raw, verdictOf } from './batch.js';

const hot = (...hours: number[]) => hours.map((hour) => check(hour, 600));

describe('raw material', () => {
  it('goes in before anything counts', () => {
    const verdict = verdictOf(hot(0, 12, 24, 36), { facts: { rawAdditions: [raw(20)] } });
    expect(verdict).toMatchObject({ clockStartedAtMs: at(24), creditedHours: 12 });
    expect(of(verdict, 'raw-addition')[0]?.text).toContain('Not counted, being earlier: 2 checks.');
  });

  it('lets a check of the same instant count from there on', () => {
    expect(verdictOf(hot(20, 40), { facts: { rawAdditions: [raw(20)] } }).creditedHours).toBe(20);
  });

  it('that goes in later restarts the clock, and the verdict says what it cost', () => {
    const verdict = verdictOf(hot(0, 24, 36, 48), { facts: { rawAdditions: [raw(0), raw(30, 'leaves')] } });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedHours: 12, clockStartedAtMs: at(36) });
    expect(of(verdict, 'clock-restarted')).toMatchObject([{ fromMs: at(30) }]);
    expect(of(verdict, 'clock-restarted')[0]?.text).toBe(
      'Raw material went in on 7 May 2024 14:00: leaves. Counting starts again. Lost: 24 hours.',
    );
  });

  it('undoes even a rule that was met', () => {
    const verdict = verdictOf(hot(0, 24, 48, 72), { facts: { rawAdditions: [raw(0), raw(60)] } });
    expect(verdict).toMatchObject({ status: 'in-progress', metAtMs: null, creditedHours: 0 });
    expect(of(verdict, 'clock-restarted')[0]?.text).toContain('The rule had been met on 8 May 2024 08:00');
  });

  it('shows every restart that cost something, and only the last addition besides', () => {
    const rawAdditions = [raw(0), raw(1), raw(2), raw(30), raw(31)];
    const { evidence } = verdictOf(hot(2, 26, 40), { facts: { rawAdditions } });
    expect(evidence.map(({ kind, fromMs }) => [kind, fromMs])).toEqual([
      ['clock-restarted', at(30)],
      ['raw-addition', at(31)],
      ['clock-started', at(40)],
    ]);
  });

  it('names everything that went in together', () => {
    const facts = { rawAdditions: [raw(0, 'leaves'), raw(0, 'food scraps')] };
    expect(verdictOf([], { facts }).evidence[0]?.text).toContain('food scraps and leaves');
  });

  it('that is not recorded leaves nothing to count from', () => {
    const nothing = { rawAdditions: [] };
    expect(verdictOf([], { facts: nothing }).status).toBe('not-started');
    const verdict = verdictOf(hot(0, 24, 48), { facts: nothing });
    expect(verdict).toMatchObject({ status: 'insufficient-data', creditedHours: 0, clockStartedAtMs: null });
    expect(verdict.notes).toContain(
      'No raw material is recorded, so there is nothing to start counting from.',
    );
    expect(verdict.timeAboveHours.at(-2)).toEqual({ thresholdDeciC: 600, hours: 48 });
  });
});

describe('facts dated after now', () => {
  it('are left out, and checks among them are said to be', () => {
    const facts = { rawAdditions: [raw(0), raw(30)] };
    const verdict = verdictOf(hot(0, 20, 40, 60), { facts, now: 24 });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedHours: 20 });
    expect(of(verdict, 'ignored')).toMatchObject([{ fromMs: at(40), toMs: at(60) }]);
    expect(of(verdict, 'ignored')[0]?.text).toBe('2 checks dated later than this verdict: left out.');
  });
});

describe('merged batches', () => {
  const met = { code: 'QS-12', occurredAtMs: at(10), metAtMs: at(-50) };
  const metLater = { code: 'QS-13', occurredAtMs: at(12), metAtMs: at(-20) };
  const unmet = { code: 'QS-14', occurredAtMs: at(10), metAtMs: null };

  it('hand their verdict on when each of them had met the rule', () => {
    const verdict = verdictOf([], { facts: { rawAdditions: [], mergedFrom: [met, metLater] }, now: 20 });
    expect(verdict).toMatchObject({ status: 'met', metAtMs: at(-20), creditedHours: 0 });
    expect(of(verdict, 'merged')).toHaveLength(2);
    expect(of(verdict, 'met')).toHaveLength(1);
  });

  it('count as raw material when one had not', () => {
    const facts = { rawAdditions: [], mergedFrom: [met, unmet] };
    const verdict = verdictOf(hot(5, 12, 30), { facts });
    expect(verdict).toMatchObject({ status: 'in-progress', clockStartedAtMs: at(12), creditedHours: 18 });
    expect(of(verdict, 'raw-addition')[0]?.text).toContain('batch QS-14, which had not met the rule');
  });

  it('count as raw material when the rule was met only after the merging', () => {
    const late = { ...met, metAtMs: at(11) };
    expect(verdictOf([], { facts: { rawAdditions: [], mergedFrom: [late] }, now: 20 }).status).toBe(
      'not-started',
    );
  });

  it('that had met the rule do not restart the batch they join, nor finish it', () => {
    const verdict = verdictOf(hot(0, 20), { facts: { mergedFrom: [met] } });
    expect(verdict).toMatchObject({ status: 'in-progress', creditedHours: 20 });
  });

  it('are undone by raw material that goes in later', () => {
    const facts = { rawAdditions: [raw(15)], mergedFrom: [met, metLater] };
    expect(verdictOf([], { facts, now: 20 })).toMatchObject({ status: 'not-started', metAtMs: null });
  });

  it('are not there before they are merged', () => {
    expect(verdictOf([], { facts: { rawAdditions: [], mergedFrom: [met] }, now: 9 }).status).toBe(
      'not-started',
    );
  });
});

describe('a batch made only of batches that had met the rule', () => {
  const mergedFrom = [{ code: 'QS-12', occurredAtMs: at(5), metAtMs: at(2) }];

  it('loses their verdict to raw material that goes in later, and says so', () => {
    const verdict = verdictOf([], { facts: { rawAdditions: [raw(6)], mergedFrom }, now: 7 });
    expect(verdict).toMatchObject({ status: 'not-started', metAtMs: null });
    expect(of(verdict, 'clock-restarted')).toMatchObject([{ fromMs: at(6) }]);
    expect(of(verdict, 'clock-restarted')[0]?.text).toContain('The rule had been met on 6 May 2024 10:00');
  });

  it('has no verdict of theirs to lose where raw material was in it from the beginning', () => {
    const verdict = verdictOf([], { facts: { rawAdditions: [raw(5)], mergedFrom }, now: 7 });
    expect(of(verdict, 'clock-restarted')).toEqual([]);
    expect(of(verdict, 'raw-addition')).toHaveLength(1);
  });
});
