import { SiteCalendar } from '../../libs/process/calendar.js';

// As the sentences say it that the service answers, on the same page: one date must not read in two ways, "5/6" and "6 May".

/** A local day of a site, "6 May 2024". */
export function day(instant: string, timeZone: string): string {
  return new SiteCalendar(timeZone).sayDay(Date.parse(instant));
}

/** A local moment of a site, "6 May 2024 08:00". */
export function moment(instant: string, timeZone: string): string {
  return new SiteCalendar(timeZone).say(Date.parse(instant));
}

/** "6 May 2024" of "2024-05-06", which is the same day everywhere. */
export function calendarDay(isoDay: string): string {
  return day(isoDay, 'UTC');
}

/** Kilograms to the gram, grouped. */
export function kg(mass: number): string {
  return new Intl.NumberFormat(undefined, { minimumFractionDigits: 3, maximumFractionDigits: 3 }).format(
    mass,
  );
}
