import { Controller, Get, Query } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { FacilityYearDto, FacilityYearQuery } from './facilities.dto.js';
import { FacilitiesService } from './facilities.service.js';

@ApiTags('reporting')
@ApiBearerAuth()
@Controller('sites/:id/facility-year')
export class FacilitiesController {
  constructor(private readonly facilities: FacilitiesService) {}

  @Get()
  @Allow('manager', at.site('params'))
  @ApiOperation({ summary: 'What yearly forms ask of a composting site, as it stands now' })
  @ApiOkResponse({ type: FacilityYearDto })
  yearOf(@IdParam() id: string, @Query() query: FacilityYearQuery): Promise<FacilityYearDto> {
    return this.facilities.yearOf(id, query);
  }
}
