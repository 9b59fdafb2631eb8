import { Temporal } from 'temporal-polyfill';

export const decimalMarks = ['.', ','] as const;
export type DecimalMark = (typeof decimalMarks)[number];

export const dateForms = ['year-month-day', 'month-day-year', 'day-month-year'] as const;
export type DateForm = (typeof dateForms)[number];

/** A cell that was read, or why it could not be. */
export type Read<T> = { ok: true; value: T } | { ok: false; fault: string };

const fault = (text: string): { ok: false; fault: string } => ({ ok: false, fault: text });

/** Digits, perhaps in groups of three, perhaps with decimals: no sign, no unit, no exponent. */
const NUMBER: Record<DecimalMark, RegExp> = {
  '.': /^(?:\d+|\d{1,3}(?:,\d{3})+)?(?:\.\d+)?$/,
  ',': /^(?:\d+|\d{1,3}(?:[. \u00a0\u202f]\d{3})+)?(?:,\d+)?$/,
};

/** A mass of zero or more. Blank is not zero. */
export function readAmount(cell: string, mark: DecimalMark): Read<number> {
  if (cell === '') return fault('the mass is blank, and blank is not zero');
  if (!NUMBER[mark].test(cell)) {
    const mind = mark === '.' ? 'a point before the decimals' : 'a comma before the decimals';
    return fault(`"${shown(cell)}" is no plain number of zero or more with ${mind}`);
  }
  const plain =
    mark === '.' ? cell.replaceAll(',', '') : cell.replace(/[. \u00a0\u202f]/g, '').replace(',', '.');
  return { ok: true, value: Number(plain) };
}

const PARTS: Record<DateForm, RegExp> = {
  'year-month-day': /^(?<year>\d{4})[-/.](?<month>\d{1,2})[-/.](?<day>\d{1,2})(?<time>[T ].+)?$/,
  'month-day-year': /^(?<month>\d{1,2})[-/.](?<day>\d{1,2})[-/.](?<year>\d{4})(?<time>[T ].+)?$/,
  'day-month-year': /^(?<day>\d{1,2})[-/.](?<month>\d{1,2})[-/.](?<year>\d{4})(?<time>[T ].+)?$/,
};
const TIME = /^[T ](?<hour>\d{1,2}):(?<minute>\d{2})(?::(?<second>\d{2}))?$/;

/** Local day, perhaps with a local time; `noon` stands in where the cell tells none. */
export function readMoment(cell: string, form: DateForm, noon: string): Read<Temporal.PlainDateTime> {
  if (cell === '') return fault('the date is blank');
  const parts = PARTS[form].exec(cell)?.groups;
  const time = parts && TIME.exec(parts['time'] ?? ` ${noon}`)?.groups;
  if (!parts || !time) return fault(`"${shown(cell)}" is no date written as ${form} in digits`);
  const whole = {
    ...numbersOf(parts, ['year', 'month', 'day']),
    ...numbersOf(time, ['hour', 'minute', 'second']),
  };
  try {
    return { ok: true, value: Temporal.PlainDateTime.from(whole, { overflow: 'reject' }) };
  } catch {
    return fault(`"${shown(cell)}" is a day or time that does not exist`);
  }
}

/**
 * The moment at which the clocks of a zone showed that time. Where they are put forward some times are on no clock, and
 * where they are put back some are on it twice: nobody but the reader of the paper can tell what is meant.
 */
export function readInstant(local: Temporal.PlainDateTime, zone: string): Read<Temporal.Instant> {
  try {
    return { ok: true, value: local.toZonedDateTime(zone, { disambiguation: 'reject' }).toInstant() };
  } catch {
    const at = (disambiguation: 'earlier' | 'later') => local.toZonedDateTime(zone, { disambiguation });
    const time = local.toString({ smallestUnit: 'minute' }).replace('T', ' ');
    const twice = at('earlier').toPlainDateTime().equals(local);
    return fault(
      twice
        ? `clocks in ${zone} showed ${time} twice, since they were put back: leave the line out, and enter the lot by ` +
            `hand as ${shownWithOffset(at('earlier'))} or ${shownWithOffset(at('later'))}`
        : `no clock in ${zone} showed ${time}, since they were put forward: look at the paper again, and mend the time`,
    );
  }
}

const shownWithOffset = (at: Temporal.ZonedDateTime) =>
  at.toString({ smallestUnit: 'minute', timeZoneName: 'never' });

function numbersOf<Name extends string>(
  groups: Record<string, string | undefined>,
  names: readonly Name[],
): Record<Name, number> {
  return Object.fromEntries(names.map((name) => [name, Number(groups[name] ?? 0)])) as Record<Name, number>;
}

/** A cell as it may be repeated in a sentence. */
export function shown(cell: string): string {
  const line = cell.replace(/\s+/g, ' ');
  return line.length > 60 ? `${line.slice(0, 59)}…` : line;
}
