import { Body, Controller, Get, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { answer } from '../http/writes/answer.js';
import {
  BatchDto,
  BatchPageDto,
  BatchQuery,
  NewBatchDto,
  NewMoveDto,
  NewStageDto,
  StayDto,
} from './batches.dto.js';
import { BatchesService } from './batches.service.js';
import { MovesService } from './moves.service.js';
import { StagesService } from './stages.service.js';

const AGAIN = 'The same was sent before: the first result';

@ApiTags('batches')
@ApiBearerAuth()
@Controller('batches')
export class BatchesController {
  constructor(
    private readonly batches: BatchesService,
    private readonly stages: StagesService,
    private readonly moves: MovesService,
  ) {}

  @Get()
  @Allow('operator', at.ownSites())
  @ApiOperation({ summary: 'Batches of one’s own yards, the newest first' })
  @ApiOkResponse({ type: BatchPageDto })
  list(@Asker() actor: Actor, @Query() query: BatchQuery): Promise<BatchPageDto> {
    return this.batches.list(actor, query);
  }

  @Get(':id')
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'One batch: its stages, where it lay, and its totals' })
  @ApiOkResponse({ type: BatchDto })
  get(@IdParam() id: string): Promise<BatchDto> {
    return this.batches.get(id);
  }

  @Post()
  @Allow('manager', at.site())
  @ApiOperation({ summary: 'Begin a batch in a bay; the server gives it its code' })
  @ApiCreatedResponse({ type: BatchDto })
  @ApiOkResponse({ type: BatchDto, description: AGAIN })
  async create(
    @Asker() actor: Actor,
    @Body() dto: NewBatchDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<BatchDto> {
    return answer(reply, await this.batches.create(actor, dto));
  }

  @Post(':id/stage')
  @Allow('manager', at.thing('batch'))
  @ApiOperation({ summary: 'Enter the next stage, or condemn the batch; only a signature releases it' })
  @ApiCreatedResponse({ type: BatchDto })
  @ApiOkResponse({ type: BatchDto, description: AGAIN })
  async enterStage(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewStageDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<BatchDto> {
    return answer(reply, await this.stages.enter(actor, id, dto));
  }

  @Post(':id/moves')
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Move the batch to another bay, which turns it as well' })
  @ApiCreatedResponse({ type: StayDto })
  @ApiOkResponse({ type: StayDto, description: AGAIN })
  async move(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewMoveDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<StayDto> {
    return answer(reply, await this.moves.move(actor, id, dto));
  }
}
