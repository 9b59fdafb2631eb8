import { SiteCalendar, wholeMs } from './calendar.js';
import type { Check } from './facts.js';
import { momentsOf } from './moments.js';
import type { Span } from './verdict.js';
import { sayCount, sayTemperature } from './words.js';

export interface CureFacts {
  /** What the permit (or the site) asks, in local days. */
  readonly cureDays: number;
  /** When the curing stage began; null while it has not. */
  readonly startedAtMs: number | null;
  readonly checks: readonly Check[];
  /** A probe at or above this while curing starts the cure anew; null where the permit names none. */
  readonly reheatDeciC: number | null;
}

export interface CureEvidence extends Span {
  readonly kind: 'cure-started' | 'reheated' | 'cure-done';
  readonly text: string;
  /** For `reheated`, the hottest of its checks. */
  readonly checkId: string | null;
}

export interface CureVerdict {
  readonly status: 'not-started' | 'in-progress' | 'done';
  /** The start that counts: of the stage, or the last check that found the batch reheated. */
  readonly startedAtMs: number | null;
  /** Whole local days since then, at most those required. */
  readonly daysDone: number;
  readonly daysRequired: number;
  readonly doneAtMs: number | null;
  readonly evidence: readonly CureEvidence[];
}

/** A check is judged by its hottest probe, at any depth. */
const hottest = { governing: 'coldest', minimumProbes: 1, minimumDepthMm: null } as const;

/**
 * Counts the local days of a cure, as of `nowMs`. A day ends at the wall-clock time at which the cure started. A batch
 * found hot again was not stable yet, so a reheat starts the count anew, even when the days were already done.
 * Pure and total, as {@link evaluateProcess} is.
 */
export function evaluateCure(facts: CureFacts, nowMs: number, timeZone: string): CureVerdict {
  const calendar = new SiteCalendar(timeZone);
  const daysRequired = Math.max(0, Math.ceil(facts.cureDays));
  const now = wholeMs(nowMs);
  const began = facts.startedAtMs === null ? Infinity : wholeMs(facts.startedAtMs);
  if (began > now) {
    return {
      status: 'not-started',
      startedAtMs: null,
      daysDone: 0,
      daysRequired,
      doneAtMs: null,
      evidence: [],
    };
  }
  const reheats = reheatsOf(facts, began, now);
  const startedAtMs = reheats.at(-1)?.toMs ?? began;
  const dueAtMs = calendar.addDays(startedAtMs, daysRequired);
  const done = dueAtMs <= now;
  const limit = sayTemperature(facts.reheatDeciC ?? Infinity);
  const evidence: CureEvidence[] = [
    event('cure-started', began, `Curing began on ${calendar.say(began)}.`),
    ...reheats.map(({ fromMs, toMs, hottestDeciC, checkId }) => {
      const when =
        fromMs === toMs ? calendar.say(fromMs) : `${calendar.say(fromMs)} to ${calendar.say(toMs)}`;
      const text = `${when}: hottest probe ${sayTemperature(hottestDeciC, 'up')}, at or above ${limit}. The batch reheated, and the cure starts anew.`;
      return { fromMs, toMs, kind: 'reheated' as const, text, checkId };
    }),
  ];
  if (done) {
    evidence.push(
      event('cure-done', dueAtMs, `Cured for ${sayCount(daysRequired, 'day')} on ${calendar.say(dueAtMs)}.`),
    );
  }
  return {
    status: done ? 'done' : 'in-progress',
    startedAtMs,
    daysDone: done ? daysRequired : calendar.daysBetween(startedAtMs, now),
    daysRequired,
    doneAtMs: done ? dueAtMs : null,
    evidence,
  };
}

interface Reheat extends Span {
  readonly hottestDeciC: number;
  readonly checkId: string;
}

/** Hot checks after the cure began; those with no cooler check between them are one reheat. */
function reheatsOf({ checks, reheatDeciC }: CureFacts, began: number, now: number): Reheat[] {
  const reheats: Reheat[] = [];
  if (reheatDeciC === null) return reheats;
  let stillHot = false;
  for (const { atMs, highDeciC, checkId } of momentsOf(checks, hottest)) {
    if (atMs <= began || atMs > now) continue;
    const hot = highDeciC >= reheatDeciC;
    const found = { fromMs: atMs, toMs: atMs, hottestDeciC: highDeciC, checkId };
    const last = reheats.at(-1);
    if (hot && stillHot && last !== undefined) reheats[reheats.length - 1] = joined(last, found);
    else if (hot) reheats.push(found);
    stillHot = hot;
  }
  return reheats;
}

function joined(a: Reheat, b: Reheat): Reheat {
  const hotter = b.hottestDeciC > a.hottestDeciC ? b : a;
  return { ...hotter, fromMs: a.fromMs, toMs: b.toMs };
}

function event(kind: CureEvidence['kind'], atMs: number, text: string): CureEvidence {
  return { fromMs: atMs, toMs: atMs, kind, text, checkId: null };
}
