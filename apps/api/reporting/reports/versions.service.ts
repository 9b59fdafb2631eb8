import { Injectable } from '@nestjs/common';
import { canonicalJson, type DiversionReport } from '#libs/documents';
import type { Actor } from '../../http/access/actor.js';
import { Clock } from '../../http/clock.js';
import { idOr } from '../../http/dto/id.js';
import { Problem } from '../../http/problems/catalogue.js';
import type { SqlWrite } from '../../http/writes/work.js';
import { SealsService } from '../seals.service.js';
import { AskedReports, settingsAfter } from './asked.service.js';
import { ReportAssembly, type Told, townOf } from './assembly.service.js';
import type { DraftDto } from './reports.dto.js';
import {
  type Entry,
  type ReportRow,
  type ReportSettings,
  ReportsRecords,
  type VersionRow,
} from './reports.records.js';
import { ReportRowsRecords } from './rows.records.js';
import { otherTotals } from './totals.js';

type Sql = SqlWrite['sql'];

/** A version that is to be issued. */
export interface Next {
  report: ReportRow;
  settings: ReportSettings;
  entry: Entry;
  /** Null on the first. */
  reason: string | null;
  before: VersionRow | null;
}

/** A version: the rows, the figures made of them, what is other than before, and the seal over all of it. */
@Injectable()
export class VersionsService {
  constructor(
    private readonly clock: Clock,
    private readonly asked: AskedReports,
    private readonly records: ReportsRecords,
    private readonly rows: ReportRowsRecords,
    private readonly assembly: ReportAssembly,
    private readonly seals: SealsService,
  ) {}

  /** Inside a write of one moment: rows, figures and seal are then of the same records. */
  async issue(write: SqlWrite, { report, settings, entry, reason, before }: Next): Promise<void> {
    const { sql, actor } = write;
    const key = { reportId: report.id, version: (before?.version ?? 0) + 1 };
    const issuedAt = new Date(this.clock.nowMs());
    await this.rows.keep(sql, { ...report, ...settings }, key);
    const rows = await this.rows.ofVersion(sql, key);
    const told = await this.assembly.told(sql, report, settings);
    const amends = before && (await this.amends(sql, report, settings, before, told, reason ?? ''));
    const issuing = { report, settings, ...key, amends, rows, issuedAt, issuedBy: actor.displayName };
    const document = this.assembly.document(told, issuing);
    if (before) await this.requireOther(sql, before, document);
    const { seal } = await this.seals.seal(write, 'diversion-report', report.id, document);
    await this.records.insertVersion(write, { ...key, seal, reason, settings, entry, issuedAt });
    const { jurisdictionId, from, to } = report;
    write.audit({
      ...{ action: 'diversion-report.issued', subjectKind: 'diversion-report', subjectId: report.id },
      siteId: null,
      detail: { version: key.version, seal, jurisdictionId, from, to, rows: rows.count, reason },
    });
  }

  /** What would be issued now, or issued anew, and is not. */
  async draft(actor: Actor, dto: DraftDto): Promise<DiversionReport> {
    const { report, settings: asked } = await this.asked.of(dto, idOr(undefined));
    return this.records.snapshot(async (sql) => {
      const issued = await this.records.ofPeriod(sql, report);
      const before = issued && ((await this.records.versions(issued.id, sql)).at(-1) ?? null);
      const settings = before ? settingsAfter(before.settings, dto) : asked;
      const told = await this.assembly.told(sql, report, settings);
      return this.assembly.document(told, {
        ...{ report, settings, version: (before?.version ?? 0) + 1 },
        amends: before && (await this.amends(sql, issued, settings, before, told, 'Not issued yet')),
        rows: await this.rows.now(sql, { ...report, ...settings }),
        ...{ issuedAt: new Date(this.clock.nowMs()), issuedBy: actor.displayName },
      });
    });
  }

  private async amends(
    sql: Sql,
    report: ReportRow,
    settings: ReportSettings,
    { version, seal, issuedAt }: VersionRow,
    told: Told,
    reason: string,
  ): Promise<DiversionReport['amends']> {
    const key = { reportId: report.id, version };
    return {
      ...{ version, seal, issuedAt: issuedAt.toISOString(), reason },
      totals: otherTotals(await this.documentOf(sql, seal), { ...told, jurisdiction: townOf(report) }),
      changes: await this.rows.changesSince(sql, { ...report, ...settings }, key),
    };
  }

  private async requireOther(sql: Sql, before: VersionRow, document: DiversionReport): Promise<void> {
    const said = await this.documentOf(sql, before.seal);
    if (document.amends?.changes.length !== 0) return;
    if (canonicalJson(content(said)) !== canonicalJson(content(document))) return;
    throw new Problem('nothing-changed', `Version ${before.version} says the same of the same movements.`);
  }

  private async documentOf(sql: Sql, seal: string): Promise<DiversionReport> {
    return JSON.parse(await this.seals.document(seal, sql)) as DiversionReport;
  }
}

/** What a version tells; not when, by whom, in which words the method is put, or which revisions its rows are of. */
function content(report: DiversionReport) {
  const { jurisdiction, period, figures, rate, greenhouse, facilities } = report;
  return { jurisdiction, period, figures, rate, greenhouse, facilities, rows: report.rows.count };
}
