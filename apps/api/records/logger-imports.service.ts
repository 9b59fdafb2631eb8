import { Temporal } from 'temporal-polyfill';
import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import type { Device } from '../http/access/device.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { notFound, Problem } from '../http/problems/catalogue.js';
import type { Recorded } from '../http/writes/replay.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { DeviceKeysService } from '../loggers/device-keys.service.js';
import { LoggerIngestService } from '../loggers/logger-ingest.service.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { Overtaken, reachOf, type Sent, sentBefore, sentOf } from './import-sent.js';
import { type ImportLine, ImportsRecords } from './imports.records.js';
import { placeFaults, placesOf, settingFault } from './logger-arrivals.js';
import { LoggerFile, surveyOf } from './logger-file.js';
import { loggerReport, requireNoneRefused } from './logger-import-report.js';
import type { LoggerImportDto, LoggerImportReportDto, NewLoggerImportDto } from './logger-imports.dto.js';
import type { LoggerCell } from './logger-lines.js';
import { LoggerTally } from './logger-tally.js';

const READINGS_A_TIME = 5_000;

/** Ends a write that was only tried, so that nothing of it is kept. */
class OnlyTried extends Error {}

interface Run {
  dto: NewLoggerImportDto;
  sent: Sent;
  device: Device;
  file: LoggerFile;
  /** When this very file was imported before, as far as the asker may know. */
  earlier: readonly Date[];
}

@Injectable()
export class LoggerImportsService {
  constructor(
    private readonly work: Work,
    private readonly records: ImportsRecords,
    private readonly devices: DeviceKeysService,
    private readonly ingest: LoggerIngestService,
    private readonly sites: SiteFactsService,
  ) {}

  /** Reads a file and tells of every cell that is amiss; unless it is a dry run, keeps all of it or nothing. */
  async run(actor: Actor, dto: NewLoggerImportDto): Promise<Recorded<LoggerImportReportDto>> {
    const device = await this.devices.named(actor, 'manager', dto.deviceId);
    const { text, ...sent } = sentOf(dto);
    if (!dto.dryRun) {
      const before = await sentBefore<LoggerImportReportDto>(this.records, sent);
      if (before) return before;
    }
    requireSettings(dto);
    const { timeZone } = await this.sites.site(device.siteId);
    const file = new LoggerFile(text, dto, timeZone);
    const survey = await surveyOf(file);
    const earlier = await this.records.earlier(sent.sha256, reachOf(actor));
    const run = { dto, sent, device, file, earlier };
    if (survey.counts.refused === 0) return this.write(actor, run);
    const report = loggerReport(dto, sent, survey, run.earlier);
    if (!dto.dryRun) requireNoneRefused(report);
    return { replayed: true, body: report };
  }

  async list(actor: Actor, query: PageQuery): Promise<Page<LoggerImportDto>> {
    const [before] = keyOf(query.cursor, 'id') ?? [null];
    const rows = await this.records.page<LoggerImportReportDto>(
      'logger-readings',
      reachOf(actor),
      before === null ? null : String(before),
      query.limit,
    );
    return pageOf(rows, query.limit, ({ id }) => [id], view);
  }

  async get(actor: Actor, id: string): Promise<LoggerImportReportDto> {
    const report = await this.records.report<LoggerImportReportDto>('logger-readings', id, reachOf(actor));
    if (!report) throw notFound('import');
    return report;
  }

  /** A dry run goes all the way, and is then undone: so it tells what the write itself would. */
  private async write(actor: Actor, run: Run): Promise<Recorded<LoggerImportReportDto>> {
    const { dto, sent, earlier } = run;
    let report: LoggerImportReportDto | undefined;
    try {
      await this.work.writeSql(actor, async (write) => {
        const tally = await this.keep(write, run);
        report = loggerReport(dto, sent, tally, earlier);
        if (dto.dryRun) throw new OnlyTried();
        requireNoneRefused(report);
        await this.note(write, run, report);
      });
    } catch (error) {
      if (error instanceof Overtaken) {
        const before = await sentBefore<LoggerImportReportDto>(this.records, sent);
        if (before) return before;
      }
      if (!(error instanceof OnlyTried)) throw error;
    }
    if (!report) throw new Error('an import was written without a report');
    return { replayed: dto.dryRun, body: report };
  }

  private async keep(write: SqlWrite, { dto, device, file }: Run): Promise<LoggerTally> {
    const tally = new LoggerTally();
    const places = placesOf(dto);
    const keepSome = async (cells: readonly LoggerCell[]) => {
      const arrived = cells.map(({ probe, atMs, temperatureDeciC }) => {
        const place = places[probe];
        if (!place) throw new Error('a reading of a probe that the settings do not name');
        return { ...place, atMs, temperatureDeciC };
      });
      const { outcomes, withoutBatch } = await this.ingest.keep(write, device, arrived);
      tally.withoutBatch(withoutBatch);
      cells.forEach((cell, index) => {
        const outcome = outcomes[index] ?? 'new';
        const fault = typeof outcome === 'object' ? settingFault(outcome, cell, dto) : null;
        if (fault) throw new Problem('invalid', undefined, [fault]);
        tally.outcome(cell, outcome, dto);
      });
    };
    let waiting: LoggerCell[] = [];
    for await (const lines of file.pieces()) {
      for (const line of lines) {
        if (line === null) {
          tally.leftOut();
          continue;
        }
        tally.line(line);
        waiting.push(...line.readings);
        if (waiting.length < READINGS_A_TIME) continue;
        await keepSome(waiting);
        waiting = [];
      }
    }
    if (waiting.length > 0) await keepSome(waiting);
    return tally;
  }

  private async note(
    write: SqlWrite,
    { dto, sent, device }: Run,
    report: LoggerImportReportDto,
  ): Promise<void> {
    const { id, fileName, settings, sha256: fileSha256 } = sent;
    const row = {
      id,
      siteId: device.siteId,
      kind: 'logger-readings' as const,
      fileName,
      fileSha256,
      settings,
    };
    if (!(await this.records.insert(write.sql, { ...row, report }, write.actor.personId)))
      throw new Overtaken();
    write.audit({
      ...{ action: 'import.committed', subjectKind: 'import', subjectId: id, siteId: device.siteId },
      detail: {
        fileName: dto.fileName,
        fileSha256: report.fileSha256,
        device: device.code,
        counts: report.counts,
      },
    });
  }
}

function requireSettings(dto: NewLoggerImportDto): void {
  const faults = placeFaults(dto);
  if (dto.timeZone !== undefined && !isZone(dto.timeZone)) {
    faults.push({ pointer: '/timeZone', detail: 'is no time zone that is known here' });
  }
  if (faults.length > 0) throw new Problem('invalid', undefined, faults);
}

function isZone(name: string): boolean {
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(name);
    return true;
  } catch {
    return false;
  }
}

function view({
  id,
  siteId,
  fileName,
  fileSha256,
  counts,
  ...row
}: ImportLine<LoggerImportReportDto>): LoggerImportDto {
  if (siteId === null) throw new Error('an import of logger readings is of one site');
  return {
    ...{ id, siteId, fileName, counts, recordedBy: row.recordedBy },
    fileSha256: fileSha256.toString('hex'),
    recordedAt: row.recordedAt.toISOString(),
  };
}
