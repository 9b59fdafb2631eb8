import { Injectable } from '@nestjs/common';
import { kgOf, litresOf } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import type { Page, PageQuery } from '../http/dto/paging.js';
import { happenedSince } from '../http/dto/time.js';
import { invalid, Problem } from '../http/problems/catalogue.js';
import { notedEntryView } from '../http/writes/entry-view.js';
import { logPage, type NewEntry, recordOnce, voidOnce } from '../http/writes/batch-log.js';
import { bodyDigest, type Recorded } from '../http/writes/replay.js';
import { Work } from '../http/writes/work.js';
import { type IntakeFacts, SiteFactsService } from '../sites/site-facts.service.js';
import { amountOf } from './amendment-amount.js';
import { type Watched, warningsOf } from './amendment-warnings.js';
import type { AmendmentDto, NewAmendmentDto } from './amendments.dto.js';
import { type AmendmentRow, AmendmentsRecords } from './amendments.records.js';
import { BatchesRecords } from './batches.records.js';
import { BatchesService } from './batches.service.js';

/** Material that came through no drop-off: while the batch is built, and while it is hot, which restarts the clock. */
@Injectable()
export class AmendmentsService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly batches: BatchesService,
    private readonly records: BatchesRecords,
    private readonly amendments: AmendmentsRecords,
    private readonly sites: SiteFactsService,
  ) {}

  list(batchId: string, query: PageQuery): Promise<Page<AmendmentDto>> {
    return logPage(this.amendments, batchId, query, view);
  }

  async add(actor: Actor, batchId: string, dto: NewAmendmentDto): Promise<Recorded<AmendmentDto>> {
    const key = { id: idOr(dto.id), batchId, bodySha256: bodyDigest(dto) };
    const { replayed, body } = await recordOnce(this.work, actor, this.amendments, key, () =>
      this.entryOf(actor, batchId, dto),
    );
    return { replayed, body: view(body) };
  }

  async void(actor: Actor, batchId: string, id: string, reason: string): Promise<AmendmentDto> {
    const { siteId } = await this.batches.find(batchId);
    return view(await voidOnce(this.work, actor, this.amendments, { id, batchId, siteId, reason }));
  }

  private async entryOf(actor: Actor, batchId: string, dto: NewAmendmentDto): Promise<NewEntry> {
    const batch = await this.batches.find(batchId);
    const began = batch.occurredAt;
    const occurredAt = happenedSince(dto.occurredAt, this.clock.nowMs(), began, 'the batch was begun');
    const fromBatchId = await this.giverOf(actor, batchId, dto);
    const materialCode = materialOf(dto);
    const facts = await this.listed(batch.siteId, materialCode, dto.containers?.containerId, occurredAt);
    const { siteId } = batch;
    const density = await this.sites.densityOf(materialCode, { siteId, atMs: occurredAt.getTime() });
    const amount = amountOf(dto, { siteId, materialCode, container: facts.container, density });
    const heap = { siteId, materialCode, at: occurredAt };
    const counted = await this.amendments.counted(heap, density?.kgM3 ?? null);
    const warnings = warningsOf({ source: dto.from, massG: amount.massG, facts, counted });
    const own = {
      ...amount,
      ...{ materialCode, source: dto.from, fromBatchId, note: dto.note ?? null },
      warnings: JSON.stringify(warnings),
    };
    return { siteId, occurredAt, own };
  }

  private async listed(
    siteId: string,
    materialCode: string,
    containerId: string | undefined,
    at: Date,
  ): Promise<Listed> {
    const [facts] = await this.sites.forIntake(siteId, [{ materialCode, containerId, atMs: at.getTime() }]);
    const material = facts?.material;
    if (!material) throw invalid('/material', `"${materialCode}" is no material of the list`);
    if (material.retired) throw invalid('/material', `"${materialCode}" is retired`);
    return { ...facts, material };
  }

  /** The batch that overs come from: of a yard at which the actor is an operator at least. */
  private async giverOf(actor: Actor, batchId: string, dto: NewAmendmentDto): Promise<string | null> {
    if ((dto.from === 'overs') !== (dto.batchId !== undefined))
      throw invalid('/batchId', 'goes with overs, and only with them');
    if (dto.batchId === undefined) return null;
    const giver = await this.records.find(dto.batchId);
    if (!giver) throw invalid('/batchId', 'is no batch');
    if (giver.id === batchId) throw invalid('/batchId', 'is this batch, which does not get its own overs');
    if (!actor.mayAt('operator', giver.siteId))
      throw new Problem('other-site', 'You are no operator at the yard of that batch.');
    return giver.id;
  }
}

function materialOf({ from, material }: NewAmendmentDto): string {
  if (from === 'water') {
    if (material !== undefined && material !== 'water')
      throw invalid('/material', 'is water, if it is named');
    return 'water';
  }
  if (from === 'overs') return material ?? 'overs';
  if (material === undefined) throw invalid('/material', 'is needed from stock');
  return material;
}

type Listed = IntakeFacts & Watched['facts'];

function view(row: AmendmentRow): AmendmentDto {
  return {
    ...notedEntryView(row),
    from: row.source,
    material: row.materialCode,
    fromBatchId: row.fromBatchId,
    fromBatch: row.fromBatchCode,
    basis: row.basis,
    massKg: kgOf(row.massG),
    volumeL: row.volumeMl === null ? null : litresOf(row.volumeMl),
    densityKgM3: row.densityKgM3,
    densitySource: row.densitySource,
    warnings: row.warnings,
    entered: row.entered,
  };
}
