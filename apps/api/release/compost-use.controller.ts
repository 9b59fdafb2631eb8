import { Controller, Get, Query } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { CompostUseDto, CompostUseQuery } from './compost-use.dto.js';
import { CompostUseService } from './compost-use.service.js';

@ApiTags('release')
@ApiBearerAuth()
@Controller('compost-use')
export class CompostUseController {
  constructor(private readonly service: CompostUseService) {}

  @Get()
  @Allow('volunteer', at.ownSites())
  @ApiOperation({
    summary: 'Compost for an area and a depth, or the area or depth that a volume makes',
    description:
      'Two of area, depth and volume, each with its unit; the third is worked out. Nothing is recorded.',
  })
  @ApiOkResponse({ type: CompostUseDto })
  use(@Query() query: CompostUseQuery): CompostUseDto {
    return this.service.use(query);
  }
}
