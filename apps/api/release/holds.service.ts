import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { happenedSince } from '../http/dto/time.js';
import { notFound, Problem } from '../http/problems/catalogue.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { writeOnce } from '../http/writes/write-once.js';
import { BatchesService } from '../batches/batches.service.js';
import type { HoldDto, NewHoldDto } from './holds.dto.js';
import { type HoldRow, HoldsRecords, type NewHold } from './holds.records.js';

type Sql = SqlWrite['sql'];

export type { HoldRow };

/** What stops a batch: while a hold stands nothing of it is released, handed out or put into another batch. */
@Injectable()
export class HoldsService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly holds: HoldsRecords,
    private readonly batches: BatchesService,
  ) {}

  /** The hold that stands; null where there is none. Inside a transaction, give its `sql`. */
  standing(batchId: string, sql?: Sql): Promise<HoldRow | null> {
    return this.holds.standing(batchId, sql);
  }

  /** Refuses (409) while a hold stands: no reason overrides it. */
  async requireNone(batchId: string, sql?: Sql): Promise<void> {
    const hold = await this.holds.standing(batchId, sql);
    if (hold) throw new Problem('batch-on-hold', `${holdInWords(hold)} Lift the hold first.`);
  }

  async list(batchId: string, { limit, cursor }: PageQuery): Promise<Page<HoldDto>> {
    const rows = await this.holds.page(batchId, limit, keyOf(cursor, 'instant', 'id'));
    return pageOf(rows, limit, (row) => [row.occurredAt.toISOString(), row.id], view);
  }

  async hold(actor: Actor, batchId: string, dto: NewHoldDto): Promise<Recorded<HoldDto>> {
    const key = { id: idOr(dto.id), batchId, bodySha256: bodyDigest(dto) };
    const replayed = await writeOnce(this.work, actor, {
      sentBefore: async () => {
        const kept = await this.holds.find(key.id);
        if (kept === null) return false;
        if (kept.batchId !== batchId) throw new Problem('other-body');
        requireSameBody(kept.bodySha256, key.bodySha256);
        return true;
      },
      prepare: async () => {
        const { siteId, stage, stages } = await this.batches.find(batchId);
        if (stage === 'merged') {
          throw new Problem('stage-closed', 'All of it was put into another batch: that is the one to hold.');
        }
        const began = stages[0]?.enteredAt ?? new Date(0);
        const occurredAt = happenedSince(dto.occurredAt, this.clock.nowMs(), began, 'the batch was begun');
        return (write) => this.insert(write, siteId, { ...key, occurredAt, reason: dto.reason });
      },
    });
    return { replayed, body: await this.get(key.id) };
  }

  async lift(actor: Actor, batchId: string, id: string, reason: string): Promise<HoldDto> {
    const { siteId } = await this.batches.find(batchId);
    await writeOnce(this.work, actor, {
      sentBefore: async () => {
        const kept = await this.holds.find(id);
        if (kept?.batchId !== batchId) throw notFound('hold');
        return liftedBefore(kept, reason);
      },
      prepare: () =>
        Promise.resolve(async (write) => {
          if (!(await this.holds.lift(write, id, reason))) return false;
          const detail = { batchId, reason };
          write.audit({ action: 'hold.lifted', subjectKind: 'hold', subjectId: id, siteId, detail });
          return true;
        }),
    });
    return this.get(id);
  }

  private async insert(write: SqlWrite, siteId: string, hold: NewHold): Promise<boolean> {
    if (!(await this.holds.insert(write, hold))) return false;
    const { id, batchId, occurredAt, reason } = hold;
    const detail = { batchId, occurredAt: occurredAt.toISOString(), reason };
    write.audit({ action: 'hold.recorded', subjectKind: 'hold', subjectId: id, siteId, detail });
    return true;
  }

  private async get(id: string): Promise<HoldDto> {
    const row = await this.holds.find(id);
    if (!row) throw new Error(`the hold ${id} is not there`);
    return view(row);
  }
}

/** What a hold is, in a sentence. */
export function holdInWords({ reason }: Pick<HoldRow, 'reason'>): string {
  return `The batch is on hold, and nothing of it may leave: ${/[.!?]$/.test(reason) ? reason : `${reason}.`}`;
}

/** True when it was lifted for this very reason, as one sent twice is; refuses (409) any other second lift. */
function liftedBefore({ liftedAt, liftReason }: HoldRow, reason: string): boolean {
  if (liftedAt === null) return false;
  if (liftReason !== reason) throw new Problem('conflict', 'It was lifted before, for another reason.');
  return true;
}

function view({ bodySha256: _, ...row }: HoldRow): HoldDto {
  return {
    ...row,
    occurredAt: row.occurredAt.toISOString(),
    recordedAt: row.recordedAt.toISOString(),
    liftedAt: row.liftedAt?.toISOString() ?? null,
  };
}
