import { Controller, Get } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { GatesDto } from './gates.dto.js';
import { GatesService } from './gates.service.js';

@ApiTags('release')
@ApiBearerAuth()
@Controller('batches/:id/gates')
export class GatesController {
  constructor(private readonly service: GatesService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({
    summary: 'What stands between a batch and its release',
    description: 'It speaks of what is recorded; the permit and the local authority decide.',
  })
  @ApiOkResponse({ type: GatesDto })
  gates(@IdParam() id: string): Promise<GatesDto> {
    return this.service.gates(id);
  }
}
