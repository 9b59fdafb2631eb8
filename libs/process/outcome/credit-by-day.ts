import { type LocalDay, SiteCalendar, wholeMs } from '../calendar.js';
import type { BatchFacts } from '../facts.js';
import { momentOf } from '../reading/moments.js';
import { probeTermsOf, type ProbeTerms } from '../reading/terms.js';
import type { Span, Verdict } from '../verdict.js';

/** One local day of a batch: what was read on it, and what of it is credited. */
export interface CreditedDay extends LocalDay {
  /** "2024-05-03". */
  readonly day: string;
  readonly checks: number;
  /** Instants at which a logger read. */
  readonly loggerInstants: number;
  /** How many of both had all the rule asks of a check. */
  readonly counted: number;
  /** The lowest governing temperature; null where nothing says anything. */
  readonly lowestDeciC: number | null;
  /** The highest, at the hot end. */
  readonly highestDeciC: number | null;
  /** The longest time between two neighbours that counted, of which some part lies in the day; null without one. */
  readonly longestGapMs: number | null;
  /** The part of the verdict's credited spans that lies in the day. */
  readonly creditedMs: number;
  /** Turns and moves, counted by the rule or not. */
  readonly turns: number;
}

/**
 * The credited time of a verdict, local day by local day, so that a reader can add it up: the days sum to exactly what
 * the verdict credits. A day is 23 or 25 hours long where clocks are changed. Days on which nothing was recorded and
 * nothing is credited are left out. `rule` and `facts` are those of the verdict, and so is `nowMs`.
 */
export function creditByDay(
  rule: ProbeTerms,
  facts: BatchFacts,
  verdict: Pick<Verdict, 'creditedSpans'>,
  nowMs: number,
): CreditedDay[] {
  const book = new DayBook(new SiteCalendar(facts.timeZone));
  const terms = probeTermsOf(rule);
  const now = wholeMs(nowMs);
  const counted: number[] = [];
  for (const check of facts.checks) {
    const { atMs, lowDeciC, highDeciC, lack } = momentOf(check, terms);
    if (atMs > now) continue;
    const day = book.at(atMs);
    day.checks += 1;
    read(day, lowDeciC, highDeciC, lack === null);
    if (lack === null) counted.push(atMs);
  }
  for (const { atMs, lowDeciC, highDeciC, enough } of facts.series ?? []) {
    for (let index = 0; index < atMs.length; index += 1) {
      const at = atMs[index] ?? Infinity;
      if (at > now) continue;
      const day = book.at(at);
      day.loggerInstants += 1;
      read(day, lowDeciC[index] ?? Infinity, highDeciC[index] ?? -Infinity, enough[index] === 1);
      if (enough[index] === 1) counted.push(at);
    }
  }
  for (const { occurredAtMs } of facts.turns) {
    if (wholeMs(occurredAtMs) <= now) book.at(wholeMs(occurredAtMs)).turns += 1;
  }
  for (const span of verdict.creditedSpans) credit(book, span);
  const days = book.inOrder();
  noteGaps(days, Float64Array.from(counted).sort());
  return days;
}

type OpenDay = { -readonly [K in keyof CreditedDay]: CreditedDay[K] };

/** The days that something is known of. */
class DayBook {
  readonly #calendar: SiteCalendar;
  readonly #days = new Map<number, OpenDay>();
  #last: OpenDay | null = null;

  constructor(calendar: SiteCalendar) {
    this.#calendar = calendar;
  }

  at(ms: number): OpenDay {
    const last = this.#last;
    if (last !== null && last.startMs <= ms && ms < last.endMs) return last;
    const { startMs, endMs } = this.#calendar.dayOf(ms);
    const day = this.#days.get(startMs) ?? this.#open(startMs, endMs);
    this.#last = day;
    return day;
  }

  inOrder(): OpenDay[] {
    return [...this.#days.values()].sort((a, b) => a.startMs - b.startMs);
  }

  #open(startMs: number, endMs: number): OpenDay {
    const day: OpenDay = {
      ...{ day: this.#calendar.isoDay(startMs), startMs, endMs },
      ...{ checks: 0, loggerInstants: 0, counted: 0, lowestDeciC: null, highestDeciC: null },
      ...{ longestGapMs: null, creditedMs: 0, turns: 0 },
    };
    this.#days.set(startMs, day);
    return day;
  }
}

function read(day: OpenDay, lowDeciC: number, highDeciC: number, counts: boolean): void {
  if (counts) day.counted += 1;
  if (Number.isFinite(lowDeciC)) day.lowestDeciC = Math.min(day.lowestDeciC ?? Infinity, lowDeciC);
  if (Number.isFinite(highDeciC)) day.highestDeciC = Math.max(day.highestDeciC ?? -Infinity, highDeciC);
}

function credit(book: DayBook, { fromMs, toMs }: Span): void {
  for (let at = fromMs; at < toMs;) {
    const day = book.at(at);
    const until = Math.min(day.endMs, toMs);
    day.creditedMs += until - at;
    at = until;
  }
}

/** Both lists in order. A gap is told of every day it touches. */
function noteGaps(days: readonly OpenDay[], counted: Float64Array): void {
  let first = 0;
  for (let index = 1; index < counted.length; index += 1) {
    const [fromMs = 0, toMs = 0] = [counted[index - 1], counted[index]];
    while ((days[first]?.endMs ?? Infinity) <= fromMs) first += 1;
    for (let touched = first; (days[touched]?.startMs ?? Infinity) < toMs; touched += 1) {
      const day = days[touched];
      if (day) day.longestGapMs = Math.max(day.longestGapMs ?? 0, toMs - fromMs);
    }
  }
}
