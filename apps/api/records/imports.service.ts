import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { notFound, Problem } from '../http/problems/catalogue.js';
import type { Recorded } from '../http/writes/replay.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { ImportIntakeService } from '../intake/import-intake.service.js';
import type { ImportDto, ImportReportDto, ImportSettingsDto, NewImportDto } from './imports.dto.js';
import { type ImportLine, ImportsRecords, type NewImport } from './imports.records.js';
import { ImportReader, type ReadFile } from './import-reader.js';
import { countsOf, type JudgedLine, newLines, type NewLine, reportLines } from './import-report.js';
import { Overtaken, reachOf, type Sent, sentBefore, sentOf } from './import-sent.js';

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
    const { text, ...sent } = sentOf(dto);
    if (!dto.dryRun) {
      const before = await sentBefore<ImportReportDto>(this.records, sent);
      if (before) return before;
    }
    const file = await this.reader.read(actor, dto, text);
    if (dto.dryRun) return { replayed: true, body: (await this.draw(dto, file, sent, null)).report };
    for (let tries = 1; ; tries += 1) {
      try {
        return { replayed: false, body: await this.commit(actor, dto, file, sent) };
      } catch (error) {
        if (!(error instanceof Overtaken) || tries === TRIES) throw error;
        const before = await sentBefore<ImportReportDto>(this.records, sent);
        if (before) return before;
      }
    }
  }

  async list(actor: Actor, query: PageQuery): Promise<Page<ImportDto>> {
    const [before] = keyOf(query.cursor, 'id') ?? [null];
    const rows = await this.records.page<ImportReportDto>(
      'drop-offs',
      reachOf(actor),
      before === null ? null : String(before),
      query.limit,
    );
    return pageOf(rows, query.limit, ({ id }) => [id], view);
  }

  async get(actor: Actor, id: string): Promise<ImportReportDto> {
    const report = await this.records.report<ImportReportDto>('drop-offs', id, reachOf(actor));
    if (!report) throw notFound('import');
    return report;
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

  private async keep(
    write: SqlWrite,
    row: NewImport<ImportReportDto>,
    fresh: readonly NewLine[],
  ): Promise<void> {
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

function requireManager(actor: Actor, { sites }: ImportSettingsDto): void {
  if (sites.some(({ siteId }) => !actor.mayAt('manager', siteId.toLowerCase())))
    throw new Problem('other-site');
}

function rowOf({ kind, sites }: NewImportDto, { sha256, ...sent }: Sent): Omit<NewImport, 'report'> {
  const siteIds = new Set(sites.map(({ siteId }) => siteId.toLowerCase()));
  const [siteId] = siteIds;
  return { ...sent, kind, siteId: siteIds.size === 1 && siteId ? siteId : null, fileSha256: sha256 };
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

function view({ fileSha256, recordedAt, ...row }: ImportLine<ImportReportDto>): ImportDto {
  return {
    ...row,
    kind: 'drop-offs',
    fileSha256: fileSha256.toString('hex'),
    recordedAt: recordedAt.toISOString(),
  };
}
