import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import { NewSetAsideDto, SetAsideDto, SetAsidePageDto, SetAsideQuery } from './set-aside.dto.js';
import { SetAsideService } from './set-aside.service.js';

@ApiTags('loggers')
@ApiBearerAuth()
@Controller('logger-readings/set-aside')
export class SetAsideController {
  constructor(private readonly setAside: SetAsideService) {}

  @Get()
  @Allow('operator', at.ownSites())
  @ApiOperation({
    summary: 'Spans of a logger’s readings that were set aside, the latest first, voided ones included',
  })
  @ApiOkResponse({ type: SetAsidePageDto })
  list(@Asker() actor: Actor, @Query() query: SetAsideQuery): Promise<SetAsidePageDto> {
    return this.setAside.list(actor, query);
  }

  @Post()
  @Allow('operator', at.ownSites())
  @ApiOperation({
    summary: 'Set a span of a logger’s readings aside, such as of probes pulled out for a turn',
    description:
      'They are kept and told as before, and count neither for nor against a batch; every verdict that they would have ' +
      'been part of says so. Refused where one of the batches is released or condemned.',
  })
  @ApiCreatedResponse({ type: SetAsideDto })
  @ApiOkResponse({ type: SetAsideDto, description: 'It had been sent before' })
  async record(
    @Asker() actor: Actor,
    @Body() dto: NewSetAsideDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SetAsideDto> {
    return answer(reply, await this.setAside.record(actor, dto));
  }

  @Post(':id/void')
  @HttpCode(200)
  @Allow('manager', at.ownSites())
  @ApiOperation({ summary: 'Let readings that were set aside count again; that they were stays, marked' })
  @ApiOkResponse({ type: SetAsideDto })
  void(@Asker() actor: Actor, @IdParam() id: string, @Body() dto: VoidDto): Promise<SetAsideDto> {
    return this.setAside.void(actor, id, dto.reason);
  }
}
