import { Body, Controller, Get, HttpCode, Post, Query, Res, StreamableFile } from '@nestjs/common';
import {
  ApiBearerAuth,
  ApiCreatedResponse,
  ApiOkResponse,
  ApiOperation,
  ApiProduces,
  ApiTags,
} from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import { NewDistributionDto, DistributionDto, DistributionPageDto } from './distributions.dto.js';
import { DistributionsService } from './distributions.service.js';
import { LabelsService } from './labels.service.js';

@ApiTags('release')
@ApiBearerAuth()
@Controller('batches/:id/distributions')
export class DistributionsController {
  constructor(
    private readonly distributions: DistributionsService,
    private readonly labels: LabelsService,
  ) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Distributions of a batch, the latest first, voided ones included' })
  @ApiOkResponse({ type: DistributionPageDto })
  list(@IdParam() id: string, @Query() query: PageQuery): Promise<DistributionPageDto> {
    return this.distributions.list(id, query);
  }

  @Post()
  @Allow('manager', at.thing('batch'))
  @ApiOperation({ summary: 'Record compost that leaves a released batch' })
  @ApiCreatedResponse({ type: DistributionDto })
  @ApiOkResponse({ type: DistributionDto, description: 'It had been sent before' })
  async record(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewDistributionDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<DistributionDto> {
    return answer(reply, await this.distributions.record(actor, id, dto));
  }

  @Get(':distributionId/label.pdf')
  @Allow('operator', at.thing('batch'))
  @ApiOperation({
    summary: 'The label that goes with it',
    description:
      'Four inches wide, as high as A6: code, date, batch, amount, how to use it, cautions, and a QR code to the public ' +
      'record where the yard shows its records and HEAPWRIGHT_PUBLIC_URL is set.',
  })
  @ApiProduces('application/pdf')
  @ApiOkResponse({ schema: { type: 'string', format: 'binary' } })
  async label(
    @IdParam() id: string,
    @IdParam('distributionId') distributionId: string,
  ): Promise<StreamableFile> {
    const { bytes, fileName } = await this.labels.pdf(id, distributionId);
    const disposition = `inline; filename="${fileName}"`;
    return new StreamableFile(bytes, { type: 'application/pdf', disposition, length: bytes.length });
  }

  @Post(':distributionId/void')
  @HttpCode(200)
  @Allow('manager', at.thing('batch'))
  @ApiOperation({ summary: 'Take a distribution back; it stays, marked' })
  @ApiOkResponse({ type: DistributionDto })
  void(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IdParam('distributionId') distributionId: string,
    @Body() dto: VoidDto,
  ): Promise<DistributionDto> {
    return this.distributions.void(actor, id, distributionId, dto.reason);
  }
}
