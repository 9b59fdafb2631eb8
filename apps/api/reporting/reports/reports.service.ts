import type { Readable } from 'node:stream';
import { Injectable } from '@nestjs/common';
import { daysInWords, type DiversionReport } from '#libs/documents';
import type { Actor } from '../../http/access/actor.js';
import { keyOf, type Page, pageOf } from '../../http/dto/paging.js';
import { notFound } from '../../http/problems/catalogue.js';
import { initialsOf } from '../../http/initials.js';
import { TableStreams } from '../../http/table-streams.js';
import { SealsService } from '../seals.service.js';
import type { ReportDto, ReportsQuery, ReportVersionDto } from './reports.dto.js';
import { type ReportRow, ReportsRecords, type VersionRow } from './reports.records.js';
import { periodWarnings } from './period-warnings.js';
import { ReportRowsRecords } from './rows.records.js';

/** A version as it was issued. */
export interface IssuedVersion {
  /** Canonical JSON, the very text that was sealed. */
  json: string;
  report: DiversionReport;
  seal: string;
}

/** What was issued, for whoever may read it. */
@Injectable()
export class ReportsService {
  constructor(
    private readonly records: ReportsRecords,
    private readonly rows: ReportRowsRecords,
    private readonly seals: SealsService,
    private readonly tables: TableStreams,
  ) {}

  async list(actor: Actor, { jurisdictionId, cursor, limit }: ReportsQuery): Promise<Page<ReportDto>> {
    const filter = { jurisdictionIds: readBy(actor, jurisdictionId), after: keyOf(cursor, 'text', 'id') };
    const rows = await this.records.page(filter, limit);
    const page = pageOf(
      rows,
      limit,
      ({ from, id }) => [from, id],
      (row) => row,
    );
    const versions = await this.records.versionsOf(page.items.map(({ id }) => id));
    return { ...page, items: page.items.map((row) => reportView(row, versions.get(row.id) ?? [])) };
  }

  async get(id: string): Promise<ReportDto> {
    const row = await this.records.find(id);
    if (!row) throw notFound('report');
    return reportView(row, await this.records.versions(id));
  }

  async version(id: string, asked: number | undefined): Promise<IssuedVersion> {
    const { seal } = await this.versionRow(id, asked);
    const json = await this.seals.document(seal);
    return { json, report: JSON.parse(json) as DiversionReport, seal };
  }

  /** The movements that a version was made of: RFC 4180, whose SHA-256 stands in the report. */
  async rowsOf(id: string, asked: number | undefined): Promise<Readable> {
    const { version } = await this.versionRow(id, asked);
    return this.tables.stream((use) => this.rows.table({ reportId: id, version }, use));
  }

  /** What is wrong with what was issued, in words, beyond the seals themselves. */
  async faults(): Promise<string[]> {
    const issued = await this.records.issued();
    const faults: string[] = [];
    for (const { reportId, version, rows } of issued) {
      const found = await this.records.snapshot((sql) => this.rows.ofVersion(sql, { reportId, version }));
      const named = `version ${version} of the diversion report ${reportId}`;
      if (rows === null) faults.push(`The sealed document of ${named} is not the one that was issued.`);
      else if (found.sha256 !== rows) faults.push(`The rows of ${named} were altered.`);
    }
    return faults;
  }

  private async versionRow(id: string, asked: number | undefined): Promise<VersionRow> {
    const versions = await this.records.versions(id);
    const row = asked === undefined ? versions.at(-1) : versions.find(({ version }) => version === asked);
    if (!row) throw notFound('version of the report');
    return row;
  }
}

/** Jurisdictions whose reports are listed: those one may read, or the one asked for among them. */
function readBy(actor: Actor, asked: string | undefined): string[] | null {
  const read = actor.jurisdictionsRead();
  if (asked === undefined) return read;
  const id = asked.toLowerCase();
  return read === null || read.includes(id) ? [id] : [];
}

function reportView(row: ReportRow, versions: readonly VersionRow[]): ReportDto {
  const { id, jurisdictionId, jurisdiction, from, to, wholeYear } = row;
  return {
    ...{ id, jurisdictionId, jurisdiction, from, to, inWords: daysInWords(from, to), wholeYear },
    ...{ versions: versions.map(versionView), warnings: periodWarnings(from, to) },
  };
}

function versionView({ version, seal, reason, issuedAt, issuedBy }: VersionRow): ReportVersionDto {
  return { version, seal, reason, issuedAt: issuedAt.toISOString(), issuedBy: initialsOf(issuedBy) };
}
