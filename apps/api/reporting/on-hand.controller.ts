import { Controller, Get, Query } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { OnHandDto, OnHandQuery } from './on-hand.dto.js';
import { SiteOnHandService } from './on-hand.service.js';

@ApiTags('reporting')
@ApiBearerAuth()
@Controller('sites/:id/on-hand')
export class OnHandController {
  constructor(private readonly onHands: SiteOnHandService) {}

  @Get()
  @Allow('operator', at.site('params'))
  @ApiOperation({
    summary: 'What lies at a site, now or at the end of any day: waiting, in process, finished, in stock',
    description: 'As the records stand now: what is corrected later changes what lay there then.',
  })
  @ApiOkResponse({ type: OnHandDto })
  onHand(@IdParam() id: string, @Query() { on }: OnHandQuery): Promise<OnHandDto> {
    return this.onHands.onHand(id, on);
  }
}
