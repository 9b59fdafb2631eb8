import { Injectable } from '@nestjs/common';
import type { ProcessRule } from '#libs/process';
import type { Actor } from '../http/access/actor.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, pageOf } from '../http/dto/paging.js';
import { invalid, notFound } from '../http/problems/catalogue.js';
import { enteredOver, given } from '../http/writes/given.js';
import { MaterialsRecords } from './materials.records.js';
import { requireMixTargets } from './permit-mix-targets.js';
import { columnsOf, permitView, requireSound } from './permit-terms.js';
import type { NewPermitDto, PermitChangeDto, PermitDto } from './permits.dto.js';
import { PermitsRecords } from './permits.records.js';
import { ProcessRulesService } from './process-rules.service.js';
import { SettingWork } from '../http/writes/setting-work.js';
import { dateText, dayOf, type SiteThingsQuery } from './site-fields.js';
import { SitesService } from './sites.service.js';

const subject = (id: string, siteId: string) => ({ kind: 'permit', id, siteId });

const quantitiesOf = (dto: PermitChangeDto) => ({
  cureReheat: dto.cureReheat,
  storedVolumeMax: dto.storedVolumeMax,
  yearlyMassMax: dto.yearlyMassMax,
  weeklyMassMax: dto.weeklyMassMax,
});

@Injectable()
export class PermitsService {
  constructor(
    private readonly work: SettingWork,
    private readonly permits: PermitsRecords,
    private readonly materials: MaterialsRecords,
    private readonly sites: SitesService,
    private readonly rules: ProcessRulesService,
  ) {}

  async list(actor: Actor, query: SiteThingsQuery): Promise<Page<PermitDto>> {
    const key = keyOf(query.cursor, 'id', 'text');
    const after = key && { siteId: String(key[0]), validFrom: dayOf(String(key[1]), '/cursor') };
    const rows = await this.permits.page(actor.sitesFor('operator', query.siteId), query.limit, after);
    return pageOf(rows, query.limit, (row) => [row.siteId, dateText(row.validFrom)], permitView);
  }

  async get(id: string): Promise<PermitDto> {
    const row = await this.permits.find(id);
    if (!row) throw notFound('permit');
    return permitView(row);
  }

  async create(actor: Actor, dto: NewPermitDto): Promise<PermitDto> {
    const { siteId, reference, materials = [], furtherRules = [], mixTargets = [] } = dto;
    const { validFrom, validTo, processReading } = dto;
    const rule = await this.requireRules(dto.processRule, furtherRules);
    requireSound({ validFrom, validTo, processReading, furtherRules }, rule);
    await this.sites.requireSite(siteId);
    await this.requireMaterials(materials);
    requireMixTargets(mixTargets);
    const id = idOr(dto.id);
    const permit = {
      ...given(columnsOf(dto)),
      ...{ id, siteId, reference },
      validFrom: dayOf(dto.validFrom, '/validFrom'),
      entered: enteredOver({}, quantitiesOf(dto)),
    };
    return this.work.add(actor, subject(id, siteId), async (write) =>
      permitView(await this.permits.insert(write, permit, { materials, mixTargets })),
    );
  }

  async change(actor: Actor, id: string, version: number, dto: PermitChangeDto): Promise<PermitDto> {
    const before = await this.get(id);
    const { validFrom = before.validFrom, validTo = before.validTo } = dto;
    const { processRule = before.processRule, processReading = before.processReading } = dto;
    const { furtherRules = before.furtherRules } = dto;
    const rule = await this.requireRules(processRule, furtherRules);
    requireSound({ validFrom, validTo, processReading, furtherRules }, rule);
    const { materials, mixTargets } = dto;
    await this.requireMaterials(materials ?? []);
    requireMixTargets(mixTargets ?? []);
    const columns = { ...given(columnsOf(dto)), entered: enteredOver(before.entered, quantitiesOf(dto)) };
    return this.work.change(actor, subject(id, before.siteId), version, before, async (write) =>
      permitView(await this.permits.change(write, id, version, columns, { materials, mixTargets })),
    );
  }

  /** The process rule, where one is named. Refuses codes that nobody knows. */
  private async requireRules(
    code: string | null | undefined,
    further: readonly string[],
  ): Promise<ProcessRule | null> {
    const rule = code ? await this.rules.require(code, '/processRule') : null;
    for (const [index, one] of further.entries()) await this.rules.require(one, `/furtherRules/${index}`);
    return rule;
  }

  private async requireMaterials(codes: readonly string[]): Promise<void> {
    const known = new Set(await this.materials.known(codes));
    const index = codes.findIndex((code) => !known.has(code));
    if (index >= 0) throw invalid(`/materials/${index}`, 'is no material of the programme');
  }
}
