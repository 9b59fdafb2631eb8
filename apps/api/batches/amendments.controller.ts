import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import { AmendmentDto, AmendmentPageDto, NewAmendmentDto } from './amendments.dto.js';
import { AmendmentsService } from './amendments.service.js';

@ApiTags('batches')
@ApiBearerAuth()
@Controller('batches/:id/amendments')
export class AmendmentsController {
  constructor(private readonly amendments: AmendmentsService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'What came into the batch through no drop-off, voided amendments included' })
  @ApiOkResponse({ type: AmendmentPageDto })
  list(@IdParam() id: string, @Query() query: PageQuery): Promise<AmendmentPageDto> {
    return this.amendments.list(id, query);
  }

  @Post()
  @Allow('manager', at.thing('batch'))
  @ApiOperation({ summary: 'Add material from stock, water, or overs of an earlier batch' })
  @ApiCreatedResponse({ type: AmendmentDto })
  @ApiOkResponse({ type: AmendmentDto, description: 'The same was sent before: the first result' })
  async add(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewAmendmentDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<AmendmentDto> {
    return answer(reply, await this.amendments.add(actor, id, dto));
  }

  @Post(':amendmentId/void')
  @Allow('manager', at.thing('batch'))
  @HttpCode(200)
  @ApiOperation({ summary: 'Take an amendment back while the batch is built or hot; it stays, marked' })
  @ApiOkResponse({ type: AmendmentDto })
  void(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IdParam('amendmentId') amendmentId: string,
    @Body() dto: VoidDto,
  ): Promise<AmendmentDto> {
    return this.amendments.void(actor, id, amendmentId, dto.reason);
  }
}
