import { Controller, Get, Query } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { ProcessAnswerService } from './process-answer.service.js';
import { ProcessDto, ProcessQuery } from './process.dto.js';

@ApiTags('monitoring')
@ApiBearerAuth()
@Controller()
export class ProcessController {
  constructor(private readonly process: ProcessAnswerService) {}

  @Get('batches/:id/process')
  @Allow('operator', at.thing('batch'))
  @ApiOperation({
    summary: 'What the records show of the process rule, with the evidence',
    description:
      'By the rule of the batch, as its permit applies it, or by another of /process-rules; then by the further rules ' +
      'of the permit. It speaks of the recorded criteria only; the permit and the local authority decide.',
  })
  @ApiOkResponse({ type: ProcessDto })
  verdict(@IdParam() id: string, @Query() query: ProcessQuery): Promise<ProcessDto> {
    return this.process.answer(id, query);
  }
}
