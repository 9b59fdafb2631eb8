import { Temporal } from 'temporal-polyfill';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SiteCalendar, wholeMs } from '../../../libs/process/calendar.js';

const zones = [
  'America/Denver',
  'Europe/London',
  'Africa/Cairo',
  'Africa/Casablanca',
  'America/Havana',
  'Asia/Kathmandu',
  'Australia/Lord_Howe',
  'Pacific/Apia',
  'UTC',
];

describe('the calendar of a site', () => {
  it('finds the local days that the Temporal library finds, whatever clocks do', () => {
    const instants = fc.integer({ min: Date.parse('1995-01-01'), max: Date.parse('2040-01-01') });
    fc.assert(
      fc.property(fc.constantFrom(...zones), fc.array(instants, { minLength: 5 }), (zone, ms) => {
        const calendar = new SiteCalendar(zone);
        for (const each of ms) {
          const local = Temporal.Instant.fromEpochMilliseconds(each).toZonedDateTimeISO(zone);
          const start = local.startOfDay();
          expect(calendar.dayOf(each)).toEqual({
            startMs: start.epochMilliseconds,
            endMs: start.add({ days: 1 }).startOfDay().epochMilliseconds,
          });
          expect(calendar.isoDay(each)).toBe(local.toPlainDate().toString());
          expect(calendar.say(each).slice(-5)).toBe(local.toPlainTime().toString().slice(0, 5));
        }
      }),
      { seed: 20240506, numRuns: 100 },
    );
  });

  it.each([
    ['America/Denver', '2024-03-10T08:59:59.999Z', '10 Mar 2024 01:59'],
    ['America/Denver', '2024-03-10T09:00:00.000Z', '10 Mar 2024 03:00'],
    ['America/Denver', '2024-11-03T07:59:00.000Z', '3 Nov 2024 01:59'],
    ['America/Denver', '2024-11-03T08:00:00.000Z', '3 Nov 2024 01:00'],
    ['Australia/Lord_Howe', '2024-04-06T15:00:00.000Z', '7 Apr 2024 01:30'],
  ])('says the wall clock of %s at %s', (zone, iso, said) => {
    expect(new SiteCalendar(zone).say(Date.parse(iso))).toBe(said);
  });

  it('knows days that clocks lengthen, shorten or begin at one in the morning', () => {
    const length = (zone: string, iso: string) => {
      const { startMs, endMs } = new SiteCalendar(zone).dayOf(Date.parse(iso));
      return (endMs - startMs) / 3_600_000;
    };
    expect(length('America/Denver', '2024-03-10T12:00Z')).toBe(23);
    expect(length('America/Denver', '2024-11-03T12:00Z')).toBe(25);
    expect(length('Australia/Lord_Howe', '2024-04-06T15:00Z')).toBe(24.5);
    expect(length('America/Havana', '2024-03-10T12:00Z')).toBe(23);
  });

  it('makes whole milliseconds that JSON keeps', () => {
    expect(wholeMs(-0)).toBe(0);
    expect(wholeMs(1.9)).toBe(1);
    expect(new Date(wholeMs(1e300)).getUTCFullYear()).toBe(9999);
  });
});
