import { createHash } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { canonicalJson } from '#libs/documents';
import type { Actor } from '../http/access/actor.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { invalid, notFound, Problem } from '../http/problems/catalogue.js';
import type { Recorded } from '../http/writes/replay.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { ImportIntakeService } from '../intake/import-intake.service.js';
import type { ImportDto, ImportReportDto, ImportSettingsDto, NewImportDto } from './imports.dto.js';
import { type ImportLine, type ImportReach, ImportsRecords, type NewImport } from './imports.records.js';
import { ImportReader, type ReadFile } from './import-reader.js';
import { countsOf, type JudgedLine, newLines, type NewLine, reportLines } from './import-report.js';
import { textOf } from './import-table.js';

/** Somebody imported the same lines, or under the same id, since they were looked up. */
class Overtaken extends Error {}

const TRIES = 3;
const LOTS_A_STATEMENT = 2_000;
const FAULTS_TOLD = 100;

@Injectable()
export class ImportsService {
  constructor(
    private readonly work: Work,
    private readonly records: ImportsRecords,
    private readonly reader: ImportReader,
    private readonly intake: ImportIntakeService,
  ) {}

  /** Reads a file and tells of every line; unless it is a dry run, keeps all of it or nothing. */
  async run(actor: Actor, dto: NewImportDto): Promise<Recorded<ImportReportDto>> {
    requireManager(actor, dto);
    const { text, sha256 } = fileOf(dto);
    const sent = { id: idOr(dto.id), sha256, settings: settingsOf(dto), fileName: dto.fileName };
    if (!dto.dryRun) {
      const before = await this.sentBefore(sent);
      if (before) return before;
    }
    const file = await this.reader.read(actor, dto, text);
    if (dto.dryRun) return { replayed: true, body: (await this.draw(dto, file, sent, null)).report };
    for (let tries = 1; ; tries += 1) {
      try {
        return { replayed: false, body: await this.commit(actor, dto, file, sent) };
      } catch (error) {
        if (!(error instanceof Overtaken) || tries === TRIES) throw error;
        const before = await this.sentBefore(sent);
        if (before) return before;
      }
    }
  }

  async list(actor: Actor, query: PageQuery): Promise<Page<ImportDto>> {
    const [before] = keyOf(query.cursor, 'id') ?? [null];
    const rows = await this.records.page(
      reachOf(actor),
      before === null ? null : String(before),
      query.limit,
    );
    return pageOf(rows, query.limit, ({ id }) => [id], view);
  }

  async get(actor: Actor, id: string): Promise<ImportReportDto> {
    const row = await this.records.findReached(id, reachOf(actor));
    if (!row) throw notFound('import');
    return row.report;
  }

  private async sentBefore(sent: Sent): Promise<Recorded<ImportReportDto> | null> {
    const kept = await this.records.find(sent.id);
    if (!kept) return null;
    const same = kept.fileSha256.equals(sent.sha256) && kept.fileName === sent.fileName;
    if (!same || canonicalJson(kept.settings) !== canonicalJson(sent.settings))
      throw new Problem('other-body');
    return { replayed: true, body: kept.report };
  }

  private async commit(
    actor: Actor,
    dto: NewImportDto,
    file: ReadFile,
    sent: Sent,
  ): Promise<ImportReportDto> {
    const { report, fresh } = await this.draw(dto, file, sent, sent.id);
    requireNoneRefused(report);
    await this.work.writeSql(actor, (write) => this.keep(write, { ...rowOf(dto, sent), report }, fresh));
    return report;
  }

  /** What would happen now, line by line. */
  private async draw(dto: NewImportDto, { lines, codeOf }: ReadFile, { sha256 }: Sent, id: string | null) {
    const known = await this.known(lines);
    const fresh = newLines(lines, known);
    const told = reportLines(lines, known, codeOf);
    const report: ImportReportDto = {
      ...{
        id,
        kind: dto.kind,
        fileName: dto.fileName,
        fileSha256: sha256.toString('hex'),
        dryRun: dto.dryRun,
      },
      counts: countsOf(told, fresh),
      notes: fresh.length > 0 ? await this.notes(sha256) : [],
      lines: told,
    };
    return { report, fresh };
  }

  private async known(lines: readonly JudgedLine[]): Promise<Set<string>> {
    const keysBySite = new Map<string, Buffer[]>();
    for (const { entry, keyed } of lines) {
      if (!entry || !keyed) continue;
      const keys = keysBySite.get(entry.siteId);
      if (keys) keys.push(keyed.key);
      else keysBySite.set(entry.siteId, [keyed.key]);
    }
    const known = new Set<string>();
    for (const [siteId, keys] of keysBySite) {
      for (const key of await this.intake.known(siteId, keys)) known.add(key);
    }
    return known;
  }

  private async notes(sha256: Buffer): Promise<string[]> {
    const earlier = await this.records.earlier(sha256);
    if (earlier.length === 0) return [];
    const when = earlier.map((at) => at.toISOString()).join(', ');
    return [
      `This very file was imported before (${when}). Lines that are new now were left out then, or read with other ` +
        'settings; in that case they would be counted twice.',
    ];
  }

  private async keep(write: SqlWrite, row: NewImport, fresh: readonly NewLine[]): Promise<void> {
    if (!(await this.records.insert(write.sql, row, write.actor.personId))) throw new Overtaken();
    for (let from = 0; from < fresh.length; from += LOTS_A_STATEMENT) {
      const some = fresh.slice(from, from + LOTS_A_STATEMENT);
      const kept = await this.intake.insert(write, row.id, some);
      if (kept.size < some.length) throw new Overtaken();
    }
    write.audit({
      ...{ action: 'import.committed', subjectKind: 'import', subjectId: row.id, siteId: row.siteId },
      detail: { fileName: row.fileName, fileSha256: row.report.fileSha256, counts: row.report.counts },
    });
  }
}

/** What tells one import from another under the same id. */
interface Sent {
  id: string;
  sha256: Buffer;
  fileName: string;
  settings: NewImport['settings'];
}

function requireManager(actor: Actor, { sites }: ImportSettingsDto): void {
  if (sites.some(({ siteId }) => !actor.mayAt('manager', siteId.toLowerCase())))
    throw new Problem('other-site');
}

function fileOf({ csv, csvBase64 }: NewImportDto): { text: string; sha256: Buffer } {
  if ((csv === undefined) === (csvBase64 === undefined))
    throw invalid('/csv', 'send either csv or csvBase64');
  const bytes = csv === undefined ? Buffer.from(csvBase64 ?? '', 'base64') : Buffer.from(csv);
  return { text: csv ?? textOf(bytes), sha256: createHash('sha256').update(bytes).digest() };
}

const NO_SETTINGS = new Set(['id', 'kind', 'fileName', 'csv', 'csvBase64', 'dryRun']);

function settingsOf(dto: NewImportDto): NewImport['settings'] {
  const settings = Object.entries(dto).filter(([field]) => !NO_SETTINGS.has(field));
  return JSON.parse(JSON.stringify(Object.fromEntries(settings))) as NewImport['settings'];
}

function rowOf(dto: NewImportDto, { id, sha256, settings }: Sent): Omit<NewImport, 'report'> {
  const siteIds = new Set(dto.sites.map(({ siteId }) => siteId.toLowerCase()));
  const [siteId] = siteIds;
  const { kind, fileName } = dto;
  return {
    id,
    siteId: siteIds.size === 1 && siteId ? siteId : null,
    kind,
    fileName,
    fileSha256: sha256,
    settings,
  };
}

/** Nothing is imported by halves: a line that is refused is mended, or named as left out. */
function requireNoneRefused({ lines, counts }: ImportReportDto): void {
  if (counts.refused === 0) return;
  const refused = lines.filter(({ outcome }) => outcome === 'refused').slice(0, FAULTS_TOLD);
  throw new Problem(
    'invalid',
    `Nothing was imported: ${counts.refused} of ${counts.lines} lines are refused. Mend them, or name them in leaveOut.`,
    refused.map(({ line, faults }) => ({ pointer: '/csv', detail: `line ${line}: ${faults.join('; ')}` })),
  );
}

const reachOf = (actor: Actor): ImportReach => ({
  siteIds: actor.sitesFor('manager'),
  personId: actor.personId,
});

function view({ fileSha256, recordedAt, ...row }: ImportLine): ImportDto {
  return { ...row, fileSha256: fileSha256.toString('hex'), recordedAt: recordedAt.toISOString() };
}
