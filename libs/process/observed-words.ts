import type { SiteCalendar } from './calendar.js';
import type { ObservedCheck } from './observed.js';

type Seen = Pick<ObservedCheck, 'occurredAtMs' | 'logger'>;

// A check is one visit to a batch. What a logger read is not called one: whoever asks at the yard would find nobody who made it.

/** "Check of 3 May 2024 07:30"; "Logger L-2 on 3 May 2024 07:30". */
export function sayLook(calendar: SiteCalendar, { occurredAtMs, logger }: Seen): string {
  const at = calendar.say(occurredAtMs);
  return logger === undefined ? `Check of ${at}` : `Logger ${logger} on ${at}`;
}

/** After a figure and a comma: "at the check of 3 May 2024 07:30"; "as logger L-2 showed on 3 May 2024 07:30". */
export function sayShown(calendar: SiteCalendar, { occurredAtMs, logger }: Seen): string {
  const at = calendar.say(occurredAtMs);
  return logger === undefined ? `at the check of ${at}` : `as logger ${logger} showed on ${at}`;
}
