import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, pageOf } from '../http/dto/paging.js';
import { happenedAt, happenedSince, instantOrNull } from '../http/dto/time.js';
import { invalid, notFound, Problem } from '../http/problems/catalogue.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import { voidedBefore } from '../http/writes/write-once.js';
import type {
  ComplaintDto,
  ComplaintsQuery,
  NewComplaintActionDto,
  NewComplaintDto,
} from './complaints.dto.js';
import { type ComplaintRow, ComplaintsRecords, type NewComplaint } from './complaints.records.js';
import { SiteFactsRecords } from './site-facts.records.js';

/** What neighbours complained of, and what was done about it: many permits ask for the log. */
@Injectable()
export class ComplaintsService {
  constructor(
    private readonly complaints: ComplaintsRecords,
    private readonly sites: SiteFactsRecords,
    private readonly clock: Clock,
  ) {}

  async record(actor: Actor, dto: NewComplaintDto): Promise<Recorded<ComplaintDto>> {
    const before = dto.id === undefined ? null : await this.complaints.find(dto.id);
    if (before) return sentBefore(before, dto);
    const complaint = await this.newComplaintOf(dto);
    const isNew = await this.complaints.keep(actor, complaint);
    const row = await this.find(complaint.id);
    return isNew ? { replayed: false, body: view(row) } : sentBefore(row, dto);
  }

  async list(actor: Actor, query: ComplaintsQuery): Promise<Page<ComplaintDto>> {
    const after = keyOf(query.cursor, 'instant', 'id');
    const rows = await this.complaints.page({
      sites: actor.sitesFor('operator', query.siteId),
      from: instantOrNull(query.from, '/from'),
      to: instantOrNull(query.to, '/to'),
      limit: query.limit,
      after: after && { occurredAt: String(after[0]), id: String(after[1]) },
    });
    return pageOf(rows, query.limit, (row) => [row.occurredAt.toISOString(), row.id], view);
  }

  async get(id: string): Promise<ComplaintDto> {
    return view(await this.find(id));
  }

  /** The complaint as it stands then. Refuses (409) what was taken back. */
  async act(actor: Actor, id: string, dto: NewComplaintActionDto): Promise<Recorded<ComplaintDto>> {
    const complaint = await this.find(id);
    if (await this.actedBefore(complaint.id, dto)) return { replayed: true, body: view(complaint) };
    const occurredAt = happenedSince(
      dto.occurredAt,
      this.clock.nowMs(),
      complaint.occurredAt,
      'what was complained of',
    );
    const action = { id: idOr(dto.id), complaintId: complaint.id, occurredAt, done: dto.done };
    if (await this.complaints.act(actor, { ...action, bodySha256: bodyDigest(dto) }))
      return { replayed: false, body: await this.get(id) };
    if (await this.actedBefore(complaint.id, dto)) return { replayed: true, body: await this.get(id) };
    throw new Problem('conflict', 'The complaint is voided.');
  }

  /** Sent again with the same reason it is answered as it stands. */
  async void(actor: Actor, id: string, reason: string): Promise<ComplaintDto> {
    const before = await this.find(id);
    if (!voidedBefore(before, reason) && !(await this.complaints.void(actor, id, reason)))
      voidedBefore(await this.find(id), reason);
    return this.get(id);
  }

  private async actedBefore(complaintId: string, dto: NewComplaintActionDto): Promise<boolean> {
    const kept = dto.id === undefined ? null : await this.complaints.action(dto.id);
    if (!kept) return false;
    if (kept.complaintId !== complaintId) throw new Problem('other-body');
    requireSameBody(kept.bodySha256, bodyDigest(dto));
    return true;
  }

  private async newComplaintOf(dto: NewComplaintDto): Promise<NewComplaint> {
    const { kind, about } = dto;
    const siteId = dto.siteId.toLowerCase();
    const occurredAt = happenedAt(dto.occurredAt, this.clock.nowMs());
    if (!(await this.sites.site(siteId))) throw invalid('/siteId', 'is no site of the programme');
    return { id: idOr(dto.id), siteId, occurredAt, kind, about, bodySha256: bodyDigest(dto) };
  }

  private async find(id: string): Promise<ComplaintRow> {
    const row = await this.complaints.find(id);
    if (!row) throw notFound('complaint');
    return row;
  }
}

function sentBefore(row: ComplaintRow, dto: NewComplaintDto): Recorded<ComplaintDto> {
  requireSameBody(row.bodySha256, bodyDigest(dto));
  return { replayed: true, body: view(row) };
}

function view({ bodySha256: _, ...row }: ComplaintRow): ComplaintDto {
  return {
    ...row,
    occurredAt: row.occurredAt.toISOString(),
    recordedAt: row.recordedAt.toISOString(),
    voidedAt: row.voidedAt?.toISOString() ?? null,
    actions: row.actions.map((action) => ({
      ...action,
      occurredAt: new Date(action.occurredAt).toISOString(),
      recordedAt: new Date(action.recordedAt).toISOString(),
    })),
  };
}
