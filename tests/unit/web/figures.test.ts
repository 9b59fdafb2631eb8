import { describe, expect, it } from 'vitest';
import { calendarDay, day, moment } from '../../../apps/web/figures.js';
import { SiteCalendar } from '../../../libs/process/calendar.js';

describe('a date on a page', () => {
  it('reads as in the sentences of the service, on the clock of the site', () => {
    expect(moment('2024-09-06T02:05:00Z', 'America/Denver')).toBe('5 Sep 2024 20:05');
    expect(moment('2024-09-06T06:00:00.000Z', 'America/Denver')).toBe('6 Sep 2024 00:00');
    expect(day('2024-09-06T02:05:00Z', 'America/Denver')).toBe('5 Sep 2024');
    const ms = Date.parse('2026-03-05T17:45:00Z');
    expect(moment(new Date(ms).toISOString(), 'Europe/Berlin')).toBe(
      new SiteCalendar('Europe/Berlin').say(ms),
    );
  });

  it('is the same day everywhere where it is a day and no instant', () => {
    expect(calendarDay('2024-05-06')).toBe('6 May 2024');
    expect(calendarDay('2024-12-31')).toBe('31 Dec 2024');
  });
});
