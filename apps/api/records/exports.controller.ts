import { Controller, Get, Query, StreamableFile } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiProduces, ApiTags } from '@nestjs/swagger';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { dropOffColumns } from './drop-off-columns.js';
import { ExportQuery } from './exports.dto.js';
import { ExportsService } from './exports.service.js';

@ApiTags('records')
@ApiBearerAuth()
@Controller('exports')
export class ExportsController {
  constructor(private readonly exports: ExportsService) {}

  @Get('drop-offs.csv')
  @Allow('manager', at.ownSites())
  @ApiOperation({
    summary: 'Drop-offs as a table, one line a lot as it stands now',
    description: `RFC 4180, UTF-8. Void lots are left out. Two at once a process; more are 429. Columns: ${dropOffColumns.map(({ title }) => title).join(', ')}.`,
  })
  @ApiProduces('text/csv')
  @ApiOkResponse({ schema: { type: 'string' } })
  async dropOffs(@Asker() actor: Actor, @Query() query: ExportQuery): Promise<StreamableFile> {
    return new StreamableFile(await this.exports.dropOffs(actor, query), {
      type: 'text/csv; charset=utf-8; header=present',
      disposition: 'attachment; filename="drop-offs.csv"',
    });
  }
}
