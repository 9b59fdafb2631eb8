import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { notFound } from '../http/problems/catalogue.js';
import { given } from '../http/writes/given.js';
import { retirement } from '../http/writes/retirement.js';
import { SettingWork } from '../http/writes/setting-work.js';
import { figureChangesOf, requirePossible } from './material-terms.js';
import { inOrder, materialView } from './material-view.js';
import type { MaterialChangeDto, MaterialDto, NewMaterialDto } from './materials.dto.js';
import { MaterialsRecords } from './materials.records.js';

const subject = (code: string) => ({ kind: 'material', id: code, siteId: null });

@Injectable()
export class MaterialsService {
  constructor(
    private readonly work: SettingWork,
    private readonly clock: Clock,
    private readonly materials: MaterialsRecords,
  ) {}

  async list(query: PageQuery): Promise<Page<MaterialDto>> {
    const after = keyOf(query.cursor, 'text');
    const rows = await this.materials.page(query.limit, after && String(after[0]));
    return pageOf(rows, query.limit, (row) => [row.code], materialView);
  }

  async get(code: string): Promise<MaterialDto> {
    const row = await this.materials.find(code);
    if (!row) throw notFound('material');
    return materialView(row);
  }

  async create(actor: Actor, dto: NewMaterialDto): Promise<MaterialDto> {
    const { code, name, class: materialClass, kind = 'organic', caution = null, wasteCategory = null } = dto;
    const figures = figureChangesOf(dto);
    requirePossible(kind, {}, figures);
    const traits = inOrder(dto.traits ?? []);
    const columns = { code, name, class: materialClass, kind, traits, caution, wasteCategory };
    return this.work.add(actor, subject(code), async (write) =>
      materialView(await this.materials.insert(write, columns, figures)),
    );
  }

  async change(actor: Actor, code: string, version: number, dto: MaterialChangeDto): Promise<MaterialDto> {
    const before = await this.get(code);
    const { name, class: materialClass, kind, caution, wasteCategory, retired } = dto;
    const figures = figureChangesOf(dto);
    // What stood before these rules may stay as it is until somebody touches it.
    const touched = Object.keys(figures).length > 0 || kind !== undefined;
    if (touched) requirePossible(kind ?? before.kind, before, figures);
    const change = {
      ...given({ name, class: materialClass, kind, caution, wasteCategory }),
      ...given({ traits: dto.traits && inOrder(dto.traits) }),
      ...retirement(retired, before.retired, this.clock.nowMs()),
    };
    return this.work.change(actor, subject(code), version, before, async (write) =>
      materialView(await this.materials.change(write, code, version, change, figures)),
    );
  }
}
