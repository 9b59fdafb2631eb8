import { Temporal } from 'temporal-polyfill';

/** Local days as ISO dates: `from` belongs to the period, `to` is the first day after it. */
export interface ReportingYear {
  readonly from: string;
  readonly to: string;
}

/**
 * The reporting year that a local day belongs to, for a jurisdiction whose year starts on a month and day ("07-01").
 * A year that starts on "02-29" starts on 28 February where there is no 29th, so that years always meet without a gap.
 * Throws RangeError on anything but "MM-DD" and "YYYY-MM-DD" of real days.
 */
export function reportingYear(startMonthDay: string, localDate: string): ReportingYear {
  if (!/^\d{2}-\d{2}$/.test(startMonthDay))
    throw new RangeError(`start of the reporting year must be MM-DD, got ${startMonthDay}`);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(localDate))
    throw new RangeError(`local date must be YYYY-MM-DD, got ${localDate}`);
  const start = Temporal.PlainMonthDay.from(startMonthDay, { overflow: 'reject' });
  const day = Temporal.PlainDate.from(localDate, { overflow: 'reject' });
  const startIn = (year: number): Temporal.PlainDate => start.toPlainDate({ year });
  const begun = Temporal.PlainDate.compare(day, startIn(day.year)) >= 0;
  const firstYear = begun ? day.year : day.year - 1;
  return { from: startIn(firstYear).toString(), to: startIn(firstYear + 1).toString() };
}
