import { SiteCalendar } from '../calendar.js';

/** One entry of the verification log of an instrument. */
export interface Verification {
  readonly occurredAtMs: number;
  readonly passed: boolean;
}

export interface VerificationState {
  /** Null when the instrument was never verified. */
  readonly last: Verification | null;
  /** Days that a verification stays good; null when the programme has not decided. */
  readonly everyDays: number | null;
  readonly timeZone: string;
}

export interface VerificationDue {
  /** Last local day on which the last verification is good, "2026-03-01". */
  readonly dueOn: string | null;
  readonly overdue: boolean;
}

/** Whether an instrument must be verified again. One that failed is due since that day, whatever was decided. */
export function verificationDue(
  { last, everyDays, timeZone }: VerificationState,
  nowMs: number,
): VerificationDue {
  if (!last) return { dueOn: null, overdue: everyDays !== null };
  const calendar = new SiteCalendar(timeZone);
  if (!last.passed) return { dueOn: calendar.isoDay(last.occurredAtMs), overdue: true };
  if (everyDays === null) return { dueOn: null, overdue: false };
  const good = goodUntil(last, everyDays, calendar);
  return { dueOn: calendar.isoDay(good.lastMs), overdue: nowMs >= good.endMs };
}

/** An instant of the last local day on which a verification is good, and the end of that day. */
export function goodUntil(
  { occurredAtMs }: Verification,
  everyDays: number,
  calendar: SiteCalendar,
): { lastMs: number; endMs: number } {
  const lastMs = calendar.addDays(occurredAtMs, everyDays);
  return { lastMs, endMs: calendar.dayOf(lastMs).endMs };
}
