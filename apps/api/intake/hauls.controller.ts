import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import { DropOffPageDto } from './drop-offs.dto.js';
import { HaulReceiptsService } from './haul-receipts.service.js';
import {
  HaulDto,
  HaulPageDto,
  HaulsQuery,
  NewExplanationDto,
  NewHaulDto,
  NewReceiptDto,
} from './hauls.dto.js';
import { HaulsService } from './hauls.service.js';

const SENT_BEFORE = 'It was sent before: the haul as it stands';

@ApiTags('intake')
@ApiBearerAuth()
@Controller('hauls')
export class HaulsController {
  constructor(
    private readonly hauls: HaulsService,
    private readonly receipts: HaulReceiptsService,
  ) {}

  @Post()
  @Allow('volunteer', at.site())
  @ApiOperation({ summary: 'Record what leaves a hub, for a yard or for somebody else' })
  @ApiCreatedResponse({ type: HaulDto })
  @ApiOkResponse({ type: HaulDto, description: SENT_BEFORE })
  async record(
    @Asker() actor: Actor,
    @Body() dto: NewHaulDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<HaulDto> {
    return answer(reply, await this.hauls.record(actor, dto));
  }

  @Get()
  @Allow('volunteer', at.ownSites())
  @ApiOperation({
    summary: 'Hauls of one’s hubs, and to the yards at which one is an operator, newest first',
  })
  @ApiOkResponse({ type: HaulPageDto })
  list(@Asker() actor: Actor, @Query() query: HaulsQuery): Promise<HaulPageDto> {
    return this.hauls.list(actor, query);
  }

  @Get(':id')
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'One haul: its lots summed, what it weighed, and by how much that differs' })
  @ApiOkResponse({ type: HaulDto })
  get(@Asker() actor: Actor, @IdParam() id: string): Promise<HaulDto> {
    return this.hauls.get(actor, id);
  }

  @Get(':id/lots')
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'The drop-offs that went with it, as they stand, newest first' })
  @ApiOkResponse({ type: DropOffPageDto })
  lots(@Asker() actor: Actor, @IdParam() id: string, @Query() query: PageQuery): Promise<DropOffPageDto> {
    return this.hauls.lots(actor, id, query);
  }

  @Post(':id/receipt')
  @Allow('operator', at.thing('incoming-haul'))
  @ApiOperation({
    summary: 'Receive a haul at its yard; a weight is shared among lots that were only estimated',
  })
  @ApiCreatedResponse({ type: HaulDto })
  @ApiOkResponse({ type: HaulDto, description: SENT_BEFORE })
  async receive(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewReceiptDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<HaulDto> {
    return answer(reply, await this.receipts.receive(actor, id, dto));
  }

  @Post(':id/receipt/void')
  @HttpCode(200)
  @Allow('operator', at.thing('incoming-haul'))
  @ApiOperation({ summary: 'Take a receipt back: a manager, or on the same day whoever recorded it' })
  @ApiOkResponse({ type: HaulDto })
  voidReceipt(@Asker() actor: Actor, @IdParam() id: string, @Body() dto: VoidDto): Promise<HaulDto> {
    return this.receipts.void(actor, id, dto.reason);
  }

  @Post(':id/explanations')
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'Tell why a haul weighed otherwise than it should have' })
  @ApiCreatedResponse({ type: HaulDto })
  @ApiOkResponse({ type: HaulDto, description: SENT_BEFORE })
  async explain(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewExplanationDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<HaulDto> {
    return answer(reply, await this.hauls.explain(actor, id, dto));
  }

  @Post(':id/void')
  @HttpCode(200)
  @Allow('volunteer', at.thing('haul'))
  @ApiOperation({ summary: 'Take a haul back: a manager, or on the same day whoever recorded it' })
  @ApiOkResponse({ type: HaulDto })
  void(@Asker() actor: Actor, @IdParam() id: string, @Body() dto: VoidDto): Promise<HaulDto> {
    return this.hauls.void(actor, id, dto.reason);
  }
}
