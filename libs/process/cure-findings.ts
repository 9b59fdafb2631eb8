import { hourMs, type SiteCalendar, wholeMs } from './calendar.js';
import type { AfterTurn, CureEvidence, CureFacts } from './cure-facts.js';
import { eachLook, looksOf } from './cure-looks.js';
import { sayCount, sayHours, sayTemperature } from './words.js';

/** A pile may take that long to heat again after a turn (common practice), so a check before it says little. */
const tellingDays = 3;

const dayMs = 24 * hourMs;
const sources =
  'Curing begins where a pile no longer reheats after turning (Utah State University Extension 1995), or stays below ' +
  '45 °C even after turning (AgriFutures).';

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
  now: number,
  calendar: SiteCalendar,
): CureFinding & { readonly afterTurn: AfterTurn } {
  const { reheatDeciC } = facts;
  if (reheatDeciC === null) return { afterTurn: 'not-asked', evidence: [], notes: [] };
  const level = sayTemperature(reheatDeciC);
  const { lastHot } = seenBetween(facts, -Infinity, now);
  const turns = facts.turns.map(({ occurredAtMs }) => wholeMs(occurredAtMs));
  const since = turns.filter((at) => at > lastHot && at <= now).toSorted((a, b) => a - b);
  const [first] = since;
  if (first === undefined) {
    const when =
      lastHot > -Infinity ? ` since it was last at ${level} or more, ${calendar.say(lastHot)}` : '';
    return { afterTurn: 'not-turned', evidence: [], notes: [`No turn is recorded${when}. ${sources}`] };
  }
  const { count, last, hottest } = seenBetween(facts, first, now);
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
export function watchOf(facts: CureFacts, fromMs: number, now: number, calendar: SiteCalendar): CureFinding {
  const { count, last, hottest, longest } = seenBetween(facts, fromMs, now);
  if (count === 0) {
    const text = `No reading is recorded after ${calendar.say(fromMs)}: the days are counted, and the temperature is not shown.`;
    return { evidence: [], notes: facts.reheatDeciC === null ? [] : [text] };
  }
  const text =
    `Measured ${sayCount(count, 'time')} since, the last on ${calendar.say(last)}: at most ` +
    `${sayTemperature(hottest, 'up')}. The longest time without a reading was ${sayTime(longest)}.`;
  return { evidence: [{ kind: 'watched', fromMs, toMs: last, text, checkId: null }], notes: [] };
}

interface Seen {
  count: number;
  last: number;
  hottest: number;
  /** When it was last at or above the reheat level. */
  lastHot: number;
  /** The longest time, from `fromMs` to `toMs`, that no look of any kind fell into. */
  longest: number;
}

function seenBetween(facts: CureFacts, fromMs: number, toMs: number): Seen {
  const level = facts.reheatDeciC ?? Infinity;
  const seen: Seen = { count: 0, last: -Infinity, hottest: -Infinity, lastHot: -Infinity, longest: 0 };
  const times: number[] = [];
  for (const looks of looksOf(facts)) {
    eachLook(looks, fromMs, toMs, (atMs, deciC) => {
      times.push(atMs);
      seen.last = Math.max(seen.last, atMs);
      seen.hottest = Math.max(seen.hottest, deciC);
      if (deciC >= level) seen.lastHot = Math.max(seen.lastHot, atMs);
    });
  }
  let before = fromMs;
  for (const atMs of [...times.toSorted((a, b) => a - b), toMs]) {
    seen.longest = Math.max(seen.longest, atMs - before);
    before = atMs;
  }
  return { ...seen, count: times.length };
}

/** Days, or hours where it was less than two days. Rounded down. */
const sayTime = (ms: number): string =>
  ms < 2 * dayMs ? sayHours(ms) : sayCount(Math.floor(ms / dayMs), 'day');
