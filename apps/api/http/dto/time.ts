import { invalid } from '../problems/catalogue.js';

const FUTURE_ALLOWED_MS = 5 * 60_000;

/** Milliseconds of an RFC 3339 time. Refuses days that no calendar has. */
export function instantMs(text: string, pointer: string): number {
  const ms = Date.parse(text);
  const day = Number(text.slice(8, 10));
  const month = Number(text.slice(5, 7));
  const lastDay = new Date(Date.UTC(Number(text.slice(0, 4)), month, 0)).getUTCDate();
  if (Number.isNaN(ms) || day < 1 || day > lastDay) throw invalid(pointer, 'is no time of any calendar');
  return ms;
}

/** When it happened: now, if left out; never more than five minutes ahead, which is a wrong clock. */
export function happenedAt(text: string | undefined, nowMs: number, pointer = '/occurredAt'): Date {
  if (text === undefined) return new Date(nowMs);
  const ms = instantMs(text, pointer);
  if (ms > nowMs + FUTURE_ALLOWED_MS)
    throw invalid(pointer, 'is in the future; is the clock of the device right?');
  return new Date(ms);
}
