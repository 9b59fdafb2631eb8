import { Injectable } from '@nestjs/common';
import { kgOf, massToG } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, pageOf } from '../http/dto/paging.js';
import { happenedAt, instantOrNull } from '../http/dto/time.js';
import { invalid, notFound, Problem } from '../http/problems/catalogue.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { requireShift } from './lots.service.js';
import { required } from './outcome.js';
import { reachOf } from './reach.js';
import { requireReferences } from './references.js';
import type { NewRefusalDto, RefusalDto, RefusalsQuery } from './refusals.dto.js';
import { type NewRefusal, type RefusalRow, RefusalsRecords } from './refusals.records.js';
import { ShiftsRecords } from './shifts.records.js';
import { UndoService } from './undo.service.js';

function refusalView(row: RefusalRow): RefusalDto {
  const { id, siteId, shiftId, material, contaminant, reason, entered, voidReason, recordedBy } = row;
  return {
    ...{ id, siteId, shiftId, material, contaminant, reason, entered, voidReason, recordedBy },
    occurredAt: row.occurredAt.toISOString(),
    massKg: row.massG === null ? null : kgOf(row.massG),
    voided: row.voidedAt !== null,
    recordedAt: row.recordedAt.toISOString(),
  };
}

/** Loads that were turned away. They are told of, and never part of what was taken in. */
@Injectable()
export class RefusalsService {
  constructor(
    private readonly refusals: RefusalsRecords,
    private readonly shifts: ShiftsRecords,
    private readonly sites: SiteFactsService,
    private readonly undo: UndoService,
    private readonly clock: Clock,
  ) {}

  async record(actor: Actor, dto: NewRefusalDto): Promise<Recorded<RefusalDto>> {
    const before = dto.id === undefined ? null : await this.refusals.find(dto.id);
    if (before) return sentBefore(before, dto);
    const refusal = await this.newRefusalOf(dto);
    const isNew = await this.refusals.keep(actor, refusal);
    const row = await this.find(refusal.id);
    return isNew ? { replayed: false, body: refusalView(row) } : sentBefore(row, dto);
  }

  private async newRefusalOf(dto: NewRefusalDto): Promise<NewRefusal> {
    const { material, contaminant, mass, reason } = dto;
    const siteId = dto.siteId.toLowerCase();
    const shiftId = dto.shiftId?.toLowerCase() ?? null;
    const occurredAt = happenedAt(dto.occurredAt, this.clock.nowMs());
    if (shiftId) requireShift((await this.shifts.facts([shiftId])).get(shiftId), siteId, occurredAt);
    const asked = [{ materialCode: material, atMs: occurredAt.getTime() }];
    requireReferences({ material }, required((await this.sites.forIntake(siteId, asked))[0]));
    const massG = mass === undefined ? null : massToG(mass);
    if (massG === 0) throw invalid('/mass', 'must be more than nothing; leave it out if it was not weighed');
    const entered = mass === undefined ? {} : { mass };
    const id = idOr(dto.id);
    const told = { material, contaminant, massG, reason, entered };
    return { id, siteId, shiftId, occurredAt, ...told, bodySha256: bodyDigest(dto) };
  }

  async list(actor: Actor, query: RefusalsQuery): Promise<Page<RefusalDto>> {
    const after = keyOf(query.cursor, 'instant', 'id');
    const rows = await this.refusals.page({
      siteId: query.siteId ?? null,
      shiftId: query.shiftId ?? null,
      from: instantOrNull(query.from, '/from'),
      to: instantOrNull(query.to, '/to'),
      reach: reachOf(actor),
      limit: query.limit,
      after: after && { occurredAt: String(after[0]), id: String(after[1]) },
    });
    return pageOf(rows, query.limit, (row) => [row.occurredAt.toISOString(), row.id], refusalView);
  }

  /** Sent again with the same reason it is answered as it stands. */
  async void(actor: Actor, id: string, reason: string): Promise<RefusalDto> {
    const before = await this.find(id);
    if (before.voidReason === reason && before.voidedBy === actor.personId) return refusalView(before);
    await this.undo.requireMayVoid(actor, before);
    const isNew = await this.refusals.void(actor, id, reason);
    const row = await this.find(id);
    if (!isNew && row.voidReason !== reason)
      throw new Problem('conflict', 'It was voided before, for another reason.');
    return refusalView(row);
  }

  private async find(id: string): Promise<RefusalRow> {
    const row = await this.refusals.find(id);
    if (!row) throw notFound('refusal');
    return row;
  }
}

function sentBefore(row: RefusalRow, dto: NewRefusalDto): Recorded<RefusalDto> {
  requireSameBody(row.bodySha256, bodyDigest(dto));
  return { replayed: true, body: refusalView(row) };
}
