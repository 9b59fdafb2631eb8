import { Controller, Get, Query } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { ProcessDto, ProcessQuery, ProcessRuleListDto } from './process.dto.js';
import { ProcessService } from './process.service.js';

@ApiTags('monitoring')
@ApiBearerAuth()
@Controller()
export class ProcessController {
  constructor(private readonly process: ProcessService) {}

  @Get('batches/:id/process')
  @Allow('operator', at.thing('batch'))
  @ApiOperation({
    summary: 'What the records show of the process rule, with the evidence',
    description:
      'By the rule of the batch, as its permit applies it, or by another of /process-rules. It speaks of the recorded ' +
      'criteria only; the permit and the local authority decide.',
  })
  @ApiOkResponse({ type: ProcessDto })
  verdict(@IdParam() id: string, @Query() query: ProcessQuery): Promise<ProcessDto> {
    return this.process.answer(id, query);
  }

  @Get('process-rules')
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'The process rules that are known here, with their sources' })
  @ApiOkResponse({ type: ProcessRuleListDto })
  rules(): ProcessRuleListDto {
    return this.process.rules();
  }
}
