import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { instantMs } from '../http/dto/time.js';
import { invalid } from '../http/problems/catalogue.js';
import { Work } from '../http/writes/work.js';
import { ReportsService } from '../reporting/reports/reports.service.js';
import { SealsService } from '../reporting/seals.service.js';
import { chainFaults } from './audit-chain.js';
import type { AuditEventDto, AuditQuery, AuditSealDto, AuditVerificationDto } from './audit.dto.js';
import { AuditRecords, type AuditRow, type AuditSealRow } from './audit.records.js';

const eventView = (row: AuditRow): AuditEventDto => ({ ...row, at: row.at.toISOString() });
const sealView = (row: AuditSealRow): AuditSealDto => ({ ...row, sealedAt: row.sealedAt.toISOString() });

@Injectable()
export class AuditService {
  constructor(
    private readonly work: Work,
    private readonly records: AuditRecords,
    private readonly seals: SealsService,
    private readonly reports: ReportsService,
  ) {}

  async list(query: AuditQuery): Promise<Page<AuditEventDto>> {
    const filter = {
      subjectId: query.subjectId ?? null,
      siteId: query.siteId ?? null,
      personId: query.personId ?? null,
      action: query.action ?? null,
      from: query.from === undefined ? null : new Date(instantMs(query.from, '/from')),
      to: query.to === undefined ? null : new Date(instantMs(query.to, '/to')),
    };
    const rows = await this.records.page(filter, numberIn(query.cursor), query.limit);
    return pageOf(rows, query.limit, ({ seq }) => [seq], eventView);
  }

  async listSeals(query: PageQuery): Promise<Page<AuditSealDto>> {
    const rows = await this.records.sealsPage(numberIn(query.cursor), query.limit);
    return pageOf(rows, query.limit, ({ number }) => [number], sealView);
  }

  /** Seals everything up to now, because somebody asks; the newest seal. */
  async sealNow(actor: Actor): Promise<AuditSealDto> {
    const settled = await this.records.settledSeq();
    return this.work.writeSql(actor, async (write) => {
      const made = await this.records.seal(write.sql, settled);
      write.audit({
        action: 'audit.sealed',
        subjectKind: 'audit-seal',
        subjectId: null,
        siteId: null,
        detail: { seals: made.map(({ number }) => number) },
      });
      // Another process was quicker: its seal holds the same events.
      const newest = made.at(-1) ?? (await this.records.newestSeal(write.sql));
      return sealView(newest);
    });
  }

  /** Recomputes every seal, of the trail and of documents, from what is stored now. */
  async verify(): Promise<AuditVerificationDto> {
    const { links, unsealed } = await this.records.chain();
    const documents = [
      ...(await this.seals.faults(await this.records.notedSeals())),
      ...(await this.reports.faults()),
    ];
    const faults = [...chainFaults(links), ...documents.map((text) => ({ seal: null, text }))];
    return {
      ok: faults.length === 0,
      seals: links.length,
      sealedEvents: links.reduce((sum, { events }) => sum + events, 0),
      unsealedEvents: unsealed,
      lastSeal: links.at(-1)?.seal ?? null,
      faults,
    };
  }
}

function numberIn(cursor: string | undefined): number | null {
  const [number] = keyOf(cursor, 'number') ?? [null];
  if (number === null || Number.isSafeInteger(number)) return number as number | null;
  throw invalid('/cursor', 'is not a cursor of this list');
}
