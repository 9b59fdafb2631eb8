import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import {
  ApiBearerAuth,
  ApiCreatedResponse,
  ApiExtraModels,
  ApiOkResponse,
  ApiOperation,
  ApiTags,
} from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import { BulkDto, BulkResultDto } from './bulk.dto.js';
import {
  CorrectionDto,
  DropOffDto,
  DropOffHistoryDto,
  DropOffPageDto,
  DropOffsQuery,
  NewDropOffDto,
  PulledRejectDto,
} from './drop-offs.dto.js';
import { DropOffsService } from './drop-offs.service.js';
import { RevisionsService } from './revisions.service.js';

const SENT_BEFORE = 'It was sent before: the first result';

@ApiTags('intake')
@ApiBearerAuth()
@ApiExtraModels(NewDropOffDto)
@Controller('drop-offs')
export class DropOffsController {
  constructor(
    private readonly dropOffs: DropOffsService,
    private readonly revisions: RevisionsService,
  ) {}

  @Post()
  @Allow('volunteer', at.site())
  @ApiOperation({ summary: 'Record one lot, weighed or by volume' })
  @ApiCreatedResponse({ type: DropOffDto })
  @ApiOkResponse({ type: DropOffDto, description: SENT_BEFORE })
  async record(
    @Asker() actor: Actor,
    @Body() dto: NewDropOffDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<DropOffDto> {
    return answer(reply, await this.dropOffs.record(actor, dto));
  }

  @Post('bulk')
  @HttpCode(200)
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'Record up to 500 lots, each accepted or refused for itself' })
  @ApiOkResponse({ type: BulkResultDto })
  async recordBulk(@Asker() actor: Actor, @Body() dto: BulkDto): Promise<BulkResultDto> {
    return { items: await this.dropOffs.recordBulk(actor, dto.items) };
  }

  @Get()
  @Allow('volunteer', at.ownSites())
  @ApiOperation({
    summary: 'Lots as they stand, newest first; a volunteer sees their own and those of their shift',
  })
  @ApiOkResponse({ type: DropOffPageDto })
  list(@Asker() actor: Actor, @Query() query: DropOffsQuery): Promise<DropOffPageDto> {
    return this.dropOffs.list(actor, query);
  }

  @Get(':id')
  @Allow('volunteer', at.thing('drop-off'))
  @ApiOperation({ summary: 'One lot with every revision' })
  @ApiOkResponse({ type: DropOffHistoryDto })
  get(@Asker() actor: Actor, @IdParam() id: string): Promise<DropOffHistoryDto> {
    return this.dropOffs.get(actor, id);
  }

  @Post(':id/corrections')
  @Allow('manager', at.thing('drop-off'))
  @ApiOperation({ summary: 'State a lot anew, and why: its next revision' })
  @ApiCreatedResponse({ type: DropOffDto })
  @ApiOkResponse({ type: DropOffDto, description: SENT_BEFORE })
  async correct(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: CorrectionDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<DropOffDto> {
    return answer(reply, await this.revisions.correct(actor, id, dto));
  }

  @Post(':id/rejects')
  @Allow('volunteer', at.ownSites())
  @ApiOperation({
    summary: 'Take one more reject off a lot: its next revision',
    description: 'At its hub; once a yard has received it, an operator of that yard does so as well.',
  })
  @ApiCreatedResponse({ type: DropOffDto })
  @ApiOkResponse({ type: DropOffDto, description: SENT_BEFORE })
  async pullReject(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: PulledRejectDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<DropOffDto> {
    return answer(reply, await this.revisions.pullReject(actor, id, dto));
  }

  @Post(':id/void')
  @HttpCode(200)
  @Allow('volunteer', at.thing('drop-off'))
  @ApiOperation({ summary: 'Take a lot back: a manager, or at once whoever recorded it' })
  @ApiOkResponse({ type: DropOffDto })
  void(@Asker() actor: Actor, @IdParam() id: string, @Body() dto: VoidDto): Promise<DropOffDto> {
    return this.revisions.void(actor, id, dto.reason);
  }
}
