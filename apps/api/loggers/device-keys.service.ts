import { createHash, randomBytes } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import type { Actor, SiteRole } from '../http/access/actor.js';
import { DEVICE_KEY_PREFIX, type Device, DeviceAuthenticator } from '../http/access/device.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, pageOf } from '../http/dto/paging.js';
import { type Fault, invalid, notFound, Problem } from '../http/problems/catalogue.js';
import { Work } from '../http/writes/work.js';
import { writeOnce } from '../http/writes/write-once.js';
import { BatchesService } from '../batches/batches.service.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import type { DeviceKeyDto, DeviceKeyQuery, NewDeviceKeyDto, NewKeyDto } from './device-keys.dto.js';
import { DeviceKeysRecords, type DeviceRow, type Targets } from './device-keys.records.js';

const KEY_BYTES = 32;

const digest = (key: string) => createHash('sha256').update(key).digest();

@Injectable()
export class DeviceKeysService extends DeviceAuthenticator {
  constructor(
    private readonly work: Work,
    private readonly devices: DeviceKeysRecords,
    private readonly sites: SiteFactsService,
    private readonly batches: BatchesService,
  ) {
    super();
  }

  override deviceOf(key: string): Promise<Device | null> {
    return this.devices.deviceOf(digest(key));
  }

  /** A device, revoked ones included; refuses (404) when there is none. */
  device(id: string): Promise<Device> {
    return this.row(id);
  }

  /** The device that a body names as `deviceId`, at a site where the actor holds `role`: 422 or 403 otherwise. */
  async named(actor: Actor, role: SiteRole, deviceId: string): Promise<Device> {
    const device = await this.devices.find(deviceId.toLowerCase());
    if (!device) throw invalid('/deviceId', 'is no logger of the programme');
    if (!actor.mayAt(role, device.siteId)) throw new Problem('other-site');
    return device;
  }

  async list(actor: Actor, { siteId, limit, cursor }: DeviceKeyQuery): Promise<Page<DeviceKeyDto>> {
    const sites = actor.sitesFor('manager', siteId);
    const [after] = keyOf(cursor, 'id') ?? [null];
    const rows = await this.devices.page(sites, limit, after === null ? null : String(after));
    return pageOf(rows, limit, ({ id }) => [id], deviceView);
  }

  async create(actor: Actor, dto: NewDeviceKeyDto): Promise<NewKeyDto> {
    const { code, name = null } = dto;
    const siteId = dto.siteId.toLowerCase();
    const id = idOr(dto.id);
    const instrumentId = await this.instrumentOf(siteId, dto);
    const targets = await this.targetsOf(siteId, dto);
    const key = `${DEVICE_KEY_PREFIX}${randomBytes(KEY_BYTES).toString('base64url')}`;
    const device = { id, siteId, code, name, instrumentId, keySha256: digest(key) };
    await this.work.writeSql(actor, async (write) => {
      await this.devices.insert(write, device, targets);
      const { bays = [], batchIds = [] } = dto;
      const detail = { code, name, instrumentId, bays, batchIds };
      write.audit({ action: 'device-key.made', subjectKind: 'device-key', subjectId: id, siteId, detail });
    });
    return Object.assign(deviceView(await this.row(id)), { key });
  }

  /** Revoked twice, it is answered as it stands. */
  async revoke(actor: Actor, id: string): Promise<DeviceKeyDto> {
    await writeOnce(this.work, actor, {
      sentBefore: async () => (await this.row(id)).revokedAt !== null,
      prepare: async () => {
        const { siteId, code } = await this.row(id);
        return async (write) => {
          if (!(await this.devices.revoke(write, id))) return false;
          const about = { subjectKind: 'device-key', subjectId: id, siteId, detail: { code } };
          write.audit({ action: 'device-key.revoked', ...about });
          return true;
        };
      },
    });
    return deviceView(await this.row(id));
  }

  private async row(id: string): Promise<DeviceRow> {
    const row = await this.devices.find(id);
    if (!row) throw notFound('device');
    return row;
  }

  private async instrumentOf(siteId: string, { instrumentId }: NewDeviceKeyDto): Promise<string | null> {
    if (instrumentId === undefined) return null;
    const [known] = await this.sites.thermometers(siteId, [instrumentId.toLowerCase()]);
    if (known === undefined) throw invalid('/instrumentId', 'is no thermometer of the site');
    return known;
  }

  private async targetsOf(siteId: string, { bays = [], batchIds = [] }: NewDeviceKeyDto): Promise<Targets> {
    if (bays.length + batchIds.length === 0) throw invalid('/bays', 'name a bay or a batch at least');
    requireOnce(bays, 'bays');
    requireOnce(batchIds, 'batchIds');
    const targets: Targets = { bayIds: [], batchIds: [] };
    for (const [index, code] of bays.entries()) {
      const bay = await this.sites.bay(siteId, code);
      if (!bay) throw invalid(`/bays/${index}`, 'is no bay of the site');
      targets.bayIds.push(bay.id);
    }
    for (const [index, batchId] of batchIds.entries()) {
      targets.batchIds.push(await this.batchOf(siteId, batchId.toLowerCase(), `/batchIds/${index}`));
    }
    await this.requireUnclaimed(siteId, bays);
    return targets;
  }

  private async batchOf(siteId: string, batchId: string, pointer: string): Promise<string> {
    const batch = await this.batches.find(batchId).catch((error: unknown) => {
      if (error instanceof Problem && error.code === 'not-found') return null;
      throw error;
    });
    if (batch?.siteId !== siteId) throw invalid(pointer, 'is no batch of the site');
    if (!['building', 'active', 'curing'].includes(batch.stage)) {
      throw invalid(pointer, `${batch.code} is ${batch.stage}: nothing is recorded of it any more`);
    }
    return batch.id;
  }

  private async requireUnclaimed(siteId: string, bays: readonly string[]): Promise<void> {
    const claims = await this.devices.claims(siteId, bays);
    const faults: Fault[] = claims.map(({ bay, device }) => ({
      pointer: `/bays/${bays.indexOf(bay)}`,
      detail: `${device} tells of bay ${bay}: revoke its key first`,
    }));
    if (faults.length > 0) throw new Problem('bay-claimed', faults[0]?.detail, faults);
  }
}

function requireOnce(values: readonly string[], field: string): void {
  const index = values.findIndex((value, at) => values.indexOf(value) < at);
  if (index >= 0) throw invalid(`/${field}/${index}`, 'was named before');
}

function deviceView(row: DeviceRow): DeviceKeyDto {
  const { id, siteId, code, name, instrumentId, bays, batches, recordedBy } = row;
  return {
    ...{ id, siteId, code, name, instrumentId, bays, batches, recordedBy },
    recordedAt: row.recordedAt.toISOString(),
    revokedAt: row.revokedAt?.toISOString() ?? null,
    lastReadingAt: row.lastReadingAt?.toISOString() ?? null,
  };
}
