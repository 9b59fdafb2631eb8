import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { CLOCKS_APART_MS, happenedAt, instantMs } from '../http/dto/time.js';
import { invalid, notFound, Problem } from '../http/problems/catalogue.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { voidedBefore, writeOnce } from '../http/writes/write-once.js';
import { type SiteFacts, SiteFactsService } from '../sites/site-facts.service.js';
import type { DropOffDto } from './drop-offs.dto.js';
import { DropOffsRecords } from './drop-offs.records.js';
import { lotView } from './drop-offs.view.js';
import { type HaulWeight, weightOf } from './haul-amount.js';
import type { HaulDto, HaulsQuery, NewExplanationDto, NewHaulDto } from './hauls.dto.js';
import { type HaulRow, HaulsRecords, type LotToHaul, type NewHaul } from './hauls.records.js';
import { haulView } from './hauls.view.js';
import { reachOf } from './reach.js';
import { UndoService } from './undo.service.js';

/** Which lots go: those named, or all that wait up to a time. */
type Taking = { dropOffIds: string[] } | { upTo: Date };

/** Containers that leave a hub. What they hold is on the road until a yard receives it, or somebody else's from then on. */
@Injectable()
export class HaulsService {
  constructor(
    private readonly work: Work,
    private readonly hauls: HaulsRecords,
    private readonly dropOffs: DropOffsRecords,
    private readonly sites: SiteFactsService,
    private readonly undo: UndoService,
    private readonly clock: Clock,
  ) {}

  async record(actor: Actor, dto: NewHaulDto): Promise<Recorded<HaulDto>> {
    const id = idOr(dto.id);
    const replayed = await writeOnce(this.work, actor, {
      sentBefore: async () => {
        const kept = await this.hauls.find(id);
        if (kept) requireSameBody(kept.bodySha256, bodyDigest(dto));
        return kept !== null;
      },
      prepare: async () => {
        const hub = await this.sites.site(dto.siteId.toLowerCase());
        const haul = await this.newHaulOf(id, hub, dto);
        const taking = takingOf(dto.lots, haul.occurredAt);
        return (write) => this.keep(write, hub, haul, taking);
      },
    });
    return { replayed, body: haulView(await this.find(id)) };
  }

  async list(actor: Actor, query: HaulsQuery): Promise<Page<HaulDto>> {
    const after = keyOf(query.cursor, 'instant', 'id');
    const rows = await this.hauls.page({
      siteId: query.siteId?.toLowerCase() ?? null,
      hubs: actor.sitesFor('volunteer'),
      yards: actor.sitesFor('operator'),
      open: query.open === 'true',
      limit: query.limit,
      after: after && { occurredAt: String(after[0]), id: String(after[1]) },
    });
    return pageOf(rows, query.limit, (row) => [row.occurredAt.toISOString(), row.id], haulView);
  }

  async get(actor: Actor, id: string): Promise<HaulDto> {
    return haulView(await this.reached(actor, id));
  }

  /** The lots themselves, the newest first: all of them to whoever is operator at either end, their own to a volunteer. */
  async lots(actor: Actor, haulId: string, { limit, cursor }: PageQuery): Promise<Page<DropOffDto>> {
    const { siteId: hubId, toSiteId } = await this.reached(actor, haulId);
    const seesAll = [hubId, toSiteId].some((id) => id !== null && actor.mayAt('operator', id));
    const after = keyOf(cursor, 'instant', 'id');
    const reach = seesAll ? { personId: actor.personId, all: null, own: null } : reachOf(actor);
    const rows = await this.dropOffs.page({
      ...{
        siteId: null,
        shiftId: null,
        from: null,
        to: null,
        unassigned: false,
        haulId,
        reach,
        limit,
      },
      after: after && { occurredAt: String(after[0]), id: String(after[1]) },
    });
    return pageOf(rows, limit, (row) => [row.occurredAt.toISOString(), row.id], lotView);
  }

  /** Its lots lie at the hub again. Sent again with the same reason it is answered as it stands. */
  async void(actor: Actor, id: string, reason: string): Promise<HaulDto> {
    const before = await this.find(id);
    if (voidedBefore(before, reason)) return haulView(before);
    await this.undo.requireMayVoid(actor, { ...before, shiftId: null });
    if (!(await this.hauls.void(actor, id, reason))) voidedBefore(await this.find(id), reason);
    return haulView(await this.find(id));
  }

  async explain(actor: Actor, haulId: string, dto: NewExplanationDto): Promise<Recorded<HaulDto>> {
    const haul = await this.reached(actor, haulId);
    const id = idOr(dto.id);
    const again = await this.explainedBefore(haulId, id, dto);
    // Read anew: what was sent at the same moment may have been kept since.
    if (again) return { replayed: true, body: haulView(await this.find(haulId)) };
    if (haul.voidedAt) throw new Problem('conflict', 'The haul is voided.');
    const isNew = await this.hauls.explain(actor, haulId, id, dto.explanation, bodyDigest(dto));
    if (!isNew) await this.explainedBefore(haulId, id, dto);
    return { replayed: !isNew, body: haulView(await this.find(haulId)) };
  }

  private async explainedBefore(haulId: string, id: string, dto: NewExplanationDto): Promise<boolean> {
    const kept = await this.hauls.explanation(id);
    if (!kept) return false;
    if (kept.haulId !== haulId) throw new Problem('other-body');
    requireSameBody(kept.bodySha256, bodyDigest(dto));
    return true;
  }

  /** A haul is of its hub and of the yard that it goes to. */
  private async reached(actor: Actor, id: string): Promise<HaulRow> {
    const haul = await this.find(id);
    const { siteId, toSiteId } = haul;
    if (actor.mayAt('volunteer', siteId)) return haul;
    if (toSiteId !== null && actor.mayAt('operator', toSiteId)) return haul;
    throw new Problem('other-site');
  }

  private async find(id: string): Promise<HaulRow> {
    const haul = await this.hauls.find(id);
    if (!haul) throw notFound('haul');
    return haul;
  }

  private async newHaulOf(id: string, hub: SiteFacts, dto: NewHaulDto): Promise<NewHaul> {
    const { elsewhere = null, note = null, containers = [] } = dto;
    const toSiteId = dto.toSiteId?.toLowerCase() ?? null;
    if (!hub.takesDropOffs) throw invalid('/siteId', 'takes no drop-offs');
    if ((toSiteId === null) === (elsewhere === null))
      throw invalid('/toSiteId', 'send either toSiteId or elsewhere');
    if (toSiteId === hub.id) throw invalid('/toSiteId', 'is the hub itself: what lies there needs no haul');
    if (toSiteId !== null) await this.requireYard(toSiteId);
    const occurredAt = happenedAt(dto.occurredAt, this.clock.nowMs());
    const asked = containers.map(({ containerId }) => ({ containerId, atMs: occurredAt.getTime() }));
    const known = (await this.sites.forIntake(hub.id, asked)).map(({ container }) => container);
    const weight: HaulWeight = weightOf(dto, known, [hub.id, toSiteId ?? hub.id]);
    const bodySha256 = bodyDigest(dto);
    return { id, siteId: hub.id, toSiteId, elsewhere, occurredAt, weight, note, bodySha256 };
  }

  private async requireYard(siteId: string): Promise<void> {
    const yard = await this.sites.site(siteId).catch((error: unknown) => {
      if (error instanceof Problem) throw invalid('/toSiteId', 'is no site of the programme');
      throw error;
    });
    if (!yard.runsBatches) throw invalid('/toSiteId', 'runs no batches');
  }

  private async keep(write: SqlWrite, hub: SiteFacts, haul: NewHaul, taking: Taking): Promise<boolean> {
    const { sql } = write;
    await this.hauls.lockLotsAt(sql, [hub.id]);
    if (!(await this.hauls.insert(write, haul))) return false;
    const lots = await this.take(write, hub, haul, taking);
    const { toSiteId, elsewhere, weight } = haul;
    const detail = { toSiteId, elsewhere, lots, outG: weight.massG };
    write.audit({ action: 'haul.recorded', subjectKind: 'haul', subjectId: haul.id, siteId: hub.id, detail });
    return true;
  }

  private async take({ sql }: SqlWrite, hub: SiteFacts, haul: NewHaul, taking: Taking): Promise<number> {
    if ('upTo' in taking) {
      const lots = await this.hauls.takeAllWaiting(sql, haul.id, hub.id, taking.upTo);
      if (lots === 0) throw invalid('/lots/allWaiting', `nothing waited at ${hub.code} then`);
      return lots;
    }
    const known = await this.hauls.lots(sql, taking.dropOffIds);
    taking.dropOffIds.forEach((id, index) => requireGoes(known.get(id), haul, `/lots/dropOffIds/${index}`));
    await this.hauls.take(sql, haul.id, taking.dropOffIds);
    return taking.dropOffIds.length;
  }
}

function takingOf({ dropOffIds, allWaiting }: NewHaulDto['lots'], occurredAt: Date): Taking {
  if ((dropOffIds === undefined) === (allWaiting === undefined))
    throw invalid('/lots', 'must be one of dropOffIds and allWaiting');
  if (dropOffIds) {
    if (dropOffIds.length === 0) throw invalid('/lots/dropOffIds', 'must name a drop-off');
    const ids = dropOffIds.map((id) => id.toLowerCase());
    const twice = ids.findIndex((id, index) => ids.indexOf(id) < index);
    if (twice >= 0) throw invalid(`/lots/dropOffIds/${twice}`, 'is named twice');
    return { dropOffIds: ids };
  }
  if (allWaiting?.upTo === undefined) return { upTo: occurredAt };
  const upTo = new Date(instantMs(allWaiting.upTo, '/lots/allWaiting/upTo'));
  if (upTo.getTime() > occurredAt.getTime() + CLOCKS_APART_MS)
    throw invalid('/lots/allWaiting/upTo', 'is later than the haul, which is now unless it says so');
  return { upTo };
}

function requireGoes(lot: LotToHaul | undefined, { siteId, occurredAt }: NewHaul, pointer: string): void {
  if (lot?.siteId !== siteId) throw invalid(pointer, 'is no drop-off of that hub');
  const refused = (code: 'drop-off-voided' | 'drop-off-not-here' | 'conflict', detail: string) =>
    new Problem(code, `A drop-off ${detail}.`, [{ pointer, detail }]);
  if (lot.voided) throw refused('drop-off-voided', 'is voided');
  if (lot.haulId !== null) throw refused('drop-off-not-here', 'went with another haul');
  if (lot.assignedG > 0) throw refused('conflict', 'is in a batch already, and goes whole or not at all');
  if (lot.occurredAt.getTime() > occurredAt.getTime() + CLOCKS_APART_MS)
    throw invalid(pointer, `was dropped off later than the haul left, at ${lot.occurredAt.toISOString()}`);
}
