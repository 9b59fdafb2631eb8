import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { happenedSince } from '../http/dto/time.js';
import { invalid } from '../http/problems/catalogue.js';
import type { Recorded } from '../http/work/replay.js';
import { Work } from '../http/work/work.js';
import type { BatchDto, NewStageDto } from './batches.dto.js';
import { BatchesService, type BatchNow, type StageEntry } from './batches.service.js';
import { MovesService } from './moves.service.js';

@Injectable()
export class StagesService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly batches: BatchesService,
    private readonly moves: MovesService,
  ) {}

  /**
   * Enters the next stage. One that clears the place (emptied, condemned) ends the stay in the bay: a condemned batch
   * is carried off first. Sent again with the same time, it is answered as before.
   */
  async enter(actor: Actor, batchId: string, dto: NewStageDto): Promise<Recorded<BatchDto>> {
    const { to, reason = null } = dto;
    if (to === 'condemned' && reason === null) throw invalid('/reason', 'is needed to condemn a batch');
    const batch = await this.batches.find(batchId);
    const nowMs = this.clock.nowMs();
    const enteredAt = happenedSince(dto.occurredAt, nowMs, batch.occurredAt, 'the batch was begun');
    const entry = { stage: to, enteredAt, reason };
    const replayed = dto.occurredAt !== undefined && hasEntered(batch, entry);
    if (!replayed) {
      await this.work.writeSql(actor, async (write) => {
        await this.batches.enterStage(write, batchId, entry);
        if (to === 'emptied' || to === 'condemned') await this.moves.leave(write, batchId, enteredAt);
        const subject = { subjectKind: 'batch', subjectId: batchId, siteId: batch.siteId };
        write.audit({ action: 'batch.stage-entered', ...subject, detail: { from: batch.stage, to, reason } });
      });
    }
    return { replayed, body: await this.batches.get(batchId) };
  }
}

function hasEntered(batch: BatchNow, { stage, enteredAt, reason }: StageEntry): boolean {
  const kept = batch.stages.find((entry) => entry.stage === stage);
  return kept?.enteredAt.getTime() === enteredAt.getTime() && kept.reason === reason;
}
