import { Injectable } from '@nestjs/common';
import { kgOf } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, pageOf } from '../http/dto/paging.js';
import { happenedAt, happenedSince } from '../http/dto/time.js';
import { notFound, Problem } from '../http/problems/catalogue.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import { PermitUseService } from '../sites/permit-use.service.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { required } from './outcome.js';
import { reachOf } from './reach.js';
import { requireReferences } from './references.js';
import type { CloseShiftDto, NewShiftDto, OpenedShiftDto, ShiftDto, ShiftsQuery } from './shifts.dto.js';
import { type NewShift, type ShiftRow, ShiftsRecords } from './shifts.records.js';

function shiftView(row: ShiftRow): ShiftDto {
  const { id, siteId, closedBy, instrumentId, note, closingNote, lots, refusals, countedLots } = row;
  return {
    ...{ id, siteId, closedBy, instrumentId, note, closingNote, lots, refusals, countedLots },
    openedAt: row.openedAt.toISOString(),
    openedBy: row.recordedBy,
    closedAt: row.closedAt?.toISOString() ?? null,
    acceptedKg: kgOf(row.acceptedG),
    rejectedKg: kgOf(row.rejectedG),
    estimatedShare: row.acceptedG === 0 ? null : row.estimatedG / row.acceptedG,
    countAgrees: countedLots === null ? null : countedLots === lots,
    recordedAt: row.recordedAt.toISOString(),
  };
}

@Injectable()
export class ShiftsService {
  constructor(
    private readonly shifts: ShiftsRecords,
    private readonly sites: SiteFactsService,
    private readonly permits: PermitUseService,
    private readonly clock: Clock,
  ) {}

  /** With what is to be seen to under the permit before the hub takes in more. */
  async open(actor: Actor, dto: NewShiftDto): Promise<Recorded<OpenedShiftDto>> {
    const { replayed, body } = await this.opened(actor, dto);
    const { warnings } = await this.permits.of(body.siteId, this.clock.nowMs());
    return { replayed, body: Object.assign(body, { warnings }) };
  }

  private async opened(actor: Actor, dto: NewShiftDto): Promise<Recorded<ShiftDto>> {
    const before = await this.sentBefore(dto);
    if (before) return { replayed: true, body: shiftView(before) };
    const shift = await this.newShiftOf(dto);
    let opened = false;
    try {
      opened = await this.shifts.open(actor, shift);
    } catch (error) {
      // A copy sent at the same moment may meet the rule of one open shift a site before it meets its own id.
      if (!(await this.sentBefore(dto))) throw error;
    }
    const row = await this.find(shift.id);
    requireSameBody(row.bodySha256, shift.bodySha256);
    return { replayed: !opened, body: shiftView(row) };
  }

  private async newShiftOf(dto: NewShiftDto): Promise<NewShift> {
    const siteId = dto.siteId.toLowerCase();
    const { instrumentId, note = null } = dto;
    const openedAt = happenedAt(dto.occurredAt, this.clock.nowMs());
    const [facts] = await this.sites.forIntake(siteId, [{ instrumentId, atMs: openedAt.getTime() }]);
    requireReferences({ instrumentId }, required(facts));
    const id = idOr(dto.id);
    return { id, siteId, openedAt, instrumentId: instrumentId ?? null, note, bodySha256: bodyDigest(dto) };
  }

  private async sentBefore(dto: NewShiftDto): Promise<ShiftRow | null> {
    const row = dto.id === undefined ? null : await this.shifts.find(dto.id);
    if (row) requireSameBody(row.bodySha256, bodyDigest(dto));
    return row;
  }

  async list(actor: Actor, query: ShiftsQuery): Promise<Page<ShiftDto>> {
    const after = keyOf(query.cursor, 'instant', 'id');
    const rows = await this.shifts.page({
      siteId: query.siteId ?? null,
      open: query.open === undefined ? null : query.open === 'true',
      reach: reachOf(actor),
      limit: query.limit,
      after: after && { openedAt: String(after[0]), id: String(after[1]) },
    });
    return pageOf(rows, query.limit, (row) => [row.openedAt.toISOString(), row.id], shiftView);
  }

  async get(actor: Actor, id: string): Promise<ShiftDto> {
    const row = await this.find(id);
    const isOwn =
      row.closedAt === null || actor.personId === row.recordedBy || actor.personId === row.closedBy;
    if (!isOwn && !actor.mayAt('operator', row.siteId)) {
      throw new Problem(
        'not-allowed',
        'A volunteer sees the shift that is open and those they opened or closed.',
      );
    }
    return shiftView(row);
  }

  /** Any volunteer of the site closes it: whoever locks up counts. Sent again as it was, it is answered as it stands. */
  async close(actor: Actor, id: string, dto: CloseShiftDto): Promise<ShiftDto> {
    const { openedAt } = await this.find(id);
    const { countedLots, note = null, occurredAt } = dto;
    const closedAt = happenedSince(occurredAt, this.clock.nowMs(), openedAt, 'the shift was opened');
    const closed = await this.shifts.close(actor, { id, closedAt, countedLots, note });
    const row = await this.find(id);
    const isSame =
      row.countedLots === countedLots &&
      row.closingNote === note &&
      (occurredAt === undefined || row.closedAt?.getTime() === closedAt.getTime());
    if (!closed && !isSame) throw new Problem('shift-closed', 'It was closed before, with another count.');
    return shiftView(row);
  }

  private async find(id: string): Promise<ShiftRow> {
    const row = await this.shifts.find(id);
    if (!row) throw notFound('shift');
    return row;
  }
}
