import { Controller, Get, Query } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { DiversionDto, DiversionQuery } from './diversion.dto.js';
import { DiversionService } from './diversion.service.js';

@ApiTags('reporting')
@ApiBearerAuth()
@Controller('diversion')
export class DiversionController {
  constructor(private readonly diversion: DiversionService) {}

  @Get()
  @Allow('manager', at.ownSites())
  @ApiOperation({
    summary: 'What was kept out of disposal in a period, as it stands now',
    description:
      'Local days of each site, `to` excluded. Figures are live: corrections change them. Printed rows need not add ' +
      'up to the printed total, which is rounded from the exact sum.',
  })
  @ApiOkResponse({ type: DiversionDto })
  live(@Asker() actor: Actor, @Query() query: DiversionQuery): Promise<DiversionDto> {
    return this.diversion.live(actor, query);
  }
}
