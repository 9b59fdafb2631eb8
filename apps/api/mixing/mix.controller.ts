import { Controller, Get } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { MixDto } from './mix.dto.js';
import { MixService } from './mix.service.js';

@ApiTags('mixing')
@ApiBearerAuth()
@Controller('batches/:id/mix')
export class MixController {
  constructor(private readonly mixes: MixService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({
    summary: 'The mix as the batch was built, with its ranges, against permit and published ranges',
  })
  @ApiOkResponse({ type: MixDto })
  mix(@IdParam() id: string): Promise<MixDto> {
    return this.mixes.mix(id);
  }
}
