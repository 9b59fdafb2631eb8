import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import type { Page, PageQuery } from '../http/dto/paging.js';
import { happenedSince } from '../http/dto/time.js';
import { notedEntryView } from '../http/writes/entry-view.js';
import { logPage, recordOnce, voidOnce } from '../http/writes/batch-log.js';
import { bodyDigest, type Recorded } from '../http/writes/replay.js';
import { Work } from '../http/writes/work.js';
import { BatchesService } from '../batches/batches.service.js';
import { TurnsRecords } from './turns.records.js';
import type { NewTurnDto, TurnDto } from './work.dto.js';

@Injectable()
export class TurnsService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly turns: TurnsRecords,
    private readonly batches: BatchesService,
  ) {}

  list(batchId: string, query: PageQuery): Promise<Page<TurnDto>> {
    return logPage(this.turns, batchId, query, notedEntryView);
  }

  async record(actor: Actor, batchId: string, dto: NewTurnDto): Promise<Recorded<TurnDto>> {
    const key = { id: idOr(dto.id), batchId, bodySha256: bodyDigest(dto) };
    const { replayed, body } = await recordOnce(this.work, actor, this.turns, key, async () => {
      const batch = await this.batches.find(batchId);
      const began = batch.occurredAt;
      return {
        siteId: batch.siteId,
        occurredAt: happenedSince(dto.occurredAt, this.clock.nowMs(), began, 'the batch was begun'),
        own: { note: dto.note ?? null },
      };
    });
    return { replayed, body: notedEntryView(body) };
  }

  async void(actor: Actor, batchId: string, id: string, reason: string): Promise<TurnDto> {
    const { siteId } = await this.batches.find(batchId);
    return notedEntryView(await voidOnce(this.work, actor, this.turns, { id, batchId, siteId, reason }));
  }
}
