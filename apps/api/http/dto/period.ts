import { Temporal } from 'temporal-polyfill';
import { invalid } from '../problems/catalogue.js';

/** Refuses local days that no calendar has, and a period without a day in it. Either end may be left open. */
export function requirePeriod(from: string | undefined, to: string | undefined): void {
  const first = from === undefined ? null : dayOf(from, '/from');
  const end = to === undefined ? null : dayOf(to, '/to');
  if (first && end && Temporal.PlainDate.compare(first, end) >= 0)
    throw invalid('/to', 'must be later than `from`');
}

/** Refuses a day that no calendar has. */
export function requireDay(text: string, pointer: string): void {
  dayOf(text, pointer);
}

function dayOf(text: string, pointer: string): Temporal.PlainDate {
  try {
    return Temporal.PlainDate.from(text, { overflow: 'reject' });
  } catch {
    throw invalid(pointer, 'is no day of any calendar');
  }
}
