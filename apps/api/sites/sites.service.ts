import { Injectable } from '@nestjs/common';
import { litresOf, volumeToMl } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { invalid, notFound } from '../http/problems/catalogue.js';
import { enteredOver, given } from '../http/writes/given.js';
import { JurisdictionsRecords } from './jurisdictions.records.js';
import { SettingWork } from '../http/writes/setting-work.js';
import { dateText, dayOf, moreThanNothing } from './site-fields.js';
import type { BayEntered, NewBayDto, NewSiteDto, SiteChangeDto, SiteDto } from './sites.dto.js';
import { type NewBay, type SiteRow, SitesRecords } from './sites.records.js';

const subject = (id: string) => ({ kind: 'site', id, siteId: id });

function siteView(row: SiteRow): SiteDto {
  const { id, code, name, takesDropOffs, runsBatches, timeZone, jurisdictionId, publicRecords, version } =
    row;
  return {
    ...{ id, code, name, takesDropOffs, runsBatches, timeZone, jurisdictionId, publicRecords },
    openedOn: row.openedOn && dateText(row.openedOn),
    bays: row.bays.map((bay) => ({
      id: bay.id,
      code: bay.code,
      capacityL: bay.capacityMl === null ? null : litresOf(Number(bay.capacityMl)),
      entered: bay.entered as BayEntered,
    })),
    version,
  };
}

function bayOf({ code, capacity }: NewBayDto, pointer: string): NewBay {
  if (!capacity) return { code, capacityMl: null, entered: {} };
  const capacityMl = moreThanNothing(volumeToMl(capacity), `${pointer}/capacity`);
  return { code, capacityMl, entered: enteredOver({}, { capacity }) };
}

function requirePurpose(site: { takesDropOffs: boolean; runsBatches: boolean }): void {
  if (site.takesDropOffs || site.runsBatches) return;
  throw invalid('/takesDropOffs', 'a site takes drop-offs, runs batches or both');
}

@Injectable()
export class SitesService {
  constructor(
    private readonly work: SettingWork,
    private readonly sites: SitesRecords,
    private readonly jurisdictions: JurisdictionsRecords,
  ) {}

  async list(actor: Actor, query: PageQuery): Promise<Page<SiteDto>> {
    const after = keyOf(query.cursor, 'text');
    const rows = await this.sites.page(actor.sitesFor('volunteer'), query.limit, after && String(after[0]));
    return pageOf(rows, query.limit, (row) => [row.code], siteView);
  }

  async get(id: string): Promise<SiteDto> {
    const row = await this.sites.find(id);
    if (!row) throw notFound('site');
    return siteView(row);
  }

  /** Refuses a body whose `siteId` names nothing. */
  async requireSite(id: string): Promise<void> {
    if (!(await this.sites.find(id))) throw invalid('/siteId', 'is no site of the programme');
  }

  async create(actor: Actor, { bays = [], ...dto }: NewSiteDto): Promise<SiteDto> {
    requirePurpose(dto);
    await this.requirePlace(dto);
    const codes = bays.map((bay) => bay.code);
    const twice = codes.findIndex((code, index) => codes.indexOf(code) !== index);
    if (twice >= 0) throw invalid(`/bays/${twice}/code`, 'is the code of a bay before it');
    const id = idOr(dto.id);
    const site = { ...dto, id, openedOn: dto.openedOn ? dayOf(dto.openedOn, '/openedOn') : null };
    const newBays = bays.map((bay, index) => bayOf(bay, `/bays/${index}`));
    return this.work.add(actor, subject(id), async (write) =>
      siteView(await this.sites.insert(write, site, newBays)),
    );
  }

  async change(actor: Actor, id: string, version: number, dto: SiteChangeDto): Promise<SiteDto> {
    const before = await this.get(id);
    const change = given(dto);
    const { takesDropOffs = before.takesDropOffs, runsBatches = before.runsBatches } = dto;
    requirePurpose({ takesDropOffs, runsBatches });
    await this.requirePlace(change);
    const { openedOn } = change;
    const columns = {
      ...change,
      ...(openedOn === undefined
        ? {}
        : { openedOn: openedOn === null ? null : dayOf(openedOn, '/openedOn') }),
    };
    return this.work.change(actor, subject(id), version, before, async (write) =>
      siteView(await this.sites.change(write, id, version, columns)),
    );
  }

  async addBay(actor: Actor, id: string, dto: NewBayDto): Promise<SiteDto> {
    const before = await this.get(id);
    const bay = bayOf(dto, '');
    return this.work.change(actor, subject(id), before.version, before, async (write) =>
      siteView(await this.sites.addBay(write, id, bay)),
    );
  }

  private async requirePlace(place: { timeZone?: string; jurisdictionId?: string }): Promise<void> {
    const { timeZone, jurisdictionId } = place;
    if (timeZone !== undefined && !(isZone(timeZone) && (await this.sites.knowsZone(timeZone)))) {
      throw invalid('/timeZone', 'is no time zone that is known here');
    }
    if (jurisdictionId !== undefined && !(await this.jurisdictions.find(jurisdictionId))) {
      throw invalid('/jurisdictionId', 'is no jurisdiction of the programme');
    }
  }
}

/** Both must know a zone: this program for verdicts, the database for the days of a report. */
function isZone(name: string): boolean {
  try {
    return Boolean(new Intl.DateTimeFormat('en', { timeZone: name }));
  } catch {
    return false;
  }
}
