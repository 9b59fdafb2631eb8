import { Injectable } from '@nestjs/common';
import type { FlowBasis } from '#libs/accounting';
import { v7 } from 'uuid';
import { kgOf, massToG } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, pageOf, type PageQuery } from '../http/dto/paging.js';
import { happenedSince } from '../http/dto/time.js';
import { invalid, Problem } from '../http/problems/catalogue.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { writeOnce } from '../http/writes/write-once.js';
import { BatchFlowsService } from './batch-flows.service.js';
import { BatchesRecords, type BatchRow } from './batches.records.js';
import { BatchesService, type BatchNow, type Stage } from './batches.service.js';
import type { MergeDto, NewMergeDto } from './merges.dto.js';
import { type MergeRow, MergesRecords } from './merges.records.js';
import { PileMeasurementsRecords } from './pile-measurements.records.js';
import { enteredPile, type MeasuredPile, measuredPile } from './pile-size.js';

type Sql = SqlWrite['sql'];

export type { MergeRow };

/** Of another stage nothing is left that could be put anywhere. */
const WORKED: readonly Stage[] = ['building', 'active', 'curing'];

interface Merging {
  id: string;
  dto: NewMergeDto;
  digest: Buffer;
  taker: BatchNow;
  giver: BatchRow;
}

interface Amount {
  basis: FlowBasis;
  massG: number;
  /** As JSON. */
  entered: string;
  /** The pile it was reckoned from. */
  measured: MeasuredPile | null;
}

/** All that lies there of a batch goes into another of the yard: docs/accounting.md §4. */
@Injectable()
export class MergesService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly batches: BatchesService,
    private readonly records: BatchesRecords,
    private readonly flows: BatchFlowsService,
    private readonly merges: MergesRecords,
    private readonly piles: PileMeasurementsRecords,
  ) {}

  /** Merges into a batch and of it, the latest first. */
  async list(batchId: string, { limit, cursor }: PageQuery): Promise<Page<MergeDto>> {
    const rows = await this.merges.page(batchId, limit, keyOf(cursor, 'instant', 'id'));
    return pageOf(rows, limit, (row) => [row.occurredAt.toISOString(), row.id], view);
  }

  /** Every merge that led into a batch; of each batch among them, what came in stands before where it went. */
  tree(batchId: string, sql?: Sql): Promise<MergeRow[]> {
    return this.merges.tree(batchId, sql);
  }

  async merge(actor: Actor, batchId: string, dto: NewMergeDto): Promise<Recorded<MergeDto>> {
    const id = idOr(dto.id);
    const digest = bodyDigest(dto);
    const replayed = await writeOnce(this.work, actor, {
      sentBefore: async () => {
        const kept = await this.merges.find(id);
        if (!kept) return false;
        if (kept.batchId !== batchId) throw new Problem('other-body');
        requireSameBody(kept.bodySha256, digest);
        return true;
      },
      prepare: async () => {
        const taker = await this.batches.find(batchId);
        const giver = await this.giverOf(taker, dto);
        return (write) => this.put(write, { id, dto, digest, taker, giver });
      },
    });
    const row = await this.merges.find(id);
    if (!row) throw new Error(`the merge ${id} is not there`);
    return { replayed, body: view(row) };
  }

  private async giverOf(taker: BatchNow, { fromBatchId }: NewMergeDto): Promise<BatchRow> {
    const giver = await this.records.find(fromBatchId);
    if (!giver) throw invalid('/fromBatchId', 'is no batch');
    if (giver.id === taker.id) throw invalid('/fromBatchId', 'is this batch itself');
    if (giver.siteId !== taker.siteId) throw invalid('/fromBatchId', 'is a batch of another yard');
    return giver;
  }

  private async put(write: SqlWrite, merging: Merging): Promise<boolean> {
    const { sql, actor } = write;
    const { id, dto, digest, taker, giver } = merging;
    await this.merges.lock(sql, taker.id, giver.id);
    if (await this.merges.find(id, sql)) return false;
    const occurredAt = await this.timeOf(sql, dto, taker, giver);
    const { measured, ...amount } = await this.amountOf(sql, dto, giver);
    await this.keepPile(write, merging, occurredAt, measured);
    const pair = { batchId: taker.id, fromBatchId: giver.id };
    const merge = { id, ...pair, occurredAt, ...amount, note: dto.note ?? null, bodySha256: digest };
    if (!(await this.merges.insert(sql, merge, actor.personId))) return false;
    const { siteId } = taker;
    const detail = { mergeId: id, fromBatchId: giver.id, massG: amount.massG, basis: amount.basis };
    write.audit({ action: 'batch.merged-in', subjectKind: 'batch', subjectId: taker.id, siteId, detail });
    const closed = { from: giver.stage, to: 'merged', into: taker.id };
    const gone = { subjectKind: 'batch', subjectId: giver.id, siteId };
    write.audit({ action: 'batch.stage-entered', ...gone, detail: closed });
    return true;
  }

  /**
   * Not before either batch was begun, nor before what is recorded of the one that goes, which ends here; where no time was
   * given, that is waited for.
   */
  private async timeOf(sql: Sql, dto: NewMergeDto, taker: BatchNow, giver: BatchNow): Promise<Date> {
    const began = taker.occurredAt > giver.occurredAt ? taker.occurredAt : giver.occurredAt;
    const asked = happenedSince(dto.occurredAt, this.clock.nowMs(), began, 'both batches were begun');
    const { stage, stageEnteredAt } = await this.batches.find(giver.id, sql);
    if (!WORKED.includes(stage)) throw new Problem('stage-closed', `${giver.code} is ${stage}.`);
    const last = await this.flows.lastRecord(giver.id, sql);
    const [latest] = [
      { what: `${giver.code} was ${stage}`, at: stageEnteredAt },
      ...(last ? [last] : []),
    ].sort((a, b) => b.at.getTime() - a.at.getTime());
    if (!latest || latest.at <= asked) return asked;
    if (dto.occurredAt === undefined) return latest.at;
    const detail = `is before ${latest === last ? `${latest.what} of ${giver.code}` : latest.what}, at ${latest.at.toISOString()}`;
    throw invalid('/occurredAt', detail);
  }

  private async amountOf(sql: Sql, dto: NewMergeDto, giver: BatchNow): Promise<Amount> {
    const leftG = await this.merges.leftG(giver.id, sql);
    if (leftG <= 0) throw new Problem('conflict', `By the records nothing lies there of ${giver.code}.`);
    const told = toldOf(dto);
    if (told === null) return { basis: 'records', massG: leftG, entered: '{}', measured: null };
    const { pointer, ...amount } = told;
    if (amount.massG === 0) throw invalid(pointer, 'must be more than nothing');
    if (amount.massG <= leftG) return amount;
    const text = `${kgOf(amount.massG)} kg would be merged of ${giver.code}, of which the records leave ${kgOf(leftG)} kg.`;
    throw new Problem('balance-exceeded', text, [{ pointer, detail: text }]);
  }

  /** A pile that was measured for a merge is a measurement of its batch like any other. */
  private async keepPile(
    write: SqlWrite,
    { dto, digest, giver }: Merging,
    occurredAt: Date,
    measured: MeasuredPile | null,
  ): Promise<void> {
    if (!measured || !dto.pile) return;
    const key = { id: v7(), batchId: giver.id, bodySha256: digest, occurredAt };
    const entered = JSON.stringify(enteredPile(dto.pile));
    await this.piles.insert(write, key, { ...measured, note: null, entered });
    const about = { subjectKind: this.piles.kind, subjectId: key.id, siteId: giver.siteId };
    const detail = { batchId: giver.id, occurredAt: occurredAt.toISOString() };
    write.audit({ action: `${this.piles.kind}.recorded`, ...about, detail });
  }
}

function toldOf({ mass, pile }: NewMergeDto): (Amount & { pointer: string }) | null {
  if (mass && pile) throw invalid('/pile', 'goes without a mass: send one of the two');
  if (mass) {
    const entered = JSON.stringify({ mass });
    return { pointer: '/mass', basis: 'scale', massG: massToG(mass), entered, measured: null };
  }
  if (!pile) return null;
  const measured = measuredPile(pile, '/pile');
  if (measured.massG === null) throw invalid('/pile/density', 'is needed: a volume alone has no mass');
  const entered = JSON.stringify({ pile });
  return { pointer: '/pile', basis: 'volume', massG: measured.massG, entered, measured };
}

function view(row: MergeRow): MergeDto {
  const { id, batchId, fromBatchId, basis, note, entered, recordedBy } = row;
  return {
    ...{ id, batchId, batch: row.batchCode, fromBatchId, fromBatch: row.fromBatchCode },
    occurredAt: row.occurredAt.toISOString(),
    ...{ basis, massKg: kgOf(row.massG), note, entered },
    recordedAt: row.recordedAt.toISOString(),
    recordedBy,
  };
}
