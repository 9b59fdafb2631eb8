import { Controller, Get } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { BatchAdviceDto } from './advice.dto.js';
import { AdviceService } from './advice.service.js';

@ApiTags('monitoring')
@ApiBearerAuth()
@Controller('batches/:id/advice')
export class AdviceController {
  constructor(private readonly service: AdviceService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({
    summary: 'What to do now: what was seen, likely causes, and what a practitioner would try',
    description: 'Every line names its source, or says that it is common practice. It is never certain.',
  })
  @ApiOkResponse({ type: BatchAdviceDto })
  advice(@IdParam() id: string): Promise<BatchAdviceDto> {
    return this.service.advice(id);
  }
}
