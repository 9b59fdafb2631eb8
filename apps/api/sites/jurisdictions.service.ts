import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { notFound } from '../http/problems/catalogue.js';
import { given } from '../http/writes/given.js';
import type { JurisdictionChangeDto, JurisdictionDto, NewJurisdictionDto } from './jurisdictions.dto.js';
import { JurisdictionsRecords } from './jurisdictions.records.js';
import { SettingWork } from '../http/writes/setting-work.js';

const subject = (id: string) => ({ kind: 'jurisdiction', id, siteId: null });

@Injectable()
export class JurisdictionsService {
  constructor(
    private readonly work: SettingWork,
    private readonly jurisdictions: JurisdictionsRecords,
  ) {}

  async list(query: PageQuery): Promise<Page<JurisdictionDto>> {
    const after = keyOf(query.cursor, 'text');
    const rows = await this.jurisdictions.page(query.limit, after && String(after[0]));
    return pageOf(
      rows,
      query.limit,
      (row) => [row.name],
      (row) => row,
    );
  }

  async get(id: string): Promise<JurisdictionDto> {
    const row = await this.jurisdictions.find(id);
    if (!row) throw notFound('jurisdiction');
    return row;
  }

  /** Null where there is none. */
  known(id: string): Promise<JurisdictionDto | null> {
    return this.jurisdictions.find(id);
  }

  async create(actor: Actor, dto: NewJurisdictionDto): Promise<JurisdictionDto> {
    const { name, reportingYearStart, residueTo = 'traced' } = dto;
    const id = idOr(dto.id);
    return this.work.add(actor, subject(id), (write) =>
      this.jurisdictions.insert(write, { id, name, reportingYearStart, residueTo }),
    );
  }

  async change(
    actor: Actor,
    id: string,
    version: number,
    dto: JurisdictionChangeDto,
  ): Promise<JurisdictionDto> {
    const before = await this.get(id);
    return this.work.change(actor, subject(id), version, before, (write) =>
      this.jurisdictions.change(write, id, version, given(dto)),
    );
  }
}
