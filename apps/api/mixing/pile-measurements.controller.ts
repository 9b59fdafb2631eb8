import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import {
  NewPileMeasurementDto,
  PileMeasurementDto,
  PileMeasurementPageDto,
} from '../batches/pile-measurements.service.js';
import { WatchedPilesService } from './watched-piles.service.js';

@ApiTags('batches')
@ApiBearerAuth()
@Controller('batches/:id/pile-measurements')
export class PileMeasurementsController {
  constructor(private readonly piles: WatchedPilesService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'How big a batch was found to be, the latest first, voided ones included' })
  @ApiOkResponse({ type: PileMeasurementPageDto })
  list(@IdParam() id: string, @Query() query: PageQuery): Promise<PileMeasurementPageDto> {
    return this.piles.list(id, query);
  }

  @Post()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Record how big a batch is, by tape, and with a bucket weighed how heavy' })
  @ApiCreatedResponse({ type: PileMeasurementDto })
  @ApiOkResponse({ type: PileMeasurementDto, description: 'It had been sent before' })
  async record(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewPileMeasurementDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<PileMeasurementDto> {
    return answer(reply, await this.piles.record(actor, id, dto));
  }

  @Post(':measurementId/void')
  @HttpCode(200)
  @Allow('manager', at.thing('batch'))
  @ApiOperation({ summary: 'Take a measurement back; it stays, marked, and the one before it counts' })
  @ApiOkResponse({ type: PileMeasurementDto })
  void(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IdParam('measurementId') measurementId: string,
    @Body() dto: VoidDto,
  ): Promise<PileMeasurementDto> {
    return this.piles.void(actor, id, measurementId, dto.reason);
  }
}
