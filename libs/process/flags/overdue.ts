import { SiteCalendar } from '../calendar.js';
import type { Caution } from '../facts.js';
import type { Span } from '../verdict.js';
import { sayCount } from '../words.js';
import { inOrderOf, saySpan } from './stretches.js';
import { goodUntil, type Verification } from './verification.js';

/** When an instrument was read: a check is one instant, a logger's hour is a span. */
export interface Use extends Span {
  readonly readings: number;
}

export interface UsedInstrument {
  /** As it is named at the yard: "T-1". */
  readonly instrument: string;
  readonly uses: readonly Use[];
  readonly verifications: readonly Verification[];
  /** Local days that a verification stays good; null when the programme has not decided. */
  readonly verifyEveryDays: number | null;
}

/**
 * Readings taken while the verification of their instrument was overdue, failed, or never done though it is asked for;
 * and those between a good verification and one that failed, since nobody can tell when the instrument went wrong. One
 * caution an instrument and stretch. A use is placed by its beginning.
 */
export function overdueCautions(instruments: readonly UsedInstrument[], timeZone: string): Caution[] {
  const calendar = new SiteCalendar(timeZone);
  return instruments.flatMap((used) =>
    doubtsOf(used, calendar).flatMap((doubt) => cautionOf(used, doubt, calendar) ?? []),
  );
}

/** From when on and until when (excluded) an instrument is doubtful, and why. */
interface Doubt extends Span {
  readonly why: string;
}

function doubtsOf({ verifications, verifyEveryDays }: UsedInstrument, calendar: SiteCalendar): Doubt[] {
  const log = inOrderOf(verifications, ({ occurredAtMs }) => occurredAtMs);
  const periods = [null, ...log].map((last, index) => ({ last, next: log[index] ?? null }));
  return periods.flatMap(({ last, next }) => {
    const fromMs = last?.occurredAtMs ?? -Infinity;
    const toMs = next?.occurredAtMs ?? Infinity;
    if (last?.passed === false) {
      return [{ fromMs, toMs, why: `it had failed its verification on ${calendar.say(fromMs)}` }];
    }
    const overdue = overdueFrom(last, verifyEveryDays, calendar);
    const overdueMs = Math.min(overdue?.fromMs ?? Infinity, toMs);
    const foundOff =
      next?.passed === false ? `it failed its next verification, on ${calendar.say(toMs)}` : '';
    return [
      ...(foundOff === '' ? [] : [{ fromMs, toMs: overdueMs, why: foundOff }]),
      ...(overdue ? [{ fromMs: overdueMs, toMs, why: overdue.why }] : []),
    ];
  });
}

function overdueFrom(last: Verification | null, everyDays: number | null, calendar: SiteCalendar) {
  if (everyDays === null) return null;
  const asked = `one is asked for every ${sayCount(everyDays, 'day')}`;
  if (last === null) return { fromMs: -Infinity, why: `it had not been verified yet, and ${asked}` };
  const { lastMs, endMs } = goodUntil(last, everyDays, calendar);
  const since = calendar.sayDay(last.occurredAtMs);
  return {
    fromMs: endMs,
    why: `its last verification, of ${since}, was good until ${calendar.sayDay(lastMs)} (${asked})`,
  };
}

function cautionOf(
  { instrument, uses }: UsedInstrument,
  doubt: Doubt,
  calendar: SiteCalendar,
): Caution | null {
  const touched = uses.filter(({ fromMs }) => fromMs >= doubt.fromMs && fromMs < doubt.toMs);
  if (touched.length === 0) return null;
  const fromMs = touched.reduce((least, use) => Math.min(least, use.fromMs), Infinity);
  const toMs = touched.reduce((most, use) => Math.max(most, use.toMs), -Infinity);
  const count = touched.reduce((sum, use) => sum + use.readings, 0);
  const readings = sayCount(count, 'reading');
  const text = `${instrument}, ${readings}, ${saySpan({ fromMs, toMs }, calendar)}: ${doubt.why}. They are used all the same.`;
  return { kind: 'verification-overdue', fromMs, toMs, instrument, text };
}
