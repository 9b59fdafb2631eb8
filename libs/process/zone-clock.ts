import { Temporal } from 'temporal-polyfill';

export interface LocalDay {
  readonly startMs: number;
  /** The start of the next local day: 23, 24 or 25 hours later where clocks are changed. */
  readonly endMs: number;
}

/** What the clocks of a zone are ahead of UTC, from one change of them to the next. */
export interface Steady {
  readonly fromMs: number;
  readonly toMs: number;
  readonly aheadMs: number;
}

interface Found {
  readonly steady: Steady[];
  readonly oddDays: LocalDay[];
}

/** Clocks change twice a year at most places: what was found once is kept, since asking takes a while. */
const zones = new Map<string, Found>();

/** The zone must be known. */
export function steadyAt(zone: string, ms: number): Steady {
  const { steady } = foundOf(zone);
  let found = steady.find(({ fromMs, toMs }) => fromMs <= ms && ms < toMs);
  if (found === undefined) {
    found = findSteady(zone, ms);
    steady.push(found);
  }
  return found;
}

/** The local day of an instant on or beside which clocks change. The zone must be known. */
export function oddDayOf(zone: string, ms: number): LocalDay {
  const { oddDays } = foundOf(zone);
  let found = oddDays.find(({ startMs, endMs }) => startMs <= ms && ms < endMs);
  if (found === undefined) {
    const start = Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(zone).startOfDay();
    const end = start.add({ days: 1 }).startOfDay();
    found = { startMs: start.epochMilliseconds, endMs: end.epochMilliseconds };
    oddDays.push(found);
  }
  return found;
}

function foundOf(zone: string): Found {
  let found = zones.get(zone);
  if (found === undefined) {
    found = { steady: [], oddDays: [] };
    zones.set(zone, found);
  }
  return found;
}

function findSteady(zone: string, ms: number): Steady {
  const local = Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(zone);
  return {
    // The change before is one before the instant itself, so that of this very instant is looked for from a little later.
    fromMs: local.add({ milliseconds: 1 }).getTimeZoneTransition('previous')?.epochMilliseconds ?? -Infinity,
    toMs: local.getTimeZoneTransition('next')?.epochMilliseconds ?? Infinity,
    aheadMs: local.offsetNanoseconds / 1e6,
  };
}
