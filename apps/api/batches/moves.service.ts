import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { happenedSince } from '../http/dto/time.js';
import { invalid, Problem } from '../http/problems/catalogue.js';
import type { Recorded } from '../http/writes/replay.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { type BayFacts, SiteFactsService } from '../sites/site-facts.service.js';
import type { NewMoveDto, StayDto } from './batches.dto.js';
import { BatchesRecords } from './batches.records.js';
import { BatchesService, type Stay } from './batches.service.js';
import { writeOnce } from '../http/writes/write-once.js';
import type { Stage } from './stages.js';
import { StaysRecords } from './stays.records.js';
import { stayView } from './views.js';

/** As for a turn in place: what is released lies still until it is emptied. */
const MOVABLE: readonly Stage[] = ['building', 'active', 'curing'];

interface Move {
  id: string;
  batchId: string;
  bay: BayFacts;
  at: Date;
}

@Injectable()
export class MovesService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly batches: BatchesService,
    private readonly records: BatchesRecords,
    private readonly stays: StaysRecords,
    private readonly sites: SiteFactsService,
  ) {}

  /** From bay to bay: ends the stay in one and begins the stay in the next, under whose id the move is kept. */
  async move(actor: Actor, batchId: string, dto: NewMoveDto): Promise<Recorded<StayDto>> {
    const id = idOr(dto.id);
    const replayed = await writeOnce(this.work, actor, {
      sentBefore: async () => {
        const kept = await this.stays.find(id);
        if (kept && !isSame(kept, batchId, dto)) throw new Problem('other-body');
        return kept !== null;
      },
      prepare: async () => {
        const batch = await this.batches.find(batchId);
        const bay = await this.sites.bay(batch.siteId, dto.bay);
        if (!bay) throw invalid('/bay', 'is no bay of that yard');
        const began = batch.occurredAt;
        const at = happenedSince(dto.occurredAt, this.clock.nowMs(), began, 'the batch was begun');
        return (write) => this.carry(write, { id, batchId, bay, at });
      },
    });
    const stay = await this.stays.find(id);
    if (!stay) throw new Error(`the stay ${id} is not there`);
    return { replayed, body: stayView(stay) };
  }

  /** Inside a write: the batch leaves the bay it lies in, if it lies in one. Refuses (422) before it came there. */
  async leave({ sql }: SqlWrite, batchId: string, at: Date): Promise<Stay | null> {
    const open = (await this.stays.ofBatch(batchId, sql)).find(({ toAt }) => toAt === null);
    if (!open) return null;
    if (at < open.fromAt)
      throw invalid('/occurredAt', `it came into bay ${open.bayCode} later, at ${open.fromAt.toISOString()}`);
    await this.stays.close(sql, batchId, at);
    return open;
  }

  private async carry(write: SqlWrite, { id, batchId, bay, at }: Move): Promise<boolean> {
    const { sql, actor } = write;
    await this.records.lock(sql, batchId);
    if (await this.stays.find(id, sql)) return false;
    const { stage, siteId } = await this.batches.find(batchId, sql);
    if (!MOVABLE.includes(stage)) throw new Problem('stage-closed', `The batch is ${stage}.`);
    const left = await this.leave(write, batchId, at);
    if (left?.bayCode === bay.code)
      throw invalid('/bay', 'is where it lies already; a turn in place is recorded as a turn');
    const stay = { id, batchId, bayId: bay.id, fromAt: at, recordedBy: actor.personId };
    if (!(await this.stays.insert(sql, stay))) return false;
    const detail = { from: left?.bayCode ?? null, to: bay.code };
    write.audit({ action: 'batch.moved', subjectKind: 'batch', subjectId: batchId, siteId, detail });
    return true;
  }
}

function isSame(kept: Stay, batchId: string, { bay, occurredAt }: NewMoveDto): boolean {
  const sameTime = occurredAt === undefined || Date.parse(occurredAt) === kept.fromAt.getTime();
  return kept.batchId === batchId && kept.bayCode === bay && sameTime;
}
