import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import {
  MeasurementDto,
  MeasurementPageDto,
  MeasurementsQuery,
  NewMeasurementDto,
} from './measurements.dto.js';
import { MeasurementsService } from './measurements.service.js';

@ApiTags('sites')
@ApiBearerAuth()
@Controller('material-measurements')
export class MeasurementsController {
  constructor(private readonly measurements: MeasurementsService) {}

  @Get()
  @Allow('operator', at.ownSites())
  @ApiOperation({ summary: 'What was measured of materials at one’s sites, latest sample first' })
  @ApiOkResponse({ type: MeasurementPageDto })
  list(@Asker() actor: Actor, @Query() query: MeasurementsQuery): Promise<MeasurementPageDto> {
    return this.measurements.list(actor, query);
  }

  @Get(':id')
  @Allow('operator', at.thing('material-measurement'))
  @ApiOperation({ summary: 'One measurement' })
  @ApiOkResponse({ type: MeasurementDto })
  get(@IdParam() id: string): Promise<MeasurementDto> {
    return this.measurements.get(id);
  }

  @Post()
  @Allow('manager', at.site())
  @ApiOperation({ summary: 'Record what was measured of a material: the site’s batches use it from then on' })
  @ApiCreatedResponse({ type: MeasurementDto })
  @ApiOkResponse({ type: MeasurementDto, description: 'It was sent before: as it stands' })
  async record(
    @Asker() actor: Actor,
    @Body() dto: NewMeasurementDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<MeasurementDto> {
    return answer(reply, await this.measurements.record(actor, dto));
  }

  @Post(':id/void')
  @HttpCode(200)
  @Allow('manager', at.thing('material-measurement'))
  @ApiOperation({ summary: 'Take a measurement back: what was measured before, or published, stands again' })
  @ApiOkResponse({ type: MeasurementDto })
  void(@Asker() actor: Actor, @IdParam() id: string, @Body() dto: VoidDto): Promise<MeasurementDto> {
    return this.measurements.void(actor, id, dto.reason);
  }
}
