import { Injectable } from '@nestjs/common';
import { litresOf, volumeToMl } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import type { Page, PageQuery } from '../http/dto/paging.js';
import { happenedSince } from '../http/dto/time.js';
import { invalid } from '../http/problems/catalogue.js';
import { notedEntryView } from '../http/writes/entry-view.js';
import { logPage, recordOnce, voidOnce } from '../http/writes/batch-log.js';
import { bodyDigest, type Recorded } from '../http/writes/replay.js';
import { Work } from '../http/writes/work.js';
import { BatchesService } from '../batches/batches.service.js';
import { type WateringRow, WateringsRecords } from './waterings.records.js';
import type { NewWateringDto, WateringDto } from './work.dto.js';

@Injectable()
export class WateringsService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly waterings: WateringsRecords,
    private readonly batches: BatchesService,
  ) {}

  list(batchId: string, query: PageQuery): Promise<Page<WateringDto>> {
    return logPage(this.waterings, batchId, query, wateringView);
  }

  async record(actor: Actor, batchId: string, dto: NewWateringDto): Promise<Recorded<WateringDto>> {
    const key = { id: idOr(dto.id), batchId, bodySha256: bodyDigest(dto) };
    const { replayed, body } = await recordOnce(this.work, actor, this.waterings, key, async () => {
      const batch = await this.batches.find(batchId);
      const began = batch.occurredAt;
      const entered = dto.volume ? { volume: dto.volume } : {};
      return {
        siteId: batch.siteId,
        occurredAt: happenedSince(dto.occurredAt, this.clock.nowMs(), began, 'the batch was begun'),
        own: { volumeMl: volumeOf(dto), entered: JSON.stringify(entered), note: dto.note ?? null },
      };
    });
    return { replayed, body: wateringView(body) };
  }

  async void(actor: Actor, batchId: string, id: string, reason: string): Promise<WateringDto> {
    const { siteId } = await this.batches.find(batchId);
    return wateringView(await voidOnce(this.work, actor, this.waterings, { id, batchId, siteId, reason }));
  }
}

function volumeOf({ volume }: NewWateringDto): number | null {
  if (!volume) return null;
  const volumeMl = volumeToMl(volume);
  if (volumeMl === 0) throw invalid('/volume', 'is nothing; leave it out where it was not measured');
  return volumeMl;
}

function wateringView(row: WateringRow): WateringDto {
  const volumeL = row.volumeMl === null ? null : litresOf(row.volumeMl);
  return { ...notedEntryView(row), volumeL, entered: row.entered };
}
