import { Controller, Get } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { BatchTraceDto, DistributionTraceDto, DropOffTraceDto } from './trace.dto.js';
import { TraceService } from './trace.service.js';

const TAKEN =
  'A batch is taken to be mixed evenly, and shares are by wet mass put in, water not counted: `assumptions` says what that ' +
  'leaves open. It is arithmetic over records and no measurement; `cautions` says whom to ask.';

@ApiTags('release')
@ApiBearerAuth()
@Controller()
export class TraceController {
  constructor(private readonly traces: TraceService) {}

  @Get('drop-offs/:id/trace')
  @Allow('operator', at.thing('drop-off'))
  @ApiOperation({
    summary:
      'Where a drop-off went: every batch, through overs and merges, and all that was handed out of them',
    description: TAKEN,
  })
  @ApiOkResponse({ type: DropOffTraceDto })
  async dropOff(@IdParam() id: string): Promise<DropOffTraceDto> {
    return (await this.traces.dropOff(id)).trace;
  }

  @Get('batches/:id/trace')
  @Allow('operator', at.thing('batch'))
  @ApiOperation({
    summary: 'Where a batch went, through overs and merges, and what it was made of, back to each drop-off',
    description: TAKEN,
  })
  @ApiOkResponse({ type: BatchTraceDto })
  async batch(@IdParam() id: string): Promise<BatchTraceDto> {
    return (await this.traces.batch(id)).trace;
  }

  @Get('distributions/:id/trace')
  @Allow('operator', at.thing('distribution'))
  @ApiOperation({
    summary:
      'What compost that left was made of: back to every drop-off and to what came from stock, to the gram',
    description: TAKEN,
  })
  @ApiOkResponse({ type: DistributionTraceDto })
  distribution(@IdParam() id: string): Promise<DistributionTraceDto> {
    return this.traces.distribution(id);
  }
}
