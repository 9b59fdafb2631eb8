import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import { NewTurnDto, TurnDto, TurnPageDto } from './work.dto.js';
import { TurnsService } from './turns.service.js';

@ApiTags('monitoring')
@ApiBearerAuth()
@Controller('batches/:id/turns')
export class TurnsController {
  constructor(private readonly turns: TurnsService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Turns of a batch, the latest first, voided ones included' })
  @ApiOkResponse({ type: TurnPageDto })
  list(@IdParam() id: string, @Query() query: PageQuery): Promise<TurnPageDto> {
    return this.turns.list(id, query);
  }

  @Post()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({
    summary: 'Record a turn in place; a move to another bay is a turn as well and has a route of its own',
  })
  @ApiCreatedResponse({ type: TurnDto })
  @ApiOkResponse({ type: TurnDto, description: 'It had been sent before' })
  async record(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewTurnDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<TurnDto> {
    return answer(reply, await this.turns.record(actor, id, dto));
  }

  @Post(':turnId/void')
  @HttpCode(200)
  @Allow('manager', at.thing('batch'))
  @ApiOperation({ summary: 'Take a turn back; it stays, marked, and counts for nothing' })
  @ApiOkResponse({ type: TurnDto })
  void(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IdParam('turnId') turnId: string,
    @Body() dto: VoidDto,
  ): Promise<TurnDto> {
    return this.turns.void(actor, id, turnId, dto.reason);
  }
}
