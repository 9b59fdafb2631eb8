import { Injectable } from '@nestjs/common';
import type { EntryBasis } from '#libs/accounting';
import { kgOf, litresOf, massToG, volumeToMl } from '#libs/quantities';
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
import { BatchesService } from '../batches/batches.service.js';
import type { DistributionDto, NewDistributionDto } from './distributions.dto.js';
import { type DistributionRow, DistributionsRecords } from './distributions.records.js';
import { HoldsService } from './holds.service.js';
import { OutputsService } from './outputs.service.js';

interface Amount {
  massG: number;
  volumeMl: number | null;
  basis: EntryBasis;
}

@Injectable()
export class DistributionsService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly distributions: DistributionsRecords,
    private readonly outputs: OutputsService,
    private readonly batches: BatchesService,
    private readonly holds: HoldsService,
  ) {}

  list(batchId: string, query: PageQuery): Promise<Page<DistributionDto>> {
    return logPage(this.distributions, batchId, query, view);
  }

  async record(actor: Actor, batchId: string, dto: NewDistributionDto): Promise<Recorded<DistributionDto>> {
    const key = { id: idOr(dto.id), batchId, bodySha256: bodyDigest(dto) };
    const { replayed, body } = await recordOnce(this.work, actor, this.distributions, key, () =>
      this.entryOf(batchId, dto),
    );
    return { replayed, body: view(body) };
  }

  async void(actor: Actor, batchId: string, id: string, reason: string): Promise<DistributionDto> {
    const { siteId } = await this.batches.find(batchId);
    return view(await voidOnce(this.work, actor, this.distributions, { id, batchId, siteId, reason }));
  }

  private async entryOf(batchId: string, dto: NewDistributionDto): Promise<NewEntry> {
    const { siteId, stage, stages } = await this.batches.find(batchId);
    const released = stages.find((entry) => entry.stage === 'released');
    if (stage !== 'released' || !released) throw new Problem('stage-closed', `The batch is ${stage}.`);
    await this.holds.requireNone(batchId);
    const began = released.enteredAt;
    const occurredAt = happenedSince(dto.occurredAt, this.clock.nowMs(), began, 'the batch was released');
    const { recipient, use, mass, volume, note = null } = dto;
    const entered = JSON.stringify({ ...(mass ? { mass } : {}), ...(volume ? { volume } : {}) });
    const own = { recipient, use, note, entered, ...(await this.amountOf(batchId, dto)) };
    return { siteId, occurredAt, own, ...this.outputs.distributed(batchId) };
  }

  private async amountOf(batchId: string, { mass, volume }: NewDistributionDto): Promise<Amount> {
    if (mass && volume) throw invalid('/volume', 'goes without a mass: send the one that was measured');
    if (mass) return { massG: moreThanNothing(massToG(mass), '/mass'), volumeMl: null, basis: 'scale' };
    if (!volume) throw invalid('/mass', 'or /volume is needed');
    const volumeMl = moreThanNothing(volumeToMl(volume), '/volume');
    const { measuredG, measuredMl } = await this.outputs.compost(batchId);
    if (measuredMl === 0) {
      throw invalid(
        '/volume',
        'tells no mass: no screening of this batch has both mass and volume; give the mass',
      );
    }
    // Down, not to the nearest gram: however a heap is parted by volume, the parts never weigh more than the heap.
    const massG = Number((BigInt(volumeMl) * BigInt(measuredG)) / BigInt(measuredMl));
    return { massG: moreThanNothing(massG, '/volume'), volumeMl, basis: 'volume' };
  }
}

function moreThanNothing(amount: number, pointer: string): number {
  if (amount > 0) return amount;
  throw invalid(pointer, 'must be more than nothing');
}

function view(row: DistributionRow): DistributionDto {
  const { code, recipient, use, massG, volumeMl, basis, entered } = row;
  return {
    ...notedEntryView(row),
    ...{ code, recipient, use, basis, entered },
    massKg: kgOf(massG),
    volumeL: volumeMl === null ? null : litresOf(volumeMl),
  };
}
