import { Body, Controller, Get, HttpCode, Post, Query, Res, StreamableFile } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiProduces, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import {
  type DiversionReport,
  diversionReportCsv,
  diversionReportPdf,
  diversionReportSchema,
} from '#libs/documents';
import { Allow, AllowReader, Asker, at, Public } from '../../http/access/access.js';
import { Actor } from '../../http/access/actor.js';
import { IdParam } from '../../http/dto/id.js';
import { DraftDto, DraftQuery, VersionQuery } from './reports.dto.js';
import { ReportsService } from './reports.service.js';
import { VersionsService } from './versions.service.js';

const JSON_TYPE = 'application/json; charset=utf-8';
const CSV_TYPE = 'text/csv; charset=utf-8; header=present';
const anyJson = { schema: { type: 'object', additionalProperties: true } } as const;
const binary = { schema: { type: 'string', format: 'binary' } } as const;
const text = { schema: { type: 'string' } } as const;

/** What was issued, as files. Each is made of the sealed document alone. */
@ApiTags('reporting')
@ApiBearerAuth()
@Controller()
export class ReportFilesController {
  constructor(
    private readonly reports: ReportsService,
    private readonly versions: VersionsService,
  ) {}

  @Get('diversion-reports/draft.json')
  @Allow('coordinator', at.programme())
  @ApiOperation({
    summary: 'What would be issued now, with what changed since the last version; not sealed',
    description: 'With the settings of the last version; other ones, a `rate` among them, are tried by POST.',
  })
  @ApiOkResponse(anyJson)
  async draftJson(@Asker() actor: Actor, @Query() query: DraftQuery): Promise<StreamableFile> {
    return file(JSON.stringify(await this.versions.draft(actor, draftOf(query))), JSON_TYPE);
  }

  @Get('diversion-reports/draft.pdf')
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'The same draft, printed' })
  @ApiProduces('application/pdf')
  @ApiOkResponse(binary)
  async draftPdf(@Asker() actor: Actor, @Query() query: DraftQuery): Promise<StreamableFile> {
    return pdf(await this.versions.draft(actor, draftOf(query)), null);
  }

  @Post('diversion-reports/draft.json')
  @HttpCode(200)
  @Allow('coordinator', at.programme())
  @ApiOperation({
    summary: 'The draft with a rate or other settings, as they would be issued; nothing is kept',
  })
  @ApiOkResponse(anyJson)
  async triedJson(@Asker() actor: Actor, @Body() dto: DraftDto): Promise<StreamableFile> {
    return file(JSON.stringify(await this.versions.draft(actor, dto)), JSON_TYPE);
  }

  @Post('diversion-reports/draft.pdf')
  @HttpCode(200)
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'The same, printed' })
  @ApiProduces('application/pdf')
  @ApiOkResponse(binary)
  async triedPdf(@Asker() actor: Actor, @Body() dto: DraftDto): Promise<StreamableFile> {
    return pdf(await this.versions.draft(actor, dto), null);
  }

  @Get('diversion-reports/:id.json')
  @AllowReader('id')
  @ApiOperation({
    summary: 'A report as it was sealed, to the byte; the ETag is its seal',
    description: 'Its form is at /api/schemas/diversion-report.json.',
  })
  @ApiOkResponse(anyJson)
  async json(
    @IdParam() id: string,
    @Query() { version }: VersionQuery,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<StreamableFile> {
    const { json, seal } = await this.reports.version(id, version);
    void reply.header('etag', `"${seal}"`);
    return file(json, JSON_TYPE);
  }

  @Get('diversion-reports/:id.csv')
  @AllowReader('id')
  @ApiOperation({ summary: 'Every figure of a report, one line each', description: 'RFC 4180, UTF-8.' })
  @ApiProduces('text/csv')
  @ApiOkResponse(text)
  async csv(@IdParam() id: string, @Query() { version }: VersionQuery): Promise<StreamableFile> {
    const { report } = await this.reports.version(id, version);
    return file(diversionReportCsv(report), CSV_TYPE, `attachment; filename="${nameOf(report)}.csv"`);
  }

  @Get('diversion-reports/:id.pdf')
  @AllowReader('id')
  @ApiOperation({ summary: 'A report, printed; the sealed JSON is attached inside' })
  @ApiProduces('application/pdf')
  @ApiOkResponse(binary)
  async pdf(@IdParam() id: string, @Query() { version }: VersionQuery): Promise<StreamableFile> {
    const { report, seal } = await this.reports.version(id, version);
    return pdf(report, seal);
  }

  @Get('diversion-reports/:id/rows.csv')
  @AllowReader('id')
  @ApiOperation({
    summary: 'The movements a report was made of, as they stood when it was issued',
    description: 'RFC 4180. The SHA-256 of this file is `rows.sha256` of the report.',
  })
  @ApiProduces('text/csv')
  @ApiOkResponse(text)
  async rows(@IdParam() id: string, @Query() { version }: VersionQuery): Promise<StreamableFile> {
    const rows = await this.reports.rowsOf(id, version);
    return new StreamableFile(rows, { type: CSV_TYPE, disposition: 'attachment; filename="rows.csv"' });
  }

  @Get('schemas/diversion-report.json')
  @Public()
  @ApiOperation({ summary: 'JSON Schema of the diversion report' })
  @ApiOkResponse(anyJson)
  schema(): object {
    return diversionReportSchema;
  }
}

const draftOf = ({ greenhouse, ...query }: DraftQuery): DraftDto => ({
  ...query,
  ...(greenhouse === undefined ? {} : { greenhouse: { set: greenhouse } }),
});

const nameOf = ({ period, version }: DiversionReport) =>
  `diversion-report-${period.from}-${period.to}-version-${version}`;

function file(content: string, type: string, disposition?: string): StreamableFile {
  return new StreamableFile(Buffer.from(content), { type, ...(disposition ? { disposition } : {}) });
}

async function pdf(report: DiversionReport, seal: string | null): Promise<StreamableFile> {
  const bytes = await diversionReportPdf(report, seal);
  const name = seal === null ? 'diversion-report-draft' : nameOf(report);
  const disposition = `inline; filename="${name}.pdf"`;
  return new StreamableFile(bytes, { type: 'application/pdf', disposition, length: bytes.length });
}
