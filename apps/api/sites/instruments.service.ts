import { Injectable } from '@nestjs/common';
import { verificationDue } from '#libs/process';
import { celsiusOf, gramsUnrounded, temperatureStepToDeciC } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { type Page, pageOf } from '../http/dto/paging.js';
import { invalid, notFound } from '../http/problems/catalogue.js';
import type { Write } from '../http/writes/work.js';
import { enteredOver, given } from '../http/writes/given.js';
import type {
  InstrumentChangeDto,
  InstrumentDto,
  InstrumentKind,
  NewInstrumentDto,
} from './instruments.dto.js';
import { type InstrumentRow, InstrumentsRecords } from './instruments.records.js';
import { retirement } from '../http/writes/retirement.js';
import { SettingWork } from '../http/writes/setting-work.js';
import { moreThanNothing, siteKeyOf, type SiteThingsQuery } from './site-fields.js';
import { SitesService } from './sites.service.js';

const subject = (id: string, siteId: string) => ({ kind: 'instrument', id, siteId });

/** The columns keep this many digits of a gram. */
const DIVISION_MIN_G = 0.00001;

function figuresOf(kind: string, { division, resolution, verifyEveryDays }: InstrumentChangeDto) {
  if (division && kind !== 'scale') throw invalid('/division', 'is of a scale');
  if (resolution && kind !== 'thermometer') throw invalid('/resolution', 'is of a thermometer');
  const divisionG = division && gramsUnrounded(division);
  if (typeof divisionG === 'number' && divisionG < DIVISION_MIN_G) {
    throw invalid('/division', 'must be more than nothing');
  }
  const resolutionDeciC = resolution && moreThanNothing(temperatureStepToDeciC(resolution), '/resolution');
  return given({ divisionG, resolutionDeciC, verifyEveryDays });
}

function instrumentView(row: InstrumentRow, nowMs: number): InstrumentDto {
  const { id, siteId, code, divisionG, verifyEveryDays, lastVerifiedAt, version } = row;
  const passed = row.lastPassed === true;
  const last = lastVerifiedAt && { occurredAtMs: lastVerifiedAt.getTime(), passed };
  const due = verificationDue({ last, everyDays: verifyEveryDays, timeZone: row.timeZone }, nowMs);
  const retired = row.retiredAt !== null;
  return {
    ...{ id, siteId, code, divisionG, verifyEveryDays, retired, version },
    kind: row.kind as InstrumentKind,
    resolutionC: row.resolutionDeciC === null ? null : celsiusOf(row.resolutionDeciC),
    lastVerification: lastVerifiedAt && { occurredAt: lastVerifiedAt.toISOString(), passed },
    verificationDueOn: due.dueOn,
    verificationOverdue: due.overdue && !retired,
    entered: row.entered,
  };
}

@Injectable()
export class InstrumentsService {
  constructor(
    private readonly work: SettingWork,
    private readonly clock: Clock,
    private readonly instruments: InstrumentsRecords,
    private readonly sites: SitesService,
  ) {}

  async list(actor: Actor, query: SiteThingsQuery): Promise<Page<InstrumentDto>> {
    const sites = actor.sitesFor('volunteer', query.siteId);
    const rows = await this.instruments.page(sites, query.limit, siteKeyOf(query.cursor));
    const nowMs = this.clock.nowMs();
    return pageOf(
      rows,
      query.limit,
      (row) => [row.siteId, row.code],
      (row) => instrumentView(row, nowMs),
    );
  }

  async get(id: string): Promise<InstrumentDto> {
    return this.view(await this.instruments.find(id));
  }

  async create(actor: Actor, dto: NewInstrumentDto): Promise<InstrumentDto> {
    const { siteId, code, kind, division, resolution } = dto;
    const figures = figuresOf(kind, dto);
    await this.sites.requireSite(siteId);
    const id = idOr(dto.id);
    const entered = enteredOver({}, { division, resolution });
    return this.work.add(actor, subject(id, siteId), async (write) => {
      await this.instruments.insert(write, { id, siteId, code, kind, ...figures, entered });
      return this.within(write, id);
    });
  }

  async change(actor: Actor, id: string, version: number, dto: InstrumentChangeDto): Promise<InstrumentDto> {
    const before = await this.get(id);
    const { code, division, resolution } = dto;
    const change = {
      ...given({ code }),
      ...figuresOf(before.kind, dto),
      ...retirement(dto.retired, before.retired, this.clock.nowMs()),
      entered: enteredOver(before.entered, { division, resolution }),
    };
    return this.work.change(actor, subject(id, before.siteId), version, before, async (write) => {
      await this.instruments.change(write, id, version, change);
      return this.within(write, id);
    });
  }

  private async within({ sql }: Write, id: string): Promise<InstrumentDto> {
    return this.view(await this.instruments.find(id, sql));
  }

  private view(row: InstrumentRow | null): InstrumentDto {
    if (!row) throw notFound('instrument');
    return instrumentView(row, this.clock.nowMs());
  }
}
