import { Body, Controller, Get, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { BodyLimit } from '../http/body-limit.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { answer } from '../http/writes/answer.js';
import { IMPORT_BODY_MAX_BYTES, ImportPageDto, ImportReportDto, NewImportDto } from './imports.dto.js';
import { ImportsService } from './imports.service.js';

@ApiTags('records')
@ApiBearerAuth()
@Controller('imports')
export class ImportsController {
  constructor(private readonly imports: ImportsService) {}

  @Get()
  @Allow('manager', at.ownSites())
  @ApiOperation({ summary: 'Files that were imported, newest first' })
  @ApiOkResponse({ type: ImportPageDto })
  list(@Asker() actor: Actor, @Query() query: PageQuery): Promise<ImportPageDto> {
    return this.imports.list(actor, query);
  }

  @Get(':id')
  @Allow('manager', at.ownSites())
  @ApiOperation({ summary: 'What became of every line of a file' })
  @ApiOkResponse({ type: ImportReportDto })
  get(@Asker() actor: Actor, @IdParam() id: string): Promise<ImportReportDto> {
    return this.imports.get(actor, id);
  }

  @Post()
  @Allow('manager', at.ownSites())
  @BodyLimit(IMPORT_BODY_MAX_BYTES)
  @ApiOperation({
    summary: 'Import historic drop-offs from a CSV file, or try it (dryRun)',
    description:
      'All of it or nothing: while a line is refused and not named in leaveOut, nothing is kept (422). Lines that were ' +
      'imported before are known again and not counted twice. The asker is a manager at every site that is named.',
  })
  @ApiCreatedResponse({ type: ImportReportDto })
  @ApiOkResponse({ type: ImportReportDto, description: 'A dry run, or sent before' })
  async run(
    @Asker() actor: Actor,
    @Body() dto: NewImportDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<ImportReportDto> {
    return answer(reply, await this.imports.run(actor, dto));
  }
}
