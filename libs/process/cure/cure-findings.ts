import { limits } from '../advice/limits.js';
import { dayMs, type SiteCalendar, wholeMs } from '../calendar.js';
import type { AfterTurn, CureEvidence, CureFacts } from './cure-facts.js';
import { eachLook, type Looks } from './cure-looks.js';
import { sayCount, sayHours, sayTemperature } from '../words.js';

/** A check before it says little. */
const tellingDays = limits.reheatDays.at;

const sources =
  'Curing begins where a pile no longer reheats after turning (Utah State University Extension 1995), or stays below ' +
  '45 °C even after turning (AgriFutures).';
const noLevel =
  'Neither the permit nor a process rule names a temperature, so no reheating interrupts the days.';

export interface CureFinding {
  readonly evidence: readonly CureEvidence[];
  readonly notes: readonly string[];
}

/**
 * Whether the batch was turned since it was last found hot, and stayed under the level after that. The first such turn
 * is the one that tells; a later one that nobody checked after is told beside.
 */
export function turnFindingOf(
  facts: CureFacts,
  allLooks: readonly Looks[],
  now: number,
  calendar: SiteCalendar,
): CureFinding & { readonly afterTurn: AfterTurn } {
  const { reheatDeciC } = facts;
  if (reheatDeciC === null) return { afterTurn: 'not-asked', evidence: [], notes: [noLevel] };
  const level = sayTemperature(reheatDeciC);
  const lastHot = lastHotAt(allLooks, reheatDeciC, now);
  const turns = facts.turns.map(({ occurredAtMs }) => wholeMs(occurredAtMs));
  const since = turns.filter((at) => at > lastHot && at <= now).toSorted((a, b) => a - b);
  const [first] = since;
  if (first === undefined) {
    const when =
      lastHot > -Infinity ? ` since it was last at ${level} or more, ${calendar.say(lastHot)}` : '';
    return { afterTurn: 'not-turned', evidence: [], notes: [`No turn is recorded${when}. ${sources}`] };
  }
  const { count, last, hottest } = seenBetween(allLooks, first, now);
  const turned = `Turned on ${calendar.say(first)}`;
  const found = (afterTurn: AfterTurn, text: string, notes: string[]) => ({
    ...{ afterTurn, notes },
    evidence: [{ kind: 'turned' as const, fromMs: first, toMs: first, text, checkId: null }],
  });
  if (count === 0) {
    return found('not-checked', `${turned}, and not checked since.`, [
      `No check follows the turn. ${sources}`,
    ]);
  }
  const stayed = `${turned}, last checked ${sayTime(last - first)} after that: at most ${sayTemperature(hottest, 'up')}, under ${level}.`;
  if (last - first < tellingDays * dayMs) {
    const text = `The checks lie within ${sayCount(tellingDays, 'day')} of the turn, too soon to show whether it reheats. ${sources}`;
    return found('too-soon', stayed, [text]);
  }
  const again = since.at(-1) ?? first;
  const notes = again > last ? [`It was turned again on ${calendar.say(again)}, and not checked since.`] : [];
  return found('stayed-under', stayed, notes);
}

/** How closely the batch was watched while the days were counted. */
export function watchOf(
  allLooks: readonly Looks[],
  { reheatDeciC }: CureFacts,
  fromMs: number,
  now: number,
  calendar: SiteCalendar,
): CureFinding {
  const { count, last, hottest } = seenBetween(allLooks, fromMs, now);
  if (count === 0) {
    const text = `No reading is recorded after ${calendar.say(fromMs)}: the days are counted, and the temperature is not shown.`;
    return { evidence: [], notes: reheatDeciC === null ? [] : [text] };
  }
  const text =
    `Measured ${sayCount(count, 'time')} since, the last on ${calendar.say(last)}: at most ` +
    `${sayTemperature(hottest, 'up')}. The longest time without a reading was ${sayTime(longestUnseen(allLooks, fromMs, now))}.`;
  return { evidence: [{ kind: 'watched', fromMs, toMs: last, text, checkId: null }], notes: [] };
}

function lastHotAt(allLooks: readonly Looks[], level: number, now: number): number {
  let lastHot = -Infinity;
  for (const looks of allLooks) {
    eachLook(looks, -Infinity, now, (atMs, deciC) => {
      if (deciC >= level && atMs > lastHot) lastHot = atMs;
    });
  }
  return lastHot;
}

function seenBetween(allLooks: readonly Looks[], fromMs: number, toMs: number) {
  const seen = { count: 0, last: -Infinity, hottest: -Infinity };
  for (const looks of allLooks) {
    eachLook(looks, fromMs, toMs, (atMs, deciC) => {
      seen.count += 1;
      if (atMs > seen.last) seen.last = atMs;
      if (deciC > seen.hottest) seen.hottest = deciC;
    });
  }
  return seen;
}

/** The longest time, from one instant to the other, that no look of any kind fell into. */
function longestUnseen(allLooks: readonly Looks[], fromMs: number, toMs: number): number {
  const times: number[] = [];
  for (const looks of allLooks) eachLook(looks, fromMs, toMs, (atMs) => times.push(atMs));
  let [longest, before] = [0, fromMs];
  for (const atMs of Float64Array.from(times).sort()) {
    longest = Math.max(longest, atMs - before);
    before = atMs;
  }
  return Math.max(longest, toMs - before);
}

/** Days, or hours where it was less than two days. Rounded down. */
const sayTime = (ms: number): string =>
  ms < 2 * dayMs ? sayHours(ms) : sayCount(Math.floor(ms / dayMs), 'day');
