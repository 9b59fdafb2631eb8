import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import {
  NewStockCountDto,
  StockCountDto,
  StockCountPageDto,
  StockCountsQuery,
  StockDto,
} from './stock.dto.js';
import { StockCountsService } from './stock-counts.service.js';
import { StockService } from './stock.service.js';

@ApiTags('mixing')
@ApiBearerAuth()
@Controller('stock-counts')
export class StockCountsController {
  constructor(private readonly counts: StockCountsService) {}

  @Get()
  @Allow('operator', at.ownSites())
  @ApiOperation({
    summary: 'Counts of what lay in stock at one’s own yards, the latest first, voided ones included',
  })
  @ApiOkResponse({ type: StockCountPageDto })
  list(@Asker() actor: Actor, @Query() query: StockCountsQuery): Promise<StockCountPageDto> {
    return this.counts.list(actor, query);
  }

  @Post()
  @Allow('operator', at.site())
  @ApiOperation({
    summary: 'Record how much of a material lies at a yard: weighed, by volume, or in containers',
  })
  @ApiCreatedResponse({ type: StockCountDto })
  @ApiOkResponse({ type: StockCountDto, description: 'It was sent before: as it stands' })
  async record(
    @Asker() actor: Actor,
    @Body() dto: NewStockCountDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<StockCountDto> {
    return answer(reply, await this.counts.record(actor, dto));
  }

  @Post(':id/void')
  @HttpCode(200)
  @Allow('manager', at.thing('stock-count'))
  @ApiOperation({ summary: 'Take a count back; it stays, marked, and the one before it counts' })
  @ApiOkResponse({ type: StockCountDto })
  void(@Asker() actor: Actor, @IdParam() id: string, @Body() dto: VoidDto): Promise<StockCountDto> {
    return this.counts.void(actor, id, dto.reason);
  }
}

@ApiTags('mixing')
@ApiBearerAuth()
@Controller('sites/:id')
export class StockController {
  constructor(private readonly stock: StockService) {}

  @Get('stock')
  @Allow('operator', at.site('params'))
  @ApiOperation({
    summary: 'What lies in stock at a yard now: what was counted last, less what was used since',
  })
  @ApiOkResponse({ type: StockDto })
  ofSite(@IdParam() id: string): Promise<StockDto> {
    return this.stock.ofSite(id);
  }
}
