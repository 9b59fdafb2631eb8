import { hourMs, type SiteCalendar, wholeMs } from '../calendar.js';
import type { Turn } from '../facts.js';
import type { Verdict } from '../verdict.js';
import { sayCount, sayHours } from '../words.js';
import type { Expected } from './facts.js';
import { checkEveryMs, type Run } from './run.js';

/** When the turns a rule asks for can be there. At the earliest they come as close as the rule lets them, at the latest as they came so far. */
export function turnsExpected(
  verdict: Verdict,
  run: Run,
  turns: readonly Turn[],
  nowMs: number,
  calendar: SiteCalendar,
): Expected {
  const { required } = verdict;
  const waiting = waitingTurns(verdict, run, turns, nowMs);
  const missing = required.turns - run.turns - waiting.length;
  const everyMs = checkEveryMs(verdict);
  if (required.turns <= run.turns) return { earliestMs: nowMs, latestMs: nowMs, assumptions: [] };
  if (missing <= 0) {
    const when = waiting.map((ms) => calendar.say(ms)).join(', ');
    const told = `The next check finds it hot, so that what was turned after the last one counts: ${when}.`;
    return { earliestMs: nowMs, latestMs: run.heldMs === null ? null : nowMs + everyMs, assumptions: [told] };
  }
  const stepMs = stepOf(verdict);
  const lastMs = waiting.at(-1) ?? run.lastTurnMs;
  const firstMs = Math.max(nowMs, lastMs === null ? hotFrom(verdict, run, nowMs) : lastMs + stepMs);
  const needs = `It needs ${sayCount(missing, 'more turn')}${spacing(verdict)}, and is found hot at the first check after each.`;
  const paceMs = paceOf(verdict, run, waiting);
  const earliestMs = firstMs + (missing - 1) * stepMs;
  if (paceMs === null) {
    const open = 'No turn has counted yet, so there is no pace to go by, and the end is open.';
    return { earliestMs, latestMs: null, assumptions: [needs, open] };
  }
  const nextMs = Math.max(nowMs, (lastMs ?? nowMs) + paceMs);
  return {
    earliestMs,
    latestMs: nextMs + (missing - 1) * paceMs + everyMs,
    assumptions: [
      needs,
      `It is turned at least every ${sayHours(paceMs)}, the longest it went without so far, next by ${calendar.say(nextMs)}.`,
    ],
  };
}

/** Turns since the last check that held: they count once the next one shows heat. Where hot time comes before a turn, none waits. */
function waitingTurns(
  { required }: Verdict,
  { heldMs, lastTurnMs }: Run,
  turns: readonly Turn[],
  nowMs: number,
): number[] {
  if (heldMs === null || required.hotHoursBeforeTurn !== null) return [];
  const waiting: number[] = [];
  const instants = turns.map(({ occurredAtMs }) => wholeMs(occurredAtMs)).toSorted((a, b) => a - b);
  for (const atMs of instants) {
    const lastMs = waiting.at(-1) ?? lastTurnMs ?? -Infinity;
    const spaced = atMs > lastMs && atMs - lastMs >= required.turnSpacingHours * hourMs;
    if (atMs > heldMs && atMs <= nowMs && spaced) waiting.push(atMs);
  }
  return waiting;
}

/** The least time from one turn that counts to the next. */
function stepOf({ required: { turnSpacingHours, hotHoursBeforeTurn } }: Verdict): number {
  return Math.max(turnSpacingHours, hotHoursBeforeTurn ?? 0) * hourMs;
}

/** The first turn waits for the hot time before it, counted from where the run began. */
function hotFrom(verdict: Verdict, { heldMs }: Run, nowMs: number): number {
  const hotMs = (verdict.required.hotHoursBeforeTurn ?? 0) * hourMs;
  const began = heldMs === null ? nowMs : (verdict.creditedSpans.at(-1)?.fromMs ?? heldMs);
  return hotMs === 0 ? nowMs : began + hotMs;
}

/** The longest time between turns of the run, the first counted from its start; null where none has counted. */
function paceOf(verdict: Verdict, run: Run, waiting: readonly number[]): number | null {
  const startMs = verdict.clockStartedAtMs;
  if (run.heldMs === null || startMs === null || run.turns + waiting.length === 0) return null;
  const counted = verdict.evidence
    .filter(({ kind, fromMs }) => kind === 'turn-credited' && fromMs >= startMs)
    .map(({ fromMs }) => fromMs);
  const instants = [startMs, ...counted, ...waiting];
  const longest = instants.reduce((most, ms, index) => Math.max(most, ms - (instants[index - 1] ?? ms)), 0);
  const hotMs = verdict.required.hotHoursBeforeTurn;
  const leastMs = hotMs === null ? stepOf(verdict) : stepOf(verdict) + checkEveryMs(verdict);
  return Math.max(longest, leastMs);
}

function spacing({ required: { turnSpacingHours, hotHoursBeforeTurn } }: Verdict): string {
  const parts = [
    ...(turnSpacingHours > 0 ? [`at least ${sayHours(turnSpacingHours * hourMs)} apart`] : []),
    ...(hotHoursBeforeTurn ? [`each after ${sayHours(hotHoursBeforeTurn * hourMs)} of heat`] : []),
  ];
  return parts.length === 0 ? '' : `, ${parts.join(' and ')}`;
}
