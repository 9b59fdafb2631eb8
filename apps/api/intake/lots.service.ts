import { Injectable } from '@nestjs/common';
import { Clock } from '../http/clock.js';
import { happenedAt } from '../http/dto/time.js';
import { invalid, Problem } from '../http/problems/catalogue.js';
import { type IntakeFacts, SiteFactsService } from '../sites/site-facts.service.js';
import { amountOf, rejectsOf } from './amount.js';
import type { LotEntry, LotFacts } from './lot.js';
import { isRefused, outcome, refusal, required } from './outcome.js';
import { requireReferences } from './references.js';
import { type ShiftFacts, ShiftsRecords } from './shifts.records.js';
import { warningsOf } from './warnings.js';

/** An entry whose time and shift have been read. */
interface Placed {
  entry: LotEntry;
  siteId: string;
  occurredAt: Date;
  shift: ShiftFacts | null;
}

/** What a lot was worked out with; a correction of something else must not change its mass. */
export type KeptFigures = Pick<
  LotFacts,
  'containerId' | 'tareG' | 'volumeMl' | 'material' | 'densityKgM3' | 'densitySource' | 'entered'
>;

/** A container weighed again since, or a density looked up anew, is not that of the day. */
function withKept(facts: IntakeFacts, kept: KeptFigures | null): IntakeFacts {
  if (!kept) return facts;
  const { container, material } = facts;
  const { densityKgM3, densitySource } = kept;
  return {
    ...facts,
    container: container?.id === kept.containerId ? { ...container, ...ofTheDay(kept) } : container,
    material:
      material?.code === kept.material && densityKgM3 !== null && densitySource !== null
        ? { ...material, bulkDensityKgM3: densityKgM3, densitySource }
        : material,
  };
}

function ofTheDay({ tareG, volumeMl, entered }: KeptFigures) {
  const count = entered.containers?.count;
  return {
    ...(tareG === null ? {} : { tareG }),
    ...(count === undefined || volumeMl === null ? {} : { volumeMl: volumeMl / count }),
  };
}

@Injectable()
export class LotsService {
  constructor(
    private readonly sites: SiteFactsService,
    private readonly shifts: ShiftsRecords,
    private readonly clock: Clock,
  ) {}

  /**
   * What becomes of each entry, in their order: the facts to keep, with their warnings, or why it is refused. What they
   * refer to takes one query a site, and one more where shifts are named. `recordedMs` is when they came to be
   * recorded; null where that says nothing.
   */
  async judge(
    entries: readonly LotEntry[],
    recordedMs: number | null = this.clock.nowMs(),
    kept: KeptFigures | null = null,
  ): Promise<(LotFacts | Problem)[]> {
    const shifts = await this.shifts.facts(entries.flatMap(({ shiftId }) => shiftId ?? []));
    const nowMs = this.clock.nowMs();
    const placed = entries.map((entry) => outcome(() => place(entry, shifts, nowMs)));
    const facts = await this.factsOf(placed.filter((one): one is Placed => !isRefused(one)));
    return placed.map((one) =>
      isRefused(one) ? one : outcome(() => lotOf(one, withKept(required(facts.get(one)), kept), recordedMs)),
    );
  }

  /** The same of one entry that is corrected; throws its refusal. */
  async require(entry: LotEntry, recordedMs: number | null, kept: KeptFigures): Promise<LotFacts> {
    const [judged] = await this.judge([entry], recordedMs, kept);
    return required(judged);
  }

  private async factsOf(placed: readonly Placed[]): Promise<Map<Placed, IntakeFacts | Problem>> {
    const facts = new Map<Placed, IntakeFacts | Problem>();
    for (const siteId of new Set(placed.map((one) => one.siteId))) {
      const ofSite = placed.filter((one) => one.siteId === siteId);
      const found = await this.sites.forIntake(siteId, ofSite.map(referencesOf)).catch(refusal);
      ofSite.forEach((one, index) => facts.set(one, isRefused(found) ? found : required(found[index])));
    }
    return facts;
  }
}

function place(entry: LotEntry, shifts: Map<string, ShiftFacts>, nowMs: number): Placed {
  const siteId = entry.siteId.toLowerCase();
  const occurredAt = happenedAt(entry.occurredAt, nowMs);
  const named = entry.shiftId?.toLowerCase();
  const shift = named === undefined ? null : requireShift(shifts.get(named), siteId, occurredAt);
  return { entry, siteId, occurredAt, shift };
}

/**
 * A lot of a shift that is closed still belongs to it when it came in before the closing: a second device may have
 * been offline meanwhile. One that came in later does not.
 */
export function requireShift(shift: ShiftFacts | undefined, siteId: string, occurredAt: Date): ShiftFacts {
  if (shift?.siteId !== siteId) throw invalid('/shiftId', 'is no shift of this site');
  if (shift.closedAt && occurredAt >= shift.closedAt) {
    throw new Problem('shift-closed', `The shift was closed at ${shift.closedAt.toISOString()}.`);
  }
  return shift;
}

function referencesOf({ entry, occurredAt, shift }: Placed) {
  // A volume is read off a bucket: the scale of the shift has no part in it.
  const instrumentId = entry.instrumentId ?? (entry.weight && shift?.instrumentId);
  return {
    materialCode: entry.material,
    jurisdictionId: entry.jurisdictionId,
    containerId: entry.weight?.containerId ?? entry.containers?.containerId,
    instrumentId: instrumentId ?? undefined,
    atMs: occurredAt.getTime(),
  };
}

function containerAt({ weight, containers }: LotEntry): string | undefined {
  if (weight?.containerId !== undefined) return '/weight/containerId';
  return containers && '/containers/containerId';
}

function lotOf(
  { entry, occurredAt, shift }: Placed,
  facts: IntakeFacts,
  recordedMs: number | null,
): LotFacts {
  const { material, depositor, instrumentId } = entry;
  requireReferences({ material, containerAt: containerAt(entry), instrumentId }, facts);
  const amount = amountOf(entry, facts);
  const { rejects, rejectedG } = rejectsOf(entry.rejects ?? [], amount.netG);
  const lot = {
    ...amount,
    occurredAt,
    material,
    depositor,
    jurisdictionId: entry.jurisdictionId?.toLowerCase() ?? facts.site.jurisdictionId,
    rejectedG,
    acceptedG: amount.netG - rejectedG,
    haulReceiptId: null,
    instrumentId: facts.instrument?.id ?? null,
    note: entry.note ?? null,
  };
  const arrival = {
    recordedMs,
    shiftClosed: shift?.closedAt instanceof Date,
    beforeShift: shift !== null && occurredAt < shift.openedAt,
  };
  return Object.assign(lot, { rejects, warnings: warningsOf(lot, facts, arrival) });
}
