import { Injectable } from '@nestjs/common';
import { kgOf, litresOf } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import type { Page, PageQuery } from '../http/dto/paging.js';
import { happenedSince } from '../http/dto/time.js';
import { logPage, recordOnce, voidOnce } from '../http/writes/batch-log.js';
import { notedEntryView } from '../http/writes/entry-view.js';
import { bodyDigest, type Recorded } from '../http/writes/replay.js';
import { Work } from '../http/writes/work.js';
import { BatchesService } from './batches.service.js';
import {
  NewPileMeasurementDto,
  PileMeasurementDto,
  PileMeasurementPageDto,
  type PileWarningDto,
} from './pile-measurements.dto.js';
import { type PileMeasurementRow, PileMeasurementsRecords } from './pile-measurements.records.js';
import { enteredPile, measuredPile } from './pile-size.js';

// The route is told where the mix is known, since a measurement is held against it.
export { NewPileMeasurementDto, PileMeasurementDto, PileMeasurementPageDto, type PileWarningDto };

/** A measurement by itself, not held against anything. */
export type KeptPile = Omit<PileMeasurementDto, 'warnings'>;

/** How big a batch is found to be, as long as anything of it lies there. */
@Injectable()
export class PileMeasurementsService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly piles: PileMeasurementsRecords,
    private readonly batches: BatchesService,
  ) {}

  list(batchId: string, query: PageQuery): Promise<Page<KeptPile>> {
    return logPage(this.piles, batchId, query, view);
  }

  async record(actor: Actor, batchId: string, dto: NewPileMeasurementDto): Promise<Recorded<KeptPile>> {
    const key = { id: idOr(dto.id), batchId, bodySha256: bodyDigest(dto) };
    const { replayed, body } = await recordOnce(this.work, actor, this.piles, key, async () => {
      const batch = await this.batches.find(batchId);
      const began = batch.occurredAt;
      return {
        siteId: batch.siteId,
        occurredAt: happenedSince(dto.occurredAt, this.clock.nowMs(), began, 'the batch was begun'),
        own: { ...measuredPile(dto), note: dto.note ?? null, entered: JSON.stringify(enteredPile(dto)) },
      };
    });
    return { replayed, body: view(body) };
  }

  async void(actor: Actor, batchId: string, id: string, reason: string): Promise<KeptPile> {
    const { siteId } = await this.batches.find(batchId);
    return view(await voidOnce(this.work, actor, this.piles, { id, batchId, siteId, reason }));
  }
}

const metres = (mm: number) => mm / 1000;

function view(row: PileMeasurementRow): KeptPile {
  const { shape, lengthMm, widthMm, topWidthMm, heightMm, volumeMl, densityKgM3, massG, entered } = row;
  return {
    ...notedEntryView(row),
    ...{ shape, widthM: metres(widthMm), heightM: metres(heightMm) },
    lengthM: lengthMm === null ? null : metres(lengthMm),
    topWidthM: topWidthMm === null ? null : metres(topWidthMm),
    volumeL: litresOf(volumeMl),
    densityKgM3: densityKgM3 === null ? null : Math.round(densityKgM3 * 10) / 10,
    massKg: massG === null ? null : kgOf(massG),
    entered,
  };
}
