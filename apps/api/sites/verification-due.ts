import { Temporal } from 'temporal-polyfill';

export interface VerificationState {
  /** Null when the instrument was never verified. */
  last: { occurredAtMs: number; passed: boolean } | null;
  /** Days that a verification stays good; null when the programme has not decided. */
  everyDays: number | null;
  timeZone: string;
}

export interface VerificationDue {
  /** Last local day on which the last verification is good, "2026-03-01". */
  dueOn: string | null;
  overdue: boolean;
}

/** Whether an instrument must be verified again. One that failed is due since that day, whatever was decided. */
export function verificationDue(
  { last, everyDays, timeZone }: VerificationState,
  nowMs: number,
): VerificationDue {
  if (!last) return { dueOn: null, overdue: everyDays !== null };
  const verifiedOn = localDay(last.occurredAtMs, timeZone);
  if (!last.passed) return { dueOn: verifiedOn.toString(), overdue: true };
  if (everyDays === null) return { dueOn: null, overdue: false };
  const dueOn = verifiedOn.add({ days: everyDays });
  return {
    dueOn: dueOn.toString(),
    overdue: Temporal.PlainDate.compare(localDay(nowMs, timeZone), dueOn) > 0,
  };
}

function localDay(ms: number, timeZone: string): Temporal.PlainDate {
  return Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(timeZone).toPlainDate();
}
