import type { SiteCalendar } from './calendar.js';
import { courseByDays } from './course-by-days.js';
import { courseByHours } from './course-by-hours.js';
import { judgeOf, type Course, type Stretch } from './course.js';
import type { Moment } from './moments.js';
import type { Terms } from './terms.js';
import { countTurns, type TimedTurn, type TurnOutcome } from './turns.js';
import type { Span } from './verdict.js';

/** What was recorded between one raw addition and the next, or now. Everything is in order of time. */
export interface Period extends Span {
  readonly moments: readonly Moment[];
  readonly turns: readonly TimedTurn[];
}

/** What a period amounts to under the rule. */
export interface Outcome extends Course {
  readonly turns: readonly TurnOutcome[];
  /** The stretches whose time and turns count: the run that met the rule or is running, or all that are added up. */
  readonly standing: readonly Stretch[];
  readonly metAtMs: number | null;
}

export function outcomeOf(period: Period, terms: Terms, calendar: SiteCalendar): Outcome {
  const judge = judgeOf(
    terms,
    period.turns.map((turn) => turn.atMs),
  );
  const course =
    terms.requiredDays === null
      ? courseByHours(period.moments, judge, terms)
      : courseByDays(period.moments, judge, period, calendar);
  const turns = countTurns(period.turns, course.stretches, terms);
  const tally = terms.reading === 'consecutive' ? consecutive : cumulative;
  return { ...course, turns, ...tally(course.stretches, turns, terms) };
}

/** A batch made only of batches that had met the rule takes over the latest of their verdicts; without any, nothing. */
export function outcomeWithoutRaw(inheritedMetAtMs: readonly number[]): Outcome {
  const metAtMs = inheritedMetAtMs.length === 0 ? null : inheritedMetAtMs.reduce((a, b) => Math.max(a, b));
  return {
    stretches: [],
    incidents: [],
    lastShownMs: null,
    silentAfterMs: null,
    turns: [],
    standing: [],
    metAtMs,
  };
}

export function creditedDays(stretches: readonly Stretch[]): number {
  return stretches.reduce((sum, stretch) => sum + stretch.dayEndsMs.length, 0);
}

export function creditedMs(stretches: readonly Stretch[]): number {
  return stretches
    .flatMap((stretch) => stretch.spans)
    .reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);
}

/** How many turns count towards the rule now. */
export function standingTurns({ standing, turns }: Outcome): number {
  const stretches = new Set(standing);
  return turns.filter(({ stretch, number }) => number !== null && stretch !== null && stretches.has(stretch))
    .length;
}

/** Whether a batch that was counting has gone unchecked for too long to say that it still is. */
export function isSilent({ standing, metAtMs, silentAfterMs }: Outcome, nowMs: number): boolean {
  return metAtMs === null && standing.length > 0 && silentAfterMs !== null && nowMs > silentAfterMs;
}

type Tally = Pick<Outcome, 'standing' | 'metAtMs'>;

/** The first run that meets the rule alone; otherwise the run that is still running. */
function consecutive(stretches: readonly Stretch[], turns: readonly TurnOutcome[], terms: Terms): Tally {
  const turnsOf = new Map<Stretch | null, TurnOutcome[]>();
  for (const turn of turns) {
    const own = turnsOf.get(turn.stretch);
    if (own === undefined) turnsOf.set(turn.stretch, [turn]);
    else own.push(turn);
  }
  for (const stretch of stretches) {
    const metAtMs = metAt([stretch], turnsOf.get(stretch) ?? [], terms);
    if (metAtMs !== null) return { standing: [stretch], metAtMs };
  }
  return { standing: stretches.slice(-1).filter((stretch) => stretch.endedBy === null), metAtMs: null };
}

/** All stretches together; once the rule is met, those that begin later are left out. */
function cumulative(stretches: readonly Stretch[], turns: readonly TurnOutcome[], terms: Terms): Tally {
  const metAtMs = metAt(stretches, turns, terms);
  const standing = metAtMs === null ? stretches : stretches.filter((stretch) => stretch.fromMs <= metAtMs);
  return { standing, metAtMs };
}

/** The first instant at which both the time and the turns are there; null while either is short. */
function metAt(stretches: readonly Stretch[], turns: readonly TurnOutcome[], terms: Terms): number | null {
  const timeAtMs = timeFulfilledAt(stretches, terms);
  const turnsAtMs =
    terms.turns === 0 ? -Infinity : turns.filter((turn) => turn.number !== null)[terms.turns - 1]?.atMs;
  return timeAtMs === null || turnsAtMs === undefined ? null : Math.max(timeAtMs, turnsAtMs);
}

function timeFulfilledAt(stretches: readonly Stretch[], terms: Terms): number | null {
  if (terms.requiredDays !== null) {
    return stretches.flatMap((stretch) => stretch.dayEndsMs)[terms.requiredDays - 1] ?? null;
  }
  let missingMs = terms.requiredMs;
  for (const { fromMs, toMs } of stretches.flatMap((stretch) => stretch.spans)) {
    if (toMs - fromMs >= missingMs) return fromMs + missingMs;
    missingMs -= toMs - fromMs;
  }
  return null;
}
