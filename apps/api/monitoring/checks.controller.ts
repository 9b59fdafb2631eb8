import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import { CheckDto, CheckPageDto, NewCheckDto } from './checks.dto.js';
import { ChecksService } from './checks.service.js';

@ApiTags('monitoring')
@ApiBearerAuth()
@Controller('batches/:id/checks')
export class ChecksController {
  constructor(private readonly checks: ChecksService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Checks of a batch, the latest first, voided ones included' })
  @ApiOkResponse({ type: CheckPageDto })
  list(@IdParam() id: string, @Query() query: PageQuery): Promise<CheckPageDto> {
    return this.checks.list(id, query);
  }

  @Post()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Record a visit with a thermometer' })
  @ApiCreatedResponse({ type: CheckDto })
  @ApiOkResponse({ type: CheckDto, description: 'It had been sent before' })
  async record(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewCheckDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<CheckDto> {
    return answer(reply, await this.checks.record(actor, id, dto));
  }

  @Post(':checkId/void')
  @HttpCode(200)
  @Allow('manager', at.thing('batch'))
  @ApiOperation({ summary: 'Take a check back; it stays, marked, and counts for nothing' })
  @ApiOkResponse({ type: CheckDto })
  void(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IdParam('checkId') checkId: string,
    @Body() dto: VoidDto,
  ): Promise<CheckDto> {
    return this.checks.void(actor, id, checkId, dto.reason);
  }
}
