import { Injectable } from '@nestjs/common';
import { Temporal } from 'temporal-polyfill';
import { kgOf } from '#libs/quantities';
import { Clock } from '../http/clock.js';
import { requireDay } from '../http/dto/period.js';
import { localDay } from '../http/dto/time.js';
import { invalid } from '../http/problems/catalogue.js';
import { StockService } from '../mixing/stock.service.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import type { OnHandDto, StockOnHandDto, WaitingMaterialDto } from './on-hand.dto.js';
import { OnHandRecords, type WaitingLine } from './on-hand.records.js';
import { heapsOf, inProcessOf, stagesOf } from './on-hand-views.js';

/** What lies at a site, now or as of the end of any of its days: docs/accounting.md §3. */
@Injectable()
export class SiteOnHandService {
  constructor(
    private readonly records: OnHandRecords,
    private readonly sites: SiteFactsService,
    private readonly stock: StockService,
    private readonly clock: Clock,
  ) {}

  /** As the records stand now: what is mended or voided later changes what lay there then. */
  async onHand(siteId: string, on: string | undefined): Promise<OnHandDto> {
    const site = await this.sites.site(siteId);
    const nowMs = this.clock.nowMs();
    const before = on === undefined ? null : endOf(on, site.timeZone, nowMs);
    const asOfMs = before?.getTime() ?? nowMs;
    const { waiting, road, batches } = await this.records.read(site.id, before);
    const waits = await this.waits(site.id, waiting, asOfMs);
    const inProcess = inProcessOf(batches);
    const total = (masses: readonly number[]) => kgOf(masses.reduce((sum, massG) => sum + massG, 0));
    return {
      ...{ siteId: site.id, on: on ?? null, asOf: new Date(asOfMs).toISOString(), waiting: waits },
      onTheRoad: road.map(({ massG, leftAt, ...haul }) => ({
        ...{ ...haul, leftAt: leftAt.toISOString(), massKg: kgOf(massG) },
      })),
      inProcess: inProcess.map(({ view }) => view),
      byStage: stagesOf(inProcess),
      overs: heapsOf(batches, 'oversG'),
      compost: heapsOf(batches, 'compostG'),
      stock: await this.stockOf(site.id, before),
      totals: {
        waitingKg: total(waiting.map(({ massG }) => massG)),
        onTheRoadKg: total(road.map(({ massG }) => massG)),
        inProcessKg: total(inProcess.map(({ line }) => line.leftG)),
        oversKg: total(batches.map(({ oversG }) => oversG)),
        compostKg: total(batches.map(({ compostG }) => compostG)),
      },
    };
  }

  private async waits(
    siteId: string,
    lines: readonly WaitingLine[],
    atMs: number,
  ): Promise<WaitingMaterialDto[]> {
    const codes = lines.map(({ material }) => material);
    const figures = await this.sites.materialFigures(codes, { siteId, atMs });
    return lines.map(({ massG, estimatedG, sharedG, seenMl, unseenG, ...line }) => {
      const density = figures.find(({ code }) => code === line.material)?.bulkDensityKgM3?.typical ?? null;
      return {
        ...{ ...line, massKg: kgOf(massG), estimatedKg: kgOf(estimatedG), sharedKg: kgOf(sharedG) },
        volumeL: volumeOf(seenMl, unseenG, density),
      };
    });
  }

  private async stockOf(siteId: string, before: Date | null): Promise<StockOnHandDto[]> {
    const { items } = await this.stock.ofSite(siteId, before);
    return items.map(({ material, name, countedAt, leftKg, leftL }) => ({
      ...{ material, name, countedAt, massKg: leftKg, volumeL: leftL },
    }));
  }
}

/** The end of a local day of the past; null of today, which is not over: then it is as of now. */
function endOf(day: string, timeZone: string, nowMs: number): Date | null {
  requireDay(day, '/on');
  const today = localDay(nowMs, timeZone);
  if (day > today) throw invalid('/on', 'has not come yet');
  if (day === today) return null;
  const next = Temporal.PlainDate.from(day).add({ days: 1 }).toZonedDateTime(timeZone);
  return new Date(next.epochMilliseconds);
}

/** What was seen, and what the rest comes to by a density. */
function volumeOf(seenMl: number, unseenG: number, densityKgM3: number | null): number | null {
  if (unseenG === 0) return seenMl / 1000;
  return densityKgM3 === null ? null : Math.round(seenMl + (unseenG / densityKgM3) * 1000) / 1000;
}
