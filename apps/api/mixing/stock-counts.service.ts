import { Injectable } from '@nestjs/common';
import { estimateMassG, kgOf, litresOf, massToG, volumeToMl } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, pageOf } from '../http/dto/paging.js';
import { happenedAt } from '../http/dto/time.js';
import { invalid, notFound } from '../http/problems/catalogue.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import { voidedBefore } from '../http/writes/write-once.js';
import {
  type Density,
  type IntakeFacts,
  measureOf,
  SiteFactsService,
  type SiteMeasure,
} from '../sites/site-facts.service.js';
import type { NewStockCountDto, StockAmountDto, StockCountDto, StockCountsQuery } from './stock.dto.js';
import { type NewStockCount, type StockAmount, type StockCountRow, StockRecords } from './stock.records.js';

/** What no heap of a yard holds: the same that a single volume may be. */
const MOST_ML = 200_000_000;

/** What the crew finds to lie at a yard. It takes no part in any balance: it says what there is to take from. */
@Injectable()
export class StockCountsService {
  constructor(
    private readonly counts: StockRecords,
    private readonly sites: SiteFactsService,
    private readonly clock: Clock,
  ) {}

  async record(actor: Actor, dto: NewStockCountDto): Promise<Recorded<StockCountDto>> {
    const before = dto.id === undefined ? null : await this.counts.find(dto.id);
    if (before) return sentBefore(before, dto);
    const count = await this.newCountOf(dto);
    const isNew = await this.counts.keep(actor, count);
    const row = await this.find(count.id);
    return isNew ? { replayed: false, body: view(row) } : sentBefore(row, dto);
  }

  async list(actor: Actor, query: StockCountsQuery): Promise<Page<StockCountDto>> {
    const after = keyOf(query.cursor, 'instant', 'id');
    const rows = await this.counts.page({
      siteIds: actor.sitesFor('operator', query.siteId),
      material: query.material ?? null,
      limit: query.limit,
      after: after && { occurredAt: String(after[0]), id: String(after[1]) },
    });
    return pageOf(rows, query.limit, (row) => [row.occurredAt.toISOString(), row.id], view);
  }

  async void(actor: Actor, id: string, reason: string): Promise<StockCountDto> {
    const before = await this.find(id);
    if (!voidedBefore(before, reason) && !(await this.counts.void(actor, id, reason)))
      voidedBefore(await this.find(id), reason);
    return view(await this.find(id));
  }

  private async find(id: string): Promise<StockCountRow> {
    const row = await this.counts.find(id);
    if (!row) throw notFound('stock count');
    return row;
  }

  private async newCountOf(dto: NewStockCountDto): Promise<NewStockCount> {
    const siteId = dto.siteId.toLowerCase();
    const { material: materialCode, amount, costPerKg = null, note = null } = dto;
    const occurredAt = happenedAt(dto.occurredAt, this.clock.nowMs());
    const { runsBatches, code } = await this.sites.site(siteId);
    if (!runsBatches) throw invalid('/siteId', `${code} runs no batches, so nothing is kept there for them`);
    const { containerId } = amount;
    const asked = { materialCode, containerId, atMs: occurredAt.getTime() };
    const [facts] = await this.sites.forIntake(siteId, [asked]);
    requireMaterial(facts, materialCode);
    const pointer = '/amount/containerId';
    const container = containerId === undefined ? null : measureOf(facts?.container ?? null, siteId, pointer);
    const density = await this.sites.densityOf(materialCode, { siteId, atMs: occurredAt.getTime() });
    return {
      ...{ id: idOr(dto.id), siteId, materialCode, occurredAt, costPerKg, note },
      ...amountOf(amount, container, density),
      bodySha256: bodyDigest(dto),
    };
  }
}

function sentBefore(row: StockCountRow, dto: NewStockCountDto): Recorded<StockCountDto> {
  requireSameBody(row.bodySha256, bodyDigest(dto));
  return { replayed: true, body: view(row) };
}

function requireMaterial(facts: IntakeFacts | undefined, code: string): void {
  if (!facts?.material) throw invalid('/material', `"${code}" is no material of the list`);
  if (facts.material.retired) throw invalid('/material', `"${code}" is retired`);
}

function amountOf(
  amount: StockAmountDto,
  container: SiteMeasure | null,
  density: Density | null,
): StockAmount {
  const { mass, volume, count } = amount;
  const named = [mass, volume, amount.containerId].filter((one) => one !== undefined);
  if (named.length !== 1) throw invalid('/amount', 'must be one of mass, volume, and containerId with count');
  if ((container === null) !== (count === undefined))
    throw invalid('/amount/count', 'goes with containerId, and only with it');
  const entered = JSON.parse(JSON.stringify(amount)) as StockAmount['entered'];
  if (mass) {
    const none = { volumeMl: null, densityKgM3: null, densitySource: null };
    return {
      ...none,
      basis: 'scale',
      massG: massToG(mass),
      containerId: null,
      containerCount: null,
      entered,
    };
  }
  const volumeMl = volume ? volumeToMl(volume) : Math.round((count ?? 0) * (container?.volumeMl ?? 0));
  if (volumeMl > MOST_ML) throw invalid('/amount/count', 'must come to at most 200 m3');
  return {
    basis: container ? 'container' : 'volume',
    massG: density && estimateMassG(volumeMl, density.kgM3),
    volumeMl,
    densityKgM3: density?.kgM3 ?? null,
    densitySource: density?.source ?? null,
    containerId: container?.id ?? null,
    containerCount: count ?? null,
    entered,
  };
}

const NO_DENSITY =
  'The volume is kept. How much it weighs is not known, since the density of the material is not.';

function view(row: StockCountRow): StockCountDto {
  const { id, siteId, basis, densityKgM3, densitySource, containerId, costPerKg, note, entered } = row;
  return {
    ...{ id, siteId, basis, densityKgM3, densitySource, containerId, costPerKg, note, entered },
    material: row.materialCode,
    occurredAt: row.occurredAt.toISOString(),
    massKg: row.massG === null ? null : kgOf(row.massG),
    volumeL: row.volumeMl === null ? null : litresOf(row.volumeMl),
    container: row.containerCode,
    count: row.containerCount,
    remark: row.massG === null && row.volumeMl !== 0 ? NO_DENSITY : null,
    recordedAt: row.recordedAt.toISOString(),
    recordedBy: row.recordedBy,
    voidedAt: row.voidedAt?.toISOString() ?? null,
    voidReason: row.voidReason,
  };
}
