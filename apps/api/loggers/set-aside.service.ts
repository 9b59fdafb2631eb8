import { Injectable } from '@nestjs/common';
import type { SetAside } from '#libs/process';
import { dayMs } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import type { Device } from '../http/access/device.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, pageOf } from '../http/dto/paging.js';
import { happenedAt } from '../http/dto/time.js';
import { initialsOf } from '../http/initials.js';
import { invalid, notFound, Problem } from '../http/problems/catalogue.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import { type AnyWrite, Work } from '../http/writes/work.js';
import { voidedBefore, writeOnce } from '../http/writes/write-once.js';
import { DeviceKeysService } from './device-keys.service.js';
import type { NewSetAsideDto, SetAsideDto, SetAsideQuery } from './set-aside.dto.js';
import { type NewSetAside, SetAsideRecords, type SetAsideRow } from './set-aside.records.js';

const LONGEST_MS = 7 * dayMs;

/** Spans of readings that count for nothing. The database refuses what is of a batch whose record is closed. */
@Injectable()
export class SetAsideService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly records: SetAsideRecords,
    private readonly devices: DeviceKeysService,
  ) {}

  async list(actor: Actor, { deviceId, limit, cursor }: SetAsideQuery): Promise<Page<SetAsideDto>> {
    const asked = { deviceId, sites: actor.sitesFor('operator') };
    const rows = await this.records.page(asked, limit, keyOf(cursor, 'instant', 'id'));
    return pageOf(rows, limit, ({ fromAt, id }) => [fromAt.toISOString(), id], view);
  }

  async record(actor: Actor, dto: NewSetAsideDto): Promise<Recorded<SetAsideDto>> {
    const id = idOr(dto.id);
    const bodySha256 = bodyDigest(dto);
    const device = await this.devices.named(actor, 'operator', dto.deviceId);
    const replayed = await writeOnce(this.work, actor, {
      sentBefore: async () => {
        const kept = await this.records.find(id);
        if (kept) requireSameBody(kept.bodySha256, bodySha256);
        return kept !== null;
      },
      prepare: async () => {
        const span = spanOf(dto, this.clock.nowMs());
        const targetId = await this.targetOf(device, dto);
        const { position = null, reason } = dto;
        const setAside = { id, deviceId: device.id, targetId, position, ...span, reason, bodySha256 };
        return async (write) => {
          if (!(await this.records.insert(write, setAside))) return false;
          note(write, 'logger-readings.set-aside', device, setAside);
          return true;
        };
      },
    });
    return { replayed, body: view(await this.row(id)) };
  }

  /** Sent again with the same reason, it is answered as it stands. */
  async void(actor: Actor, id: string, reason: string): Promise<SetAsideDto> {
    await writeOnce(this.work, actor, {
      sentBefore: async () => {
        const kept = await this.row(id);
        if (!actor.mayAt('manager', kept.siteId)) throw new Problem('other-site');
        return voidedBefore(kept, reason);
      },
      prepare: async () => {
        const kept = await this.row(id);
        const device = await this.devices.device(kept.deviceId);
        return async (write) => {
          if (!(await this.records.void(write, id, reason))) return false;
          note(write, 'logger-readings.set-aside-voided', device, { ...kept, reason });
          return true;
        };
      },
    });
    return view(await this.row(id));
  }

  /** What stands of all that was told of a batch up to and with `throughMs`. Inside a transaction, give its `sql`. */
  async ofBatch(batchId: string, throughMs: number, sql?: AnyWrite['sql']): Promise<SetAside[]> {
    const setAside = await this.records.ofBatch(batchId, new Date(throughMs + 1), sql);
    return setAside.map((each) => ({ ...each, by: initialsOf(each.by) }));
  }

  private async row(id: string): Promise<SetAsideRow> {
    const row = await this.records.find(id);
    if (!row) throw notFound('set-aside');
    return row;
  }

  /** Null: all that the device tells of. Refuses a bay, batch or probe that is none of its own. */
  private async targetOf({ id, code }: Device, { bay, batchId, position }: NewSetAsideDto) {
    if (bay !== undefined && batchId !== undefined) throw invalid('/batchId', 'goes without a bay');
    const targets = (await this.records.targets(id)).filter(
      (target) =>
        (bay === undefined || target.bay === bay) &&
        (batchId === undefined || target.batchId === batchId.toLowerCase()),
    );
    const [first] = targets;
    if (!first) throw invalid(bay === undefined ? '/batchId' : '/bay', `is none that ${code} tells of`);
    if (position !== undefined && !targets.some(({ positions }) => positions.includes(position))) {
      throw invalid('/position', `is no probe that ${code} told of there`);
    }
    return bay === undefined && batchId === undefined ? null : first.id;
  }
}

function spanOf({ from, to }: NewSetAsideDto, nowMs: number): Pick<NewSetAside, 'fromAt' | 'toAt'> {
  const span = { fromAt: happenedAt(from, nowMs, '/from'), toAt: happenedAt(to, nowMs, '/to') };
  const lastsMs = span.toAt.getTime() - span.fromAt.getTime();
  if (lastsMs <= 0) throw invalid('/to', 'is not later than its beginning');
  if (lastsMs > LONGEST_MS) throw invalid('/to', 'is more than 7 days later: that is no turn of a pile');
  return span;
}

function note(
  write: AnyWrite,
  action: string,
  device: Device,
  { id, position, fromAt, toAt, reason }: Pick<NewSetAside, 'id' | 'position' | 'fromAt' | 'toAt' | 'reason'>,
): void {
  const span = { from: fromAt.toISOString(), to: toAt.toISOString() };
  write.audit({
    ...{ action, subjectKind: 'set-aside', subjectId: id, siteId: device.siteId },
    detail: { device: device.code, position, ...span, reason },
  });
}

function view(row: SetAsideRow): SetAsideDto {
  const { id, deviceId, bay, batchId, position, reason, readings, recordedBy, voidReason } = row;
  return {
    ...{ id, deviceId, bay, batchId, position, reason, readings, recordedBy, voidReason },
    from: row.fromAt.toISOString(),
    to: row.toAt.toISOString(),
    recordedAt: row.recordedAt.toISOString(),
    voidedAt: row.voidedAt?.toISOString() ?? null,
  };
}
