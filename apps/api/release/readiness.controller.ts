import { Controller, Get } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { ReadinessDto } from './readiness.dto.js';
import { ReadinessService } from './readiness.service.js';

@ApiTags('release')
@ApiBearerAuth()
@Controller('batches/:id/readiness')
export class ReadinessController {
  constructor(private readonly service: ReadinessService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({
    summary:
      'Whether a batch looks ready, sign by sign, and when its open gates can be met if readings go on as now',
    description: 'It informs and promises nothing: no gate uses it.',
  })
  @ApiOkResponse({ type: ReadinessDto })
  readiness(@IdParam() id: string): Promise<ReadinessDto> {
    return this.service.readiness(id);
  }
}
