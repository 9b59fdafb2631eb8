import { Temporal } from 'temporal-polyfill';
import { minuteMs } from '#libs/quantities';
import { invalid } from '../problems/catalogue.js';

const FUTURE_ALLOWED_MS = 5 * minuteMs;
/** The clock of one site may be as far from another’s as two devices may be from ours. */
export const CLOCKS_APART_MS = 2 * FUTURE_ALLOWED_MS;
/** No paper record that anybody types in is older; a year 0206 is a slip. */
const EARLIEST_MS = Date.UTC(1900, 0, 1);

/** Milliseconds of an RFC 3339 time. Refuses days that no calendar has. */
export function instantMs(text: string, pointer: string): number {
  const ms = Date.parse(text);
  const day = Number(text.slice(8, 10));
  const month = Number(text.slice(5, 7));
  const lastDay = new Date(Date.UTC(Number(text.slice(0, 4)), month, 0)).getUTCDate();
  if (Number.isNaN(ms) || day < 1 || day > lastDay) throw invalid(pointer, 'is no time of any calendar');
  return ms;
}

/** The bound of a list, where one is given. */
export function instantOrNull(text: string | undefined, pointer: string): Date | null {
  return text === undefined ? null : new Date(instantMs(text, pointer));
}

/** When it happened: now, if left out; never more than five minutes ahead, which is a wrong clock. */
export function happenedAt(text: string | undefined, nowMs: number, pointer = '/occurredAt'): Date {
  if (text === undefined) return new Date(nowMs);
  const ms = instantMs(text, pointer);
  if (ms > nowMs + FUTURE_ALLOWED_MS)
    throw invalid(pointer, 'is in the future; is the clock of the device right?');
  if (ms < EARLIEST_MS) throw invalid(pointer, 'is more than a century ago');
  return new Date(ms);
}

/** The local day of an instant in a time zone, "2026-05-02". */
export function localDay(ms: number, timeZone: string): string {
  return Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(timeZone).toPlainDate().toString();
}

/**
 * As `happenedAt`, and not before something began: `what` ends the sentence "is before …". Where the time is left out and
 * that began by a clock a little ahead of ours, it is the beginning itself.
 */
export function happenedSince(text: string | undefined, nowMs: number, began: Date, what: string): Date {
  const at = happenedAt(text, nowMs);
  if (at >= began) return at;
  if (text === undefined) return began;
  throw invalid('/occurredAt', `is before ${what}, at ${began.toISOString()}`);
}
