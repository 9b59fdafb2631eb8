import { Injectable } from '@nestjs/common';
import { kgOf, sumG } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { CLOCKS_APART_MS, happenedSince, instantMs } from '../http/dto/time.js';
import { invalid, notFound, Problem } from '../http/problems/catalogue.js';
import type { Recorded } from '../http/writes/replay.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import type {
  AllUnassignedDto,
  AssignedDto,
  AssignmentDto,
  AssignmentItemDto,
  NewAssignmentsDto,
} from './assignments.dto.js';
import { type Item, itemsOf, massWithin, requireLot, stillToAssign } from './assignment-rules.js';
import { type AssignmentRow, AssignmentsRecords, type From, type HaulOfLots } from './assignments.records.js';
import { BatchesRecords } from './batches.records.js';
import { BatchesService, type BatchNow } from './batches.service.js';
import { writeOnce, voidedBefore } from '../http/writes/write-once.js';

/**
 * Puts drop-offs into a batch while it is being built. The manager of the yard takes what the yard received, and lots of
 * every hub at which they are an operator at least; lots of other hubs are refused (403), as is a lot that is not there (422)
 * and one that is on the road, at another yard or with somebody else (409).
 */
@Injectable()
export class AssignmentsService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly batches: BatchesService,
    private readonly records: BatchesRecords,
    private readonly assignments: AssignmentsRecords,
    private readonly sites: SiteFactsService,
  ) {}

  async list(batchId: string, query: PageQuery): Promise<Page<AssignmentDto>> {
    const after = keyOf(query.cursor, 'instant', 'id');
    const from = after && { occurredAt: String(after[0]), id: String(after[1]) };
    const rows = await this.assignments.page(batchId, query.limit, from);
    return pageOf(rows, query.limit, (row) => [row.occurredAt.toISOString(), row.id], view);
  }

  async assign(actor: Actor, batchId: string, dto: NewAssignmentsDto): Promise<Recorded<AssignedDto>> {
    const batch = await this.batches.find(batchId);
    const began = batch.occurredAt;
    const at = happenedSince(dto.occurredAt, this.clock.nowMs(), began, 'the batch was begun');
    if (dto.items && !dto.allUnassigned) return this.byHand(actor, batch, at, dto.items);
    if (dto.allUnassigned && !dto.items) return this.everything(actor, batch, at, dto.allUnassigned);
    throw invalid('/items', 'send either items or allUnassigned');
  }

  async void(actor: Actor, batchId: string, id: string, reason: string): Promise<AssignmentDto> {
    const kept = async (): Promise<AssignmentRow> => {
      const [row] = await this.assignments.byIds([id]);
      if (row?.batchId !== batchId) throw notFound('assignment');
      return row;
    };
    await writeOnce(this.work, actor, {
      sentBefore: async () => voidedBefore(await kept(), reason),
      prepare: async () => {
        const { siteId } = await this.batches.find(batchId);
        return async (write) => {
          if (!(await this.assignments.void(write.sql, id, actor.personId, reason))) return false;
          const detail = { batchId, reason };
          write.audit({
            action: 'assignment.voided',
            subjectKind: 'assignment',
            subjectId: id,
            siteId,
            detail,
          });
          return true;
        };
      },
    });
    return view(await kept());
  }

  private async byHand(
    actor: Actor,
    batch: BatchNow,
    at: Date,
    dtos: readonly AssignmentItemDto[],
  ): Promise<Recorded<AssignedDto>> {
    const items = itemsOf(dtos);
    const ids = items.map(({ id }) => id);
    const replayed = await writeOnce(this.work, actor, {
      sentBefore: async () => stillToAssign(items, await this.assignments.byIds(ids), batch.id).length === 0,
      prepare: async () => {
        const lots = await this.assignments.lots(items.map(({ dropOffId }) => dropOffId));
        const into = { yardId: batch.siteId, at };
        items.forEach((item, index) => requireLot(actor, lots.get(item.dropOffId), into, index));
        const hubs = [...lots.values()].map(({ siteId }) => siteId);
        return (write) => this.take(write, batch, at, items, hubs);
      },
    });
    const rows = new Map((await this.assignments.byIds(ids)).map((row) => [row.id, row]));
    const kept = ids.flatMap((id) => rows.get(id) ?? []);
    const massKg = kgOf(sumG(kept.map(({ massG }) => massG)));
    return { replayed, body: { lots: kept.length, massKg, items: kept.map(view) } };
  }

  private async take(
    write: SqlWrite,
    batch: BatchNow,
    occurredAt: Date,
    items: readonly Item[],
    hubs: readonly string[],
  ): Promise<boolean> {
    const { sql, actor } = write;
    await this.records.requireBuilding(sql, batch.id);
    await this.assignments.lockLotsAt(sql, [...hubs, batch.siteId]);
    const kept = await this.assignments.byIds(
      items.map(({ id }) => id),
      sql,
    );
    const wanted = stillToAssign(items, kept, batch.id);
    if (wanted.length === 0) return false;
    const lots = await this.assignments.lots(
      wanted.map(({ dropOffId }) => dropOffId),
      sql,
    );
    const taken = wanted.map((item) => {
      const massG = massWithin(item, lots.get(item.dropOffId), items.indexOf(item));
      return { id: item.id, dropOffId: item.dropOffId, massG };
    });
    const into = { batchId: batch.id, yardId: batch.siteId, occurredAt, personId: actor.personId };
    await this.assignments.insert(sql, into, taken);
    noteAssigned(write, batch, { lots: taken.length, massG: sumG(taken.map(({ massG }) => massG)) });
    return true;
  }

  /** Which lots are meant, and the hubs that they came in at. */
  private async comingFrom(
    actor: Actor,
    { siteId: yardId }: BatchNow,
    { siteIds, haulIds }: AllUnassignedDto,
  ): Promise<{ from: From; hubs: string[] }> {
    const pointer = '/allUnassigned/siteIds';
    if ((siteIds === undefined) === (haulIds === undefined))
      throw invalid(pointer, 'send either siteIds or haulIds');
    if (haulIds) return this.hauled(haulIds, yardId);
    if (!siteIds || siteIds.length === 0) throw invalid(pointer, 'must name a hub');
    const hubs = siteIds.map((id) => id.toLowerCase());
    for (const hub of hubs) {
      if (!actor.mayAt('operator', hub)) throw new Problem('other-site', 'You are no operator at that hub.');
      await this.sites.site(hub);
    }
    return { from: { siteIds: hubs }, hubs };
  }

  private async hauled(ids: readonly string[], yardId: string): Promise<{ from: From; hubs: string[] }> {
    if (ids.length === 0) throw invalid('/allUnassigned/haulIds', 'must name a haul');
    const haulIds = ids.map((id) => id.toLowerCase());
    const known = await this.assignments.hauls(haulIds);
    const hauls = haulIds.map((id, index) => requireReceived(known.get(id), yardId, index));
    return { from: { haulIds }, hubs: hauls.map(({ siteId }) => siteId) };
  }

  private async everything(
    actor: Actor,
    batch: BatchNow,
    occurredAt: Date,
    dto: AllUnassignedDto,
  ): Promise<Recorded<AssignedDto>> {
    const upTo = dto.upTo === undefined ? occurredAt : new Date(instantMs(dto.upTo, '/allUnassigned/upTo'));
    if (upTo.getTime() > occurredAt.getTime() + CLOCKS_APART_MS)
      throw invalid('/allUnassigned/upTo', 'is later than the assignment, which is now unless it says so');
    const { from, hubs } = await this.comingFrom(actor, batch, dto);
    const into = { batchId: batch.id, yardId: batch.siteId, occurredAt, personId: actor.personId };
    const until = { upTo, receivedBy: new Date(occurredAt.getTime() + CLOCKS_APART_MS) };
    const { lots, massG } = await this.work.writeSql(actor, async (write) => {
      await this.records.requireBuilding(write.sql, batch.id);
      await this.assignments.lockLotsAt(write.sql, [...hubs, batch.siteId]);
      const assigned = await this.assignments.insertAllUnassigned(write.sql, into, from, until);
      noteAssigned(write, batch, { ...assigned, hubs, ...from, upTo: upTo.toISOString() });
      return assigned;
    });
    return { replayed: lots === 0, body: { lots, massKg: kgOf(massG) } };
  }
}

/** Refuses (409) a haul that lies anywhere but at the yard of the batch. */
function requireReceived(haul: HaulOfLots | undefined, yardId: string, index: number): HaulOfLots {
  const pointer = `/allUnassigned/haulIds/${index}`;
  if (!haul || haul.toSiteId !== yardId) throw invalid(pointer, 'is no haul to the yard of this batch');
  const detail = haul.voided ? 'is voided' : 'is on the road: receive it first';
  if (haul.voided || !haul.receivedAt)
    throw new Problem('drop-off-not-here', `The haul ${detail}.`, [{ pointer, detail }]);
  return haul;
}

function noteAssigned(write: SqlWrite, batch: BatchNow, detail: Record<string, unknown>): void {
  const subject = { subjectKind: 'batch', subjectId: batch.id, siteId: batch.siteId };
  write.audit({ action: 'batch.drop-offs-assigned', ...subject, detail });
}

function view(row: AssignmentRow): AssignmentDto {
  return {
    id: row.id,
    batchId: row.batchId,
    dropOffId: row.dropOffId,
    siteId: row.siteId,
    material: row.materialCode,
    basis: row.basis,
    massKg: kgOf(row.massG),
    occurredAt: row.occurredAt.toISOString(),
    recordedAt: row.recordedAt.toISOString(),
    recordedBy: row.recordedBy,
    voidedAt: row.voidedAt?.toISOString() ?? null,
    voidReason: row.voidReason,
  };
}
