import { Injectable } from '@nestjs/common';
import { kgOf, litresOf, massToG, volumeToMl } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { type Page, pageOf } from '../http/dto/paging.js';
import { notFound } from '../http/problems/catalogue.js';
import type {
  ContainerChangeDto,
  ContainerDto,
  ContainerEntered,
  NewContainerDto,
} from './containers.dto.js';
import { type ContainerRow, ContainersRecords } from './containers.records.js';
import { enteredOver, given } from '../http/writes/given.js';
import { retirement } from '../http/writes/retirement.js';
import { SettingWork } from '../http/writes/setting-work.js';
import { moreThanNothing, siteKeyOf, type SiteThingsQuery } from './site-fields.js';
import { SitesService } from './sites.service.js';

const subject = (id: string, siteId: string) => ({ kind: 'container', id, siteId });

function containerView(row: ContainerRow): ContainerDto {
  const { id, siteId, code, version } = row;
  return {
    ...{ id, siteId, code },
    tareKg: kgOf(row.tareG),
    volumeL: row.volumeMl === null ? null : litresOf(Number(row.volumeMl)),
    retired: row.retiredAt !== null,
    entered: row.entered as ContainerEntered,
    version,
  };
}

function measured({ tare, volume }: ContainerChangeDto) {
  return given({
    tareG: tare && massToG(tare),
    volumeMl: volume && moreThanNothing(volumeToMl(volume), '/volume'),
  });
}

@Injectable()
export class ContainersService {
  constructor(
    private readonly work: SettingWork,
    private readonly clock: Clock,
    private readonly containers: ContainersRecords,
    private readonly sites: SitesService,
  ) {}

  async list(actor: Actor, query: SiteThingsQuery): Promise<Page<ContainerDto>> {
    const sites = actor.sitesFor('volunteer', query.siteId);
    const rows = await this.containers.page(sites, query.limit, siteKeyOf(query.cursor));
    return pageOf(rows, query.limit, (row) => [row.siteId, row.code], containerView);
  }

  async get(id: string): Promise<ContainerDto> {
    const row = await this.containers.find(id);
    if (!row) throw notFound('container');
    return containerView(row);
  }

  async create(actor: Actor, dto: NewContainerDto): Promise<ContainerDto> {
    const { siteId, code, tare, volume } = dto;
    await this.sites.requireSite(siteId);
    const id = idOr(dto.id);
    const columns = { ...measured(dto), tareG: massToG(tare), entered: enteredOver({}, { tare, volume }) };
    return this.work.add(actor, subject(id, siteId), async (write) =>
      containerView(await this.containers.insert(write, { id, siteId, code, ...columns })),
    );
  }

  async change(actor: Actor, id: string, version: number, dto: ContainerChangeDto): Promise<ContainerDto> {
    const before = await this.get(id);
    const { code, tare, volume } = dto;
    const change = {
      ...given({ code }),
      ...measured(dto),
      ...retirement(dto.retired, before.retired, this.clock.nowMs()),
      entered: enteredOver(before.entered, { tare, volume }),
    };
    return this.work.change(actor, subject(id, before.siteId), version, before, async (write) =>
      containerView(await this.containers.change(write, id, version, change)),
    );
  }
}
