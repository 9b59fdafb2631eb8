import { type Composition, partsOf, type Reached, TRACE_ASSUMPTIONS } from '#libs/accounting';
import { RECALL_CAUTIONS } from '#libs/documents';
import { kgOf, litresOf, sumG } from '#libs/quantities';
import type { SourceDto, TracedBatchDto, TracedDistributionDto, TracedLotDto } from './trace.dto.js';
import type { BatchFacts, HandedOut, Link, LotFacts, StockFacts } from './trace.records.js';

/** What stands by itself in every answer of a trace. */
export const told = (nowMs: number) => ({
  asOf: new Date(nowMs).toISOString(),
  assumptions: [...TRACE_ASSUMPTIONS],
  cautions: [...RECALL_CAUTIONS],
});

/** In thousandths of a percent: what is less is told by the mass. */
export function percentOf(partG: number, wholeG: number): number | null {
  return wholeG === 0 ? null : Math.round((partG / wholeG) * 1e5) / 1e3;
}

export function lotView(lot: LotFacts): TracedLotDto {
  const { id, siteId, material, materialName, jurisdiction, depositor, voided, elsewhere } = lot;
  const acceptedG = voided ? 0 : lot.acceptedG;
  return {
    ...{ id, siteId, material, materialName, jurisdiction, depositor, voided, elsewhere },
    occurredAt: lot.occurredAt.toISOString(),
    site: lot.siteCode,
    acceptedKg: kgOf(acceptedG),
    inBatchesKg: kgOf(lot.assignedG),
    inNoBatchKg: kgOf(acceptedG - lot.assignedG),
  };
}

/** Batches that it came to, and what was handed out of them. */
export interface Followed {
  reached: readonly Reached<Link>[];
  /** Of these and of all that led into them. */
  facts: ReadonlyMap<string, BatchFacts>;
  handedOut: readonly HandedOut[];
}

export function forwardView({ reached, facts, handedOut }: Followed, sourceId: string) {
  const by = new Map(reached.map((one) => [one.batchId, one]));
  const distributions = handedOut.map((one) =>
    distributionView(one, factOf(facts, one.batchId), by.get(one.batchId), sourceId),
  );
  return {
    batches: reached.map((one) => batchView(one, facts)),
    distributions: distributions.map(({ view }) => view),
    handedOutKg: kgOf(sumG(handedOut.map(({ massG }) => massG))),
    handedOutOfItKg: kgOf(sumG(distributions.map(({ partG }) => partG))),
  };
}

function batchView(
  { batchId, steps, wholeG, partG, ways }: Reached<Link>,
  facts: Followed['facts'],
): TracedBatchDto {
  const { id, code, siteCode, stage, onHold, compostLeftG, oversLeftG } = factOf(facts, batchId);
  return {
    ...{ id, code, site: siteCode, stage, onHold, steps },
    ways: ways.map(({ link, partG: ofItG }) => ({
      kind: link.kind,
      fromBatchId: link.fromBatchId,
      fromBatch: factOf(facts, link.fromBatchId).code,
      massKg: kgOf(link.massG),
      ofItKg: kgOf(ofItG),
    })),
    inputKg: kgOf(wholeG),
    ofItKg: kgOf(partG),
    sharePercent: percentOf(partG, wholeG),
    compostLeftKg: kgOf(compostLeftG),
    oversLeftKg: kgOf(oversLeftG),
  };
}

function distributionView(
  one: HandedOut,
  batch: BatchFacts,
  reached: Reached<Link> | undefined,
  sourceId: string,
): { view: TracedDistributionDto; partG: number } {
  const { id, code, batchId, recipient, use, note, massG, volumeMl } = one;
  const parts = partsOf(massG, reached?.composition ?? new Map(), batchId);
  const partG = parts.get(sourceId) ?? 0;
  const view = {
    ...{ id, code, batchId, batch: batch.code, recipient, use, note },
    occurredAt: one.occurredAt.toISOString(),
    massKg: kgOf(massG),
    volumeL: volumeMl === null ? null : litresOf(volumeMl),
    ofItKg: kgOf(partG),
    sharePercent: percentOf(reached?.partG ?? 0, reached?.wholeG ?? 0),
  };
  return { view, partG };
}

export function factOf(facts: ReadonlyMap<string, BatchFacts>, batchId: string): BatchFacts {
  const found = facts.get(batchId);
  if (!found) throw new Error(`the batch ${batchId} is not there`);
  return found;
}

/** What is known of sources, by the ids that they have in a composition. */
export interface SourceNames {
  lots: ReadonlyMap<string, LotFacts>;
  stock: ReadonlyMap<string, StockFacts>;
  batches: ReadonlyMap<string, BatchFacts>;
}

/** The most first. */
export function sourcesView(parts: Composition, names: SourceNames): SourceDto[] {
  const wholeG = sumG(parts.values());
  return [...parts]
    .toSorted(([a, aG], [b, bG]) => bG - aG || (a < b ? -1 : 1))
    .map(([sourceId, massG]) => ({
      ...sourceView(sourceId, names),
      massKg: kgOf(massG),
      sharePercent: percentOf(massG, wholeG),
    }));
}

function sourceView(
  sourceId: string,
  { lots, stock, batches }: SourceNames,
): Omit<SourceDto, 'massKg' | 'sharePercent'> {
  const none = { id: null, material: null, occurredAt: null, site: null, jurisdiction: null };
  const { kind, key } = sourceOf(sourceId);
  if (kind === 'stock') return { ...none, kind, material: key, name: stock.get(key)?.name ?? key };
  if (kind === 'batch') return { ...none, kind, id: key, name: `batch ${batches.get(key)?.code ?? key}` };
  const lot = lots.get(key);
  if (!lot) throw new Error(`the drop-off ${key} is not there`);
  return {
    ...{ kind, id: key, material: lot.material, name: lot.materialName, jurisdiction: lot.jurisdiction },
    occurredAt: lot.occurredAt.toISOString(),
    site: lot.siteCode,
  };
}

/** What an id of a composition names. */
export function sourceOf(sourceId: string): { kind: SourceDto['kind']; key: string } {
  const [kind, key] = sourceId.split(':', 2);
  if (key === undefined) return { kind: 'drop-off', key: sourceId };
  return { kind: kind === 'stock' ? 'stock' : 'batch', key };
}
