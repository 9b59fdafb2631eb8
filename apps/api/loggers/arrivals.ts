import { boilingDeciC } from '#libs/process';
import { celsiusOf, minuteMs } from '#libs/quantities';

/** A reading as it came in, converted and not yet looked at. */
export interface ArrivedReading {
  /** The code of a bay or the id of a batch: one of the two, and it may name nothing. */
  bay: string | null;
  batchId: string | null;
  position: string;
  zone: string | null;
  depthMm: number | null;
  temperatureDeciC: number;
  atMs: number;
}

/** What became of a reading: kept now, kept before with the same figures, or refused at one of its fields. */
export type Outcome = 'new' | 'known' | Refusal;

export interface Refusal {
  field: 'bay' | 'batchId' | 'position' | 'zone' | 'depth' | 'temperature' | 'occurredAt';
  detail: string;
}

/** What a device may tell of. */
export interface Target {
  id: number;
  bay: string | null;
  batchId: string | null;
  /** When the key ended, and another logger may have come in its place; null while it is good. */
  untilMs: number | null;
}

/** When a batch is there to be told of: from when it began, or came into the bay, until it left or its record was closed. */
export interface TargetBatch {
  targetId: number;
  code: string;
  fromMs: number;
  toMs: number | null;
  /** In a word, where its record is closed. */
  closed: string | null;
  closedMs: number | null;
}

/**
 * No open pile freezes deeper, and no probe for piles that we know of shows more (both from memory). It is what a check
 * by hand may say as well.
 */
const LEAST_DECI_C = -400;
const MOST_DECI_C = 1500;
const DEEPEST_MM = 10_000;
const AHEAD_MS = 5 * minuteMs;
/** Clocks that lost their battery begin at 1970 or at 2000. */
const CLOCK_WAS_SET_MS = Date.UTC(2001, 0, 1);

/** Hotter than water boils, and what many sensors say when their wire is broken: likely no pile, and yet it may smoulder. */
export const isDoubtful = (deciC: number): boolean => deciC > boilingDeciC || deciC === LEAST_DECI_C;

/** Looks at readings one by one, against what the device may tell of. */
export class Doorkeeper {
  private readonly byBay: Map<string, Target>;
  private readonly byBatch: Map<string, Target>;
  private readonly batches = new Map<number, TargetBatch[]>();

  constructor(
    targets: readonly Target[],
    batches: readonly TargetBatch[],
    private readonly nowMs: number,
  ) {
    this.byBay = new Map(targets.flatMap((target) => (target.bay === null ? [] : [[target.bay, target]])));
    this.byBatch = new Map(
      targets.flatMap((target) => (target.batchId === null ? [] : [[target.batchId, target]])),
    );
    for (const batch of batches) {
      this.batches.set(batch.targetId, [...(this.batches.get(batch.targetId) ?? []), batch]);
    }
  }

  /** What the reading is of; or why it is refused. */
  admit(reading: ArrivedReading): Target | Refusal {
    const target = this.targetOf(reading);
    if ('field' in target) return target;
    return amiss(reading) ?? this.timeAmiss(reading, target) ?? target;
  }

  /** Whether it is of a batch, and not of a bay in which none lay. */
  hasBatch({ atMs }: ArrivedReading, target: Target): boolean {
    const batches = this.batches.get(target.id) ?? [];
    return target.batchId !== null || batches.some((batch) => isWithin(atMs, batch, target));
  }

  private targetOf({ bay, batchId }: ArrivedReading): Target | Refusal {
    if ((bay === null) === (batchId === null)) return { field: 'bay', detail: 'name a bay or a batch' };
    const target = bay === null ? this.byBatch.get(batchId ?? '') : this.byBay.get(bay);
    if (target) return target;
    return bay === null
      ? { field: 'batchId', detail: 'is no batch that this device tells of' }
      : { field: 'bay', detail: 'is no bay that this device tells of' };
  }

  private timeAmiss({ atMs }: ArrivedReading, target: Target): Refusal | null {
    const refused = (detail: string): Refusal => ({ field: 'occurredAt', detail });
    if (atMs > this.nowMs + AHEAD_MS) return refused('is in the future; is the clock of the logger right?');
    if (atMs < CLOCK_WAS_SET_MS) return refused('is before 2001; was the clock of the logger ever set?');
    const { untilMs } = target;
    if (untilMs !== null && atMs > untilMs) {
      const ended = new Date(untilMs).toISOString();
      return refused(`is after the key of this logger ended, at ${ended}: it no longer lay there`);
    }
    for (const batch of this.batches.get(target.id) ?? []) {
      const { code, fromMs, closed } = batch;
      if (target.batchId !== null && atMs < fromMs) {
        return refused(`is before ${code} was begun, at ${new Date(fromMs).toISOString()}`);
      }
      if (closed !== null && isWithin(atMs, batch, target)) {
        return refused(`is of ${code}, which is ${closed}: nothing is recorded of it any more`);
      }
    }
    return null;
  }
}

/** In a bay, what is told after the record was closed is of no batch, and kept. */
function isWithin(atMs: number, { fromMs, toMs, closedMs }: TargetBatch, { batchId }: Target): boolean {
  if (batchId !== null) return true;
  return atMs >= fromMs && atMs < (toMs ?? Infinity) && atMs <= (closedMs ?? Infinity);
}

function amiss({ temperatureDeciC, depthMm }: ArrivedReading): Refusal | null {
  if (temperatureDeciC < LEAST_DECI_C || temperatureDeciC > MOST_DECI_C) {
    const side = temperatureDeciC > MOST_DECI_C ? 'hotter' : 'colder';
    const told = `${celsiusOf(temperatureDeciC)} C is ${side} than can be; is the unit right, and the sensor whole?`;
    return { field: 'temperature', detail: told };
  }
  if (depthMm !== null && depthMm > DEEPEST_MM) {
    return { field: 'depth', detail: 'is deeper than any pile; is the unit right?' };
  }
  return null;
}

/** A reading that was let in, by its place in what was sent. */
export interface Admitted {
  index: number;
  probeId: number;
  placement: number;
  atMs: number;
  deciC: number;
}

/** What is told twice in one delivery: the first word of each probe and instant, and the later ones with the first. */
export function firstOfEach(admitted: readonly Admitted[]): {
  firsts: Admitted[];
  repeated: [later: Admitted, first: Admitted][];
} {
  const seen = new Map<number, Map<number, Admitted>>();
  const firsts: Admitted[] = [];
  const repeated: [Admitted, Admitted][] = [];
  for (const reading of admitted) {
    const ofProbe = seen.get(reading.probeId) ?? new Map<number, Admitted>();
    seen.set(reading.probeId, ofProbe);
    const first = ofProbe.get(reading.atMs);
    if (first) repeated.push([reading, first]);
    else {
      ofProbe.set(reading.atMs, reading);
      firsts.push(reading);
    }
  }
  return { firsts, repeated };
}

/** A reading beside what is kept of the same probe and instant. */
export function comparedWith(
  kept: { deciC: number; placement: number },
  { deciC, placement }: { deciC: number; placement: number },
): 'known' | Refusal {
  if (kept.deciC !== deciC) {
    const detail = `was kept before for this probe and time with ${celsiusOf(kept.deciC)} C`;
    return { field: 'temperature', detail };
  }
  if (kept.placement === placement) return 'known';
  return { field: 'position', detail: 'was kept before for this probe and time in another zone or depth' };
}
