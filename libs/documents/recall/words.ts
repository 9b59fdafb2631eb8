import { Temporal } from 'temporal-polyfill';

/** The site's own date and clock, to the minute: "2026-03-02 10:00". */
export function localMinute(instant: string, timeZone: string): string {
  const local = Temporal.Instant.from(instant).toZonedDateTimeISO(timeZone).toPlainDateTime();
  return local.toString({ smallestUnit: 'minute' }).replace('T', ' ');
}
