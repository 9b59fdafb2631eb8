import { Injectable } from '@nestjs/common';
import type { Actor } from '../../http/access/actor.js';
import { Clock } from '../../http/clock.js';
import { idOr } from '../../http/dto/id.js';
import { invalid, notFound, Problem } from '../../http/problems/catalogue.js';
import { bodyDigest, type Recorded, requireSameBody } from '../../http/writes/replay.js';
import { type SqlWrite, Work } from '../../http/writes/work.js';
import { writeOnce } from '../../http/writes/write-once.js';
import { SessionsService } from '../../people/sessions.service.js';
import { AskedReports, settingsAfter } from './asked.service.js';
import type { NewReportDto, NewReportVersionDto, ReportDto } from './reports.dto.js';
import { type Entry, type ReportRow, ReportsRecords } from './reports.records.js';
import { ReportsService } from './reports.service.js';
import { VersionsService } from './versions.service.js';

type Sql = SqlWrite['sql'];

/** Issues what a jurisdiction is told, and issues it anew when the records changed: a version that was issued stays. */
@Injectable()
export class IssuingService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly sessions: SessionsService,
    private readonly asked: AskedReports,
    private readonly records: ReportsRecords,
    private readonly versions: VersionsService,
    private readonly reports: ReportsService,
  ) {}

  /** The first version of the report of a period. */
  async issue(actor: Actor, { password, ...dto }: NewReportDto): Promise<Recorded<ReportDto>> {
    await this.sessions.requirePassword(actor, password);
    const entry = { id: idOr(dto.id), bodySha256: bodyDigest(dto) };
    const replayed = await this.once(actor, entry, entry.id, async () => {
      const { report, settings } = await this.asked.of(dto, entry.id);
      return async (write) => {
        await this.requireOver(write.sql, report);
        await this.requireBegun(write.sql, report, dto.yearOf === undefined ? '/to' : '/yearOf');
        await this.requireNew(write.sql, report);
        await this.records.insert(write, report);
        await this.versions.issue(write, { report, settings, entry, reason: null, before: null });
      };
    });
    return { replayed, body: await this.reports.get(entry.id) };
  }

  /** The next version: refused (409) while it would say the same of the same rows. */
  async amend(
    actor: Actor,
    reportId: string,
    { password, ...dto }: NewReportVersionDto,
  ): Promise<Recorded<ReportDto>> {
    await this.sessions.requirePassword(actor, password);
    const entry = { id: idOr(dto.id), bodySha256: bodyDigest(dto) };
    const again = async (write: SqlWrite): Promise<void> => {
      const report = await this.records.find(reportId, write.sql);
      const before = (await this.records.versions(reportId, write.sql)).at(-1);
      if (!report || !before) throw notFound('report');
      const settings = settingsAfter(before.settings, dto);
      await this.versions.issue(write, { report, settings, entry, reason: dto.reason, before });
    };
    const replayed = await this.once(actor, entry, reportId, () => Promise.resolve(again));
    return { replayed, body: await this.reports.get(reportId) };
  }

  /** True when the same had been sent before, and the version it made is there. */
  private once(
    actor: Actor,
    entry: Entry,
    reportId: string,
    prepare: () => Promise<(write: SqlWrite) => Promise<void>>,
  ): Promise<boolean> {
    const sentBefore = async (sql?: Sql): Promise<boolean> => {
      const kept = await this.records.byEntry(entry.id, sql);
      if (!kept) return false;
      if (kept.reportId !== reportId) throw new Problem('other-body');
      requireSameBody(kept.bodySha256, entry.bodySha256);
      return true;
    };
    const ofOneMoment: Pick<Work, 'writeSql'> = {
      writeSql: (by, write) => this.work.writeSnapshot(by, write),
    };
    return writeOnce(ofOneMoment, actor, {
      sentBefore,
      prepare: async () => {
        const issue = await prepare();
        return async (write) => {
          await this.records.lock(write.sql);
          if (await sentBefore(write.sql)) return false;
          await issue(write);
          return true;
        };
      },
    });
  }

  private async requireOver(sql: Sql, { to }: ReportRow): Promise<void> {
    const over = await this.records.lastBeginning(sql, to);
    if (over === null || over.getTime() <= this.clock.nowMs()) return;
    throw invalid(
      '/to',
      `the period is not over before ${over.toISOString()}: until then, read a draft of it`,
    );
  }

  /** A report cannot be taken back: a year that was mistyped must not be told as one of nothing. */
  private async requireBegun(sql: Sql, { to }: ReportRow, pointer: string): Promise<void> {
    if (await this.records.hadBegun(sql, to)) return;
    throw invalid(
      pointer,
      `before ${to} no site was open and nothing was recorded: is it the period that is meant?`,
    );
  }

  private async requireNew(sql: Sql, report: ReportRow): Promise<void> {
    const same = await this.records.ofPeriod(sql, report);
    if (same) throw new Problem('report-issued', `It is report ${same.id}: issue its next version.`);
    const other = report.wholeYear ? await this.records.overlappingYear(sql, report) : null;
    if (!other) return;
    const text = `The reporting year from ${other.from} to ${other.to} was reported and shares days with this one.`;
    throw new Problem('report-issued', text);
  }
}
