import { hourMs, type SiteCalendar } from '../calendar.js';
import type { Verdict } from '../verdict.js';
import { sayCount, sayHours, sayTemperature } from '../words.js';
import type { Expected } from './facts.js';
import { checkEveryMs, type Run } from './run.js';

/** When the time a rule asks for can be there, whether it counts hours or local days. */
export function timeExpected(verdict: Verdict, run: Run, nowMs: number, calendar: SiteCalendar): Expected {
  return verdict.required.days === null
    ? hoursExpected(verdict, run, nowMs, calendar)
    : daysExpected(verdict, run, nowMs, calendar);
}

function hoursExpected(verdict: Verdict, run: Run, nowMs: number, calendar: SiteCalendar): Expected {
  const { required } = verdict;
  const missingMs = (required.hours ?? 0) * hourMs - run.creditedMs;
  if (missingMs <= 0) return { earliestMs: nowMs, latestMs: nowMs, assumptions: [] };
  const missing = `${sayUp(missingMs)} more at ${level(verdict)}`;
  const { heldMs, troubleMs } = run;
  if (heldMs === null) {
    // Where time is added up, a pile found hot again after the last trouble has been earning since then at best.
    const fromMs = verdict.status === 'in-progress' ? Math.max(troubleMs, heldFrom(verdict)) : nowMs;
    return {
      earliestMs: Math.max(nowMs, fromMs + missingMs),
      latestMs: null,
      assumptions: [
        `It needs ${missing}, and nothing recorded shows that it is that hot now: until it is, the end is open.`,
      ],
    };
  }
  const thereMs = Math.max(nowMs, heldMs + missingMs);
  return {
    earliestMs: thereMs,
    latestMs: thereMs + checkEveryMs(verdict),
    assumptions: [
      `It needs ${missing}, counted on from ${calendar.say(heldMs)}, and stays that hot.`,
      `It is checked every ${sayHours(checkEveryMs(verdict))} or oftener, next by ${calendar.say(nextCheckMs(verdict, heldMs, nowMs))}, with as many probes as the rule asks.`,
    ],
  };
}

/** Local days count when they are over. */
function daysExpected(verdict: Verdict, run: Run, nowMs: number, calendar: SiteCalendar): Expected {
  const { required } = verdict;
  const credited = run.creditedMs === 0 ? 0 : verdict.creditedDays;
  const missing = (required.days ?? 0) - credited;
  if (missing <= 0) return { earliestMs: nowMs, latestMs: nowMs, assumptions: [] };
  const endOf = (days: number): number =>
    calendar.dayOf(calendar.addDays(calendar.dayOf(nowMs).startMs, days)).endMs;
  const needs = `It needs ${sayCount(missing, 'more local day')} at ${level(verdict)}`;
  return {
    earliestMs: endOf(missing - 1),
    latestMs: run.heldMs === null ? null : endOf(missing),
    assumptions:
      run.heldMs === null
        ? [`${needs}, and nothing recorded shows that it is that hot now: until it is, the end is open.`]
        : [
            `${needs}, and stays that hot.`,
            'It is checked on every local day, today included, with as many probes as the rule asks.',
          ],
  };
}

const heldFrom = ({ creditedSpans, clockStartedAtMs }: Verdict): number =>
  creditedSpans.at(-1)?.toMs ?? clockStartedAtMs ?? -Infinity;

/** Neither a rhythm nor the rule's longest gap is broken. */
function nextCheckMs(verdict: Verdict, heldMs: number, nowMs: number): number {
  const gapMs = (verdict.required.longestGapHours ?? 24) * hourMs;
  return Math.min(heldMs + gapMs, nowMs + checkEveryMs(verdict));
}

function level({ required: { thresholdDeciC, thresholdStrict } }: Verdict): string {
  const temperature = sayTemperature(thresholdDeciC);
  return thresholdStrict ? `more than ${temperature}` : `${temperature} or more`;
}

/** What is missing is rounded up: 0.01 hours are not none. */
const sayUp = (ms: number): string => sayHours(Math.ceil((ms * 10) / hourMs) * (hourMs / 10));
