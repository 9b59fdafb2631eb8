import { SiteCalendar, wholeMs } from '../calendar.js';
import type { CureEvidence, CureFacts, CureVerdict, LastMerge } from './cure-facts.js';
import { turnFindingOf, watchOf } from './cure-findings.js';
import { type HotRun, hotRunsOf, looksOf } from './cure-looks.js';
import { sayCount, sayTemperature } from '../words.js';

/**
 * Counts the local days of a cure, as of `nowMs`. A day ends at the wall-clock time at which the count began: with the
 * curing stage or, where another batch was merged in or the batch was found at or above the reheat level after that, when
 * that was last so. A batch that heats again was not stable yet, so a reheat starts the count anew, even when the days were already done.
 * Pure and total, as {@link evaluateProcess} is.
 */
export function evaluateCure(facts: CureFacts, nowMs: number, timeZone: string): CureVerdict {
  const daysRequired = Math.max(0, Math.ceil(facts.cureDays));
  const now = wholeMs(nowMs);
  const entered = facts.startedAtMs === null ? Infinity : wholeMs(facts.startedAtMs);
  if (entered > now) return notStarted(daysRequired);
  const merge = mergeAfter(entered, now, facts.lastMerge);
  const began = merge?.atMs ?? entered;
  const calendar = new SiteCalendar(timeZone);
  const looks = looksOf(facts);
  const runs = hotRunsOf(looks, facts.reheatDeciC, began, now);
  const startedAtMs = runs.at(-1)?.toMs ?? began;
  const dueAtMs = calendar.addDays(startedAtMs, daysRequired);
  const done = dueAtMs <= now;
  const turned = turnFindingOf(facts, looks, now, calendar);
  const watched = watchOf(looks, facts, startedAtMs, now, calendar);
  const evidence = [
    event('cure-started', entered, `Curing began on ${calendar.say(entered)}, by the manager's word.`),
    ...(merge
      ? [
          event(
            'merged-in',
            began,
            `${calendar.say(began)}: batch ${merge.code} was merged in, and the cure starts anew.`,
          ),
        ]
      : []),
    ...runs.map((run) => hot(run, sayTemperature(facts.reheatDeciC ?? 0), calendar)),
    ...turned.evidence,
    ...watched.evidence,
    ...(done
      ? [
          event(
            'cure-done',
            dueAtMs,
            `Cured for ${sayCount(daysRequired, 'day')} on ${calendar.say(dueAtMs)}.`,
          ),
        ]
      : []),
  ];
  return {
    status: done ? 'done' : 'in-progress',
    startedAtMs,
    daysDone: done ? daysRequired : calendar.daysBetween(startedAtMs, now),
    daysRequired,
    doneAtMs: done ? dueAtMs : null,
    afterTurn: turned.afterTurn,
    evidence: evidence.toSorted((a, b) => a.fromMs - b.fromMs),
    notes: [...levelOf(facts), ...turned.notes, ...watched.notes],
  };
}

function mergeAfter(enteredMs: number, nowMs: number, merge: LastMerge | null | undefined): LastMerge | null {
  if (!merge) return null;
  const atMs = wholeMs(merge.atMs);
  return atMs > enteredMs && atMs <= nowMs ? { ...merge, atMs } : null;
}

/** Whose temperature it is, where it is not the permit's own. */
function levelOf({ reheatDeciC, reheatRule }: CureFacts): string[] {
  if (reheatDeciC === null || !reheatRule) return [];
  return [
    `The permit names no temperature at which a cure starts anew: ${sayTemperature(reheatDeciC)} is taken from ${reheatRule}.`,
  ];
}

const notStarted = (daysRequired: number): CureVerdict => ({
  ...{ status: 'not-started', startedAtMs: null, daysDone: 0, daysRequired, doneAtMs: null },
  ...{ afterTurn: 'not-asked', evidence: [], notes: [] },
});

function hot(run: HotRun, level: string, calendar: SiteCalendar): CureEvidence {
  const { fromMs, toMs, hottestDeciC, checkId, logger, again } = run;
  const when = fromMs === toMs ? calendar.say(fromMs) : `${calendar.say(fromMs)} to ${calendar.say(toMs)}`;
  const probe = logger === null ? 'hottest probe' : `hottest probe of logger ${logger}`;
  const told = `${when}: ${probe} ${sayTemperature(hottestDeciC, 'up')}, at or above ${level}.`;
  return again
    ? {
        ...{ fromMs, toMs, checkId, kind: 'reheated' },
        text: `${told} The batch reheated, and the cure starts anew.`,
      }
    : {
        ...{ fromMs, toMs, checkId, kind: 'still-hot' },
        text: `${told} The batch was still hot: the cure counts from then.`,
      };
}

function event(kind: CureEvidence['kind'], atMs: number, text: string): CureEvidence {
  return { fromMs: atMs, toMs: atMs, kind, text, checkId: null };
}
