import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { happenedSince } from '../http/dto/time.js';
import { invalid, Problem } from '../http/problems/catalogue.js';
import type { Recorded } from '../http/writes/replay.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { BatchFlowsService } from './batch-flows.service.js';
import type { BatchDto, NewStageDto } from './batches.dto.js';
import { BatchesRecords } from './batches.records.js';
import { BatchesService, type BatchNow, type StageEntry } from './batches.service.js';
import { MovesService } from './moves.service.js';

@Injectable()
export class StagesService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly batches: BatchesService,
    private readonly records: BatchesRecords,
    private readonly flows: BatchFlowsService,
    private readonly moves: MovesService,
  ) {}

  /**
   * Enters the next stage, never before what went in. One that clears the place (emptied, condemned) ends the stay in
   * the bay: a condemned batch is carried off first. Sent again with the same time, it is answered as before.
   */
  async enter(actor: Actor, batchId: string, dto: NewStageDto): Promise<Recorded<BatchDto>> {
    const { to, reason = null } = dto;
    if (to === 'condemned' && reason === null) throw invalid('/reason', 'is needed to condemn a batch');
    const batch = await this.batches.find(batchId);
    const nowMs = this.clock.nowMs();
    const asked = happenedSince(dto.occurredAt, nowMs, batch.occurredAt, 'the batch was begun');
    const isDated = dto.occurredAt !== undefined;
    const replayed = isDated && hasEntered(batch, { stage: to, enteredAt: asked, reason });
    if (!replayed) {
      await this.work.writeSql(actor, async (write) => {
        await this.records.lock(write.sql, batchId);
        const enteredAt = await this.afterInputs(write.sql, batchId, asked, isDated);
        await this.batches.enterStage(write, batchId, { stage: to, enteredAt, reason });
        if (to === 'emptied' || to === 'condemned') await this.moves.leave(write, batchId, enteredAt);
        const subject = { subjectKind: 'batch', subjectId: batchId, siteId: batch.siteId };
        write.audit({ action: 'batch.stage-entered', ...subject, detail: { from: batch.stage, to, reason } });
      });
    }
    return { replayed, body: await this.batches.get(batchId) };
  }

  /** Refuses (409) a time before the last input; where none was given, that input is waited for. */
  private async afterInputs(
    sql: SqlWrite['sql'],
    batchId: string,
    asked: Date,
    isDated: boolean,
  ): Promise<Date> {
    const last = await this.flows.lastInput(batchId, sql);
    if (!last || last.at <= asked) return asked;
    if (!isDated) return last.at;
    const detail = `is before ${last.what} of the batch, at ${last.at.toISOString()}`;
    throw new Problem('stage-order', `That ${detail}.`, [{ pointer: '/occurredAt', detail }]);
  }
}

function hasEntered(batch: BatchNow, { stage, enteredAt, reason }: StageEntry): boolean {
  const kept = batch.stages.find((entry) => entry.stage === stage);
  return kept?.enteredAt.getTime() === enteredAt.getTime() && kept.reason === reason;
}
