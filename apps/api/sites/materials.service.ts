import { Injectable } from '@nestjs/common';
import type { MaterialClass, Verification } from '#libs/materials';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { invalid, notFound } from '../http/problems/catalogue.js';
import { given } from '../http/writes/given.js';
import type { MaterialChangeDto, MaterialDto, NewMaterialDto } from './materials.dto.js';
import { type MaterialRow, MaterialsRecords } from './materials.records.js';
import { retirement } from '../http/writes/retirement.js';
import { SettingWork } from '../http/writes/setting-work.js';

const subject = (code: string) => ({ kind: 'material', id: code, siteId: null });

const figures = [
  'nitrogenPercentDry',
  'carbonToNitrogen',
  'moisturePercent',
  'bulkDensityKgM3',
] as const satisfies (keyof MaterialDto)[];

/** Few digits each, so the nearest double prints as it was typed. */
const numberOf = (figure: MaterialRow[(typeof figures)[number]]) => figure && figure.toNumber();

function materialView(row: MaterialRow): MaterialDto {
  return {
    code: row.code,
    name: row.name,
    class: row.class as MaterialClass,
    nitrogenPercentDry: numberOf(row.nitrogenPercentDry),
    carbonToNitrogen: numberOf(row.carbonToNitrogen),
    moisturePercent: numberOf(row.moisturePercent),
    bulkDensityKgM3: numberOf(row.bulkDensityKgM3),
    source: row.source,
    verification: row.verification as Verification,
    caution: row.caution,
    retired: row.retiredAt !== null,
    version: row.version,
  };
}

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
    const { code, name, class: materialClass, source, ...known } = dto;
    const required = { code, name, class: materialClass, source, verification: 'local' };
    return this.work.add(actor, subject(code), async (write) =>
      materialView(await this.materials.insert(write, { ...given(known), ...required })),
    );
  }

  async change(actor: Actor, code: string, version: number, dto: MaterialChangeDto): Promise<MaterialDto> {
    const before = await this.get(code);
    const { retired, ...columns } = dto;
    const figureChanged = figures.some(
      (figure) => dto[figure] !== undefined && dto[figure] !== before[figure],
    );
    if (figureChanged && dto.source === undefined) {
      throw invalid('/source', 'is needed: say where the new figures come from');
    }
    const change = {
      ...given(columns),
      ...retirement(retired, before.retired, this.clock.nowMs()),
      // What a publication was checked for is no longer what stands here.
      ...(figureChanged || dto.source !== undefined ? { verification: 'local' } : {}),
    };
    return this.work.change(actor, subject(code), version, before, async (write) =>
      materialView(await this.materials.change(write, code, version, change)),
    );
  }
}
