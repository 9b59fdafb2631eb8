import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import { NewWateringDto, WateringDto, WateringPageDto } from './work.dto.js';
import { WateringsService } from './waterings.service.js';

@ApiTags('monitoring')
@ApiBearerAuth()
@Controller('batches/:id/waterings')
export class WateringsController {
  constructor(private readonly waterings: WateringsService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Waterings of a batch, the latest first, voided ones included' })
  @ApiOkResponse({ type: WateringPageDto })
  list(@IdParam() id: string, @Query() query: PageQuery): Promise<WateringPageDto> {
    return this.waterings.list(id, query);
  }

  @Post()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Record water given to a batch' })
  @ApiCreatedResponse({ type: WateringDto })
  @ApiOkResponse({ type: WateringDto, description: 'It had been sent before' })
  async record(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewWateringDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<WateringDto> {
    return answer(reply, await this.waterings.record(actor, id, dto));
  }

  @Post(':wateringId/void')
  @HttpCode(200)
  @Allow('manager', at.thing('batch'))
  @ApiOperation({ summary: 'Take a watering back; it stays, marked, and counts for nothing' })
  @ApiOkResponse({ type: WateringDto })
  void(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IdParam('wateringId') wateringId: string,
    @Body() dto: VoidDto,
  ): Promise<WateringDto> {
    return this.waterings.void(actor, id, wateringId, dto.reason);
  }
}
