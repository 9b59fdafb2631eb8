import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import { NewSampleDto, SampleDto, SamplePageDto } from './samples.dto.js';
import { SamplesService } from './samples.service.js';

@ApiTags('release')
@ApiBearerAuth()
@Controller('batches/:id/samples')
export class SamplesController {
  constructor(private readonly samples: SamplesService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Samples of a batch, the latest first, voided ones included' })
  @ApiOkResponse({ type: SamplePageDto })
  list(@IdParam() id: string, @Query() query: PageQuery): Promise<SamplePageDto> {
    return this.samples.list(id, query);
  }

  @Post()
  @Allow('manager', at.thing('batch'))
  @ApiOperation({ summary: 'Record a test taken of a batch, and how it reads against the permit' })
  @ApiCreatedResponse({ type: SampleDto })
  @ApiOkResponse({ type: SampleDto, description: 'It had been sent before' })
  async record(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewSampleDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SampleDto> {
    return answer(reply, await this.samples.record(actor, id, dto));
  }

  @Post(':sampleId/void')
  @HttpCode(200)
  @Allow('manager', at.thing('batch'))
  @ApiOperation({ summary: 'Take a sample back; it stays, marked, and opens no gate' })
  @ApiOkResponse({ type: SampleDto })
  void(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IdParam('sampleId') sampleId: string,
    @Body() dto: VoidDto,
  ): Promise<SampleDto> {
    return this.samples.void(actor, id, sampleId, dto.reason);
  }
}
