import { Controller, Get } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import {
  type GreenhouseSet,
  type GreenhouseSetCode,
  greenhouseSets,
  wasteCategories,
} from '#libs/accounting';
import { Allow, at } from '../http/access/access.js';
import { GreenhouseSetDto, GreenhouseSetsDto } from './greenhouse.dto.js';

@ApiTags('reporting')
@ApiBearerAuth()
@Controller('greenhouse-sets')
export class GreenhouseController {
  @Get()
  @Allow('manager', at.ownSites())
  @ApiOperation({
    summary: 'Published sets of greenhouse factors that a report may be estimated by, one at a time',
  })
  @ApiOkResponse({ type: GreenhouseSetsDto })
  list(): GreenhouseSetsDto {
    return { items: greenhouseSets.map(view) };
  }
}

function view({ byCategory, factorsOf, perKg: _, code, ...told }: GreenhouseSet): GreenhouseSetDto {
  const categories = wasteCategories.filter((category) => byCategory[category]);
  return {
    ...told,
    code: code as GreenhouseSetCode,
    categories,
    factors: factorsOf(categories),
    notes: [...told.notes],
  };
}
