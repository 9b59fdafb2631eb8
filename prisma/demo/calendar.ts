import { Temporal } from 'temporal-polyfill';

export const ZONE = 'America/Denver';

/** A local time of the programme as RFC 3339 with its offset. */
export function at(day: Temporal.PlainDate, hour: number, minute = 0): string {
  const local = day.toZonedDateTime({ timeZone: ZONE, plainTime: { hour, minute } });
  return local.toString({ timeZoneName: 'never', smallestUnit: 'second' });
}

/** Mean air temperature of a day in a valley with cold winters, °C. */
export function ambientC(day: Temporal.PlainDate): number {
  return 10 - 13 * Math.cos(((day.dayOfYear - 15) / 365) * 2 * Math.PI);
}

export function* daysFrom(
  first: Temporal.PlainDate,
  last: Temporal.PlainDate,
): Generator<Temporal.PlainDate> {
  for (let day = first; Temporal.PlainDate.compare(day, last) <= 0; day = day.add({ days: 1 })) yield day;
}
