import { Injectable } from '@nestjs/common';
import { volumeToMl } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import type { Page, PageQuery } from '../http/dto/paging.js';
import type { Recorded } from '../http/writes/replay.js';
import { BatchesService } from '../batches/batches.service.js';
import {
  type KeptPile,
  type NewPileMeasurementDto,
  type PileMeasurementDto,
  PileMeasurementsService,
} from '../batches/pile-measurements.service.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { MixService } from './mix.service.js';
import { doubtsInPile } from './pile-doubts.js';

const mlOf = (litres: number): number => volumeToMl({ value: litres, unit: 'L' });

/** Measurements of piles, each with what is worth a second look in it as the records stand now: none of that is stored. */
@Injectable()
export class WatchedPilesService {
  constructor(
    private readonly piles: PileMeasurementsService,
    private readonly batches: BatchesService,
    private readonly sites: SiteFactsService,
    private readonly mixes: MixService,
  ) {}

  async list(batchId: string, query: PageQuery): Promise<Page<PileMeasurementDto>> {
    const { items, next } = await this.piles.list(batchId, query);
    return { items: await this.watched(batchId, items), next };
  }

  async record(
    actor: Actor,
    batchId: string,
    dto: NewPileMeasurementDto,
  ): Promise<Recorded<PileMeasurementDto>> {
    const { replayed, body } = await this.piles.record(actor, batchId, dto);
    return { replayed, body: await this.one(body) };
  }

  async void(actor: Actor, batchId: string, id: string, reason: string): Promise<PileMeasurementDto> {
    return this.one(await this.piles.void(actor, batchId, id, reason));
  }

  private async one(pile: KeptPile): Promise<PileMeasurementDto> {
    const [watched] = await this.watched(pile.batchId, [pile]);
    if (!watched) throw new Error('a measurement was watched and not answered');
    return watched;
  }

  private async watched(batchId: string, piles: readonly KeptPile[]): Promise<PileMeasurementDto[]> {
    if (piles.length === 0) return [];
    const { siteId } = await this.batches.find(batchId);
    const stays = await this.batches.staysOf(batchId);
    const codes = [...new Set(stays.map(({ bayCode }) => bayCode))];
    const bays = await Promise.all(codes.map((code) => this.sites.bay(siteId, code)));
    const { volumeL } = await this.mixes.mix(batchId);
    return piles.map((pile) => {
      const at = new Date(pile.occurredAt);
      const stay = stays.find(({ fromAt, toAt }) => fromAt <= at && (toAt === null || at < toAt));
      const bay = bays.find((one) => one !== null && one.code === stay?.bayCode) ?? null;
      const mixMl = volumeL === null ? null : mlOf(volumeL);
      return { ...pile, warnings: doubtsInPile({ ...pile, volumeMl: mlOf(pile.volumeL), bay, mixMl }) };
    });
  }
}
