import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { answer } from '../http/writes/answer.js';
import { HoldDto, HoldPageDto, LiftDto, NewHoldDto } from './holds.dto.js';
import { HoldsService } from './holds.service.js';

@ApiTags('release')
@ApiBearerAuth()
@Controller('batches/:id/holds')
export class HoldsController {
  constructor(private readonly holds: HoldsService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Holds of a batch, the latest first, lifted ones included' })
  @ApiOkResponse({ type: HoldPageDto })
  list(@IdParam() id: string, @Query() query: PageQuery): Promise<HoldPageDto> {
    return this.holds.list(id, query);
  }

  @Post()
  @Allow('manager', at.thing('batch'))
  @ApiOperation({
    summary: 'Put a batch on hold: nothing of it is released, handed out or put into another batch',
    description:
      'One hold stands at a time, and no override goes past it. What left before is told by the trace.',
  })
  @ApiCreatedResponse({ type: HoldDto })
  @ApiOkResponse({ type: HoldDto, description: 'It had been sent before' })
  async hold(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewHoldDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<HoldDto> {
    return answer(reply, await this.holds.hold(actor, id, dto));
  }

  @Post(':holdId/lift')
  @HttpCode(200)
  @Allow('manager', at.thing('batch'))
  @ApiOperation({ summary: 'Lift a hold, with the reason; it stays, marked' })
  @ApiOkResponse({ type: HoldDto })
  lift(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IdParam('holdId') holdId: string,
    @Body() dto: LiftDto,
  ): Promise<HoldDto> {
    return this.holds.lift(actor, id, holdId, dto.reason);
  }
}
