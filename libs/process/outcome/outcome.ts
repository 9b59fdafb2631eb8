import type { SiteCalendar } from '../calendar.js';
import type { Incident, Stretch } from '../reading/course.js';
import { demandsOf, fulfilledAt, type Circumstances, type Demand } from './demands.js';
import type { Period } from '../reading/period.js';
import type { Terms } from '../reading/terms.js';
import { countTurns, type TurnOutcome } from './turns.js';

/** What a period amounts to under the rule. Everything is in order of time. */
export interface Outcome {
  readonly stretches: readonly Stretch[];
  readonly incidents: readonly Incident[];
  readonly turns: readonly TurnOutcome[];
  /** The stretches whose time and turns count: the run that met the rule or is running, or all that are added up. */
  readonly standing: readonly Stretch[];
  /** When the time and the turns were there in what stands; null while either is short. */
  readonly readyAtMs: number | null;
  readonly demands: readonly Demand[];
  readonly metAtMs: number | null;
  /** The last check that counts; null before the first. */
  readonly lastShownMs: number | null;
  /** From this instant on, missing checks leave the present unknown; null before the first check that counts. */
  readonly silentAfterMs: number | null;
}

type Tally = Pick<Outcome, 'standing' | 'readyAtMs' | 'demands' | 'metAtMs'>;
type Count = (stretches: readonly Stretch[], turns: readonly TurnOutcome[]) => Tally;

/** The period must be closed. */
export function outcomeOf(
  { course, turns: recorded, measures }: Period,
  carbonToNitrogen: number | null,
  terms: Terms,
  calendar: SiteCalendar,
): Outcome {
  const { stretches, incidents, shownMs, shownDay } = course;
  const turns = countTurns(recorded, stretches, terms);
  const count: Count = (some, own) => tallyOf(some, own, { measures, carbonToNitrogen }, terms);
  const tally = terms.reading === 'consecutive' ? consecutive : cumulative;
  const unseenMs = shownMs === null ? null : shownMs + terms.longestGapMs;
  const silentAfterMs = shownDay === null ? unseenMs : calendar.dayOf(shownDay.endMs).endMs;
  return {
    ...{ stretches, incidents, turns, lastShownMs: shownMs, silentAfterMs },
    ...tally(stretches, turns, count),
  };
}

/** A batch made only of batches that had met the rule takes over the latest of their verdicts; without any, nothing. */
export function outcomeWithoutRaw(inheritedMetAtMs: readonly number[]): Outcome {
  const metAtMs = inheritedMetAtMs.length === 0 ? null : inheritedMetAtMs.reduce((a, b) => Math.max(a, b));
  return {
    ...{ stretches: [], incidents: [], turns: [], standing: [], demands: [] },
    ...{ readyAtMs: null, metAtMs, lastShownMs: null, silentAfterMs: null },
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
export function standingTurns({ standing, stretches, turns }: Outcome): number {
  const stands = new Set(standing);
  const inside = ({ stretch }: TurnOutcome) => stretch !== null && stands.has(stretches[stretch] as Stretch);
  return turns.filter((turn) => turn.number !== null && inside(turn)).length;
}

/** Whether a batch that was counting has gone unchecked for too long to say that it still is. */
export function isSilent({ standing, metAtMs, silentAfterMs }: Outcome, nowMs: number): boolean {
  return metAtMs === null && standing.length > 0 && silentAfterMs !== null && nowMs > silentAfterMs;
}

/**
 * The first run that meets the rule alone; otherwise the first with time and turns that lacks only what a later record
 * of the mix or of moisture could still show; otherwise the run that is still running.
 */
function consecutive(stretches: readonly Stretch[], turns: readonly TurnOutcome[], count: Count): Tally {
  const turnsOf = byStretch(turns);
  let waiting: Tally | null = null;
  for (const [index, stretch] of stretches.entries()) {
    const tally = count([stretch], turnsOf.get(index) ?? []);
    if (tally.metAtMs !== null) return tally;
    if (tally.readyAtMs !== null && tally.demands.every(isOpen)) waiting ??= tally;
  }
  const last = stretches.length - 1;
  const running = stretches.slice(last).filter((stretch) => stretch.endedBy === null);
  return waiting ?? count(running, turnsOf.get(last) ?? []);
}

/** All stretches together; once the rule is met, those that begin later are left out. */
function cumulative(stretches: readonly Stretch[], turns: readonly TurnOutcome[], count: Count): Tally {
  const tally = count(stretches, turns);
  const { metAtMs } = tally;
  if (metAtMs === null) return tally;
  return { ...tally, standing: stretches.filter((stretch) => stretch.fromMs <= metAtMs) };
}

function byStretch(turns: readonly TurnOutcome[]): Map<number | null, TurnOutcome[]> {
  const turnsOf = new Map<number | null, TurnOutcome[]>();
  for (const turn of turns) {
    const own = turnsOf.get(turn.stretch);
    if (own === undefined) turnsOf.set(turn.stretch, [turn]);
    else own.push(turn);
  }
  return turnsOf;
}

function isOpen({ key, state }: Demand): boolean {
  return state !== 'unmet' || key === 'carbon-to-nitrogen';
}

/** The rule is met at the first instant at which everything is there; a demand without an instant is there, or is not, throughout. */
function tallyOf(
  standing: readonly Stretch[],
  turns: readonly TurnOutcome[],
  known: Circumstances,
  terms: Terms,
): Tally {
  const timeAtMs = timeFulfilledAt(standing, terms);
  const turnsAtMs =
    terms.turns === 0 ? -Infinity : turns.filter((turn) => turn.number !== null)[terms.turns - 1]?.atMs;
  const ready = timeAtMs !== null && turnsAtMs !== undefined;
  const readyAtMs = ready ? Math.max(timeAtMs, turnsAtMs) : null;
  const demands = demandsOf(standing, known, terms);
  const met = readyAtMs !== null && demands.every(({ state }) => state === 'met');
  const metAtMs = met ? demands.reduce((last, { atMs }) => Math.max(last, atMs ?? last), readyAtMs) : null;
  return { standing, readyAtMs, demands, metAtMs };
}

function timeFulfilledAt(stretches: readonly Stretch[], { requiredDays, requiredMs }: Terms): number | null {
  if (requiredDays !== null) {
    return stretches.flatMap((stretch) => stretch.dayEndsMs)[requiredDays - 1] ?? null;
  }
  return fulfilledAt(
    stretches.flatMap((stretch) => stretch.spans),
    requiredMs,
  );
}
