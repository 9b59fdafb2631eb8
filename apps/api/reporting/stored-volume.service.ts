import { Injectable } from '@nestjs/common';
import { Clock } from '../http/clock.js';
import { MixService } from '../mixing/mix.service.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import type { StoredKind } from './headroom.dto.js';
import type { HeapDto, InProcessDto } from './on-hand.dto.js';
import { SiteOnHandService } from './on-hand.service.js';

/** Something that takes up room at a site; its volume is null where nobody knows it. */
export interface StoredHere {
  what: StoredKind;
  name: string;
  volumeMl: number | null;
  from: string;
}

/** Densities of what comes out of a batch, where screening measured none. */
const densityOf = { overs: 'overs', compost: 'finished-compost' } as const;

/** What lies at a site now, by volume. */
@Injectable()
export class StoredVolumeService {
  constructor(
    private readonly onHand: SiteOnHandService,
    private readonly mixes: MixService,
    private readonly sites: SiteFactsService,
    private readonly clock: Clock,
  ) {}

  async of(siteId: string): Promise<StoredHere[]> {
    const { inProcess, waiting, overs, compost, stock } = await this.onHand.onHand(siteId, undefined);
    const batches: StoredHere[] = [];
    for (const batch of inProcess) batches.push(await this.batchOf(batch));
    return [
      ...batches,
      ...waiting.map(({ name, volumeL }) => ({
        ...{ what: 'waiting' as const, name, volumeMl: mlOf(volumeL) },
        from: volumeL === null ? 'no density of it is known' : 'as seen, or by the density in use',
      })),
      ...(await this.heapsOf('overs', overs, siteId)),
      ...(await this.heapsOf('compost', compost, siteId)),
      ...stock.map(({ name, volumeL }) => ({
        ...{ what: 'stock' as const, name, volumeMl: mlOf(volumeL) },
        from: volumeL === null ? 'no density of it is known' : 'the latest count less what was used since',
      })),
    ];
  }

  private async batchOf({ batchId, code, volumeL }: InProcessDto): Promise<StoredHere> {
    const part = { what: 'batch' as const, name: code };
    if (volumeL !== null)
      return { ...part, volumeMl: mlOf(volumeL), from: 'its pile as it was measured last' };
    const mix = await this.mixes.mix(batchId);
    const from = mix.volumeL === null ? 'not measured, and not known of its mix' : 'the volumes of its mix';
    return { ...part, volumeMl: mlOf(mix.volumeL), from };
  }

  private async heapsOf(
    what: keyof typeof densityOf,
    heaps: readonly HeapDto[],
    siteId: string,
  ): Promise<StoredHere[]> {
    const at = { siteId, atMs: this.clock.nowMs() };
    const density = heaps.length === 0 ? null : await this.sites.densityOf(densityOf[what], at);
    return heaps.map(({ code, massKg, volumeL }) => {
      const part = { what, name: `${what} of ${code}` };
      if (volumeL !== null) return { ...part, volumeMl: mlOf(volumeL), from: 'as it was screened' };
      if (!density) return { ...part, volumeMl: null, from: 'no density of it is known' };
      const volumeMl = mlOf((massKg / density.kgM3) * 1000);
      return { ...part, volumeMl, from: `by ${density.kgM3} kg/m³ (${density.source})`.slice(0, 200) };
    });
  }
}

/** Nothing where less than nothing is left: what is recorded as gone before it came takes up no room. */
function mlOf(litres: number): number;
function mlOf(litres: number | null): number | null;
function mlOf(litres: number | null): number | null {
  return litres === null ? null : Math.max(0, Math.round(litres * 1000));
}
