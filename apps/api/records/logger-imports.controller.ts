import { Body, Controller, Get, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { BodyLimit } from '../http/body-limit.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { answer } from '../http/writes/answer.js';
import { IMPORT_BODY_MAX_BYTES } from './imports.dto.js';
import { LoggerImportPageDto, LoggerImportReportDto, NewLoggerImportDto } from './logger-imports.dto.js';
import { LoggerImportsService } from './logger-imports.service.js';

@ApiTags('records')
@ApiBearerAuth()
@Controller('logger-imports')
export class LoggerImportsController {
  constructor(private readonly imports: LoggerImportsService) {}

  @Get()
  @Allow('manager', at.ownSites())
  @ApiOperation({ summary: 'Files of logger readings that were imported, newest first' })
  @ApiOkResponse({ type: LoggerImportPageDto })
  list(@Asker() actor: Actor, @Query() query: PageQuery): Promise<LoggerImportPageDto> {
    return this.imports.list(actor, query);
  }

  @Get(':id')
  @Allow('manager', at.ownSites())
  @ApiOperation({ summary: 'What became of a file of logger readings' })
  @ApiOkResponse({ type: LoggerImportReportDto })
  get(@Asker() actor: Actor, @IdParam() id: string): Promise<LoggerImportReportDto> {
    return this.imports.get(actor, id);
  }

  @Post()
  @Allow('manager', at.ownSites())
  @BodyLimit(IMPORT_BODY_MAX_BYTES)
  @ApiOperation({
    summary: 'Import logger readings from a CSV file, or try it (dryRun)',
    description:
      'A column for every probe, or a line for every reading with a column that names the probe. All of it or nothing: ' +
      'while a cell is refused and its line not named in leaveOut, nothing is kept (422). Readings that are there already ' +
      'are known again. The asker is a manager at the site of the logger.',
  })
  @ApiCreatedResponse({ type: LoggerImportReportDto })
  @ApiOkResponse({ type: LoggerImportReportDto, description: 'A dry run, or sent before' })
  async run(
    @Asker() actor: Actor,
    @Body() dto: NewLoggerImportDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<LoggerImportReportDto> {
    return answer(reply, await this.imports.run(actor, dto));
  }
}
