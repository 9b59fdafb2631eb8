import { Temporal } from 'temporal-polyfill';

/** What the clocks of a zone are ahead of UTC, from one change of them to the next. */
export interface Steady {
  readonly fromMs: number;
  readonly toMs: number;
  readonly aheadMs: number;
}

/** Clocks change twice a year at most places: what was found once is kept, since asking takes a while. */
const found = new Map<string, Steady[]>();

/** The zone must be known. */
export function steadyAt(zone: string, ms: number): Steady {
  let known = found.get(zone);
  if (known === undefined) {
    known = [];
    found.set(zone, known);
  }
  let steady = known.find(({ fromMs, toMs }) => fromMs <= ms && ms < toMs);
  if (steady === undefined) {
    steady = findSteady(zone, ms);
    known.push(steady);
  }
  return steady;
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
