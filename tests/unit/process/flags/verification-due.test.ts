import { describe, expect, it } from 'vitest';
import { verificationDue } from '#libs/process';

const at = (text: string) => Date.parse(text);
const timeZone = 'America/Denver';
const verified = (text: string, passed = true) => ({ occurredAtMs: at(text), passed });

describe('when a verification is due', () => {
  it('counts local days, so that an evening is not the next day', () => {
    // 2026-01-05, 20:00 in Denver.
    const last = verified('2026-01-06T03:00:00Z');
    const state = { last, everyDays: 30, timeZone };
    expect(verificationDue(state, at('2026-02-05T06:59:59Z'))).toEqual({
      dueOn: '2026-02-04',
      overdue: false,
    });
    expect(verificationDue(state, at('2026-02-05T07:00:00Z'))).toEqual({
      dueOn: '2026-02-04',
      overdue: true,
    });
  });

  it('is due the same day of the calendar across a change of clocks and a leap day', () => {
    const last = verified('2028-02-28T12:00:00-07:00');
    const due = verificationDue({ last, everyDays: 30, timeZone }, at('2028-03-30T05:59:59Z'));
    expect(due).toEqual({ dueOn: '2028-03-29', overdue: false });
  });

  it('is asked for at once where there was none, and never where the programme has not decided', () => {
    const nowMs = at('2026-02-05T12:00:00Z');
    expect(verificationDue({ last: null, everyDays: 30, timeZone }, nowMs)).toEqual({
      dueOn: null,
      overdue: true,
    });
    expect(verificationDue({ last: null, everyDays: null, timeZone }, nowMs).overdue).toBe(false);
    const last = verified('2020-01-01T12:00:00Z');
    expect(verificationDue({ last, everyDays: null, timeZone }, nowMs)).toEqual({
      dueOn: null,
      overdue: false,
    });
  });

  it('is overdue from the day on which one failed', () => {
    const last = verified('2026-02-05T03:00:00Z', false);
    for (const everyDays of [30, null]) {
      const due = verificationDue({ last, everyDays, timeZone }, at('2026-02-05T04:00:00Z'));
      expect(due).toEqual({ dueOn: '2026-02-04', overdue: true });
    }
  });
});
