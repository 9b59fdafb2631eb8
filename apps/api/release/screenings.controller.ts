import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import { NewScreeningDto, ScreeningDto, ScreeningPageDto } from './screenings.dto.js';
import { ScreeningsService } from './screenings.service.js';

@ApiTags('release')
@ApiBearerAuth()
@Controller('batches/:id/screenings')
export class ScreeningsController {
  constructor(private readonly screenings: ScreeningsService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Screenings of a batch, the latest first, voided ones included' })
  @ApiOkResponse({ type: ScreeningPageDto })
  list(@IdParam() id: string, @Query() query: PageQuery): Promise<ScreeningPageDto> {
    return this.screenings.list(id, query);
  }

  @Post()
  @Allow('manager', at.thing('batch'))
  @ApiOperation({
    summary: 'Record what screening gave: compost, overs, residue',
    description: 'Of a condemned batch: as what it was carried off, residue or overs to be worked again.',
  })
  @ApiCreatedResponse({ type: ScreeningDto })
  @ApiOkResponse({ type: ScreeningDto, description: 'It had been sent before' })
  async record(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewScreeningDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<ScreeningDto> {
    return answer(reply, await this.screenings.record(actor, id, dto));
  }

  @Post(':screeningId/void')
  @HttpCode(200)
  @Allow('manager', at.thing('batch'))
  @ApiOperation({ summary: 'Take a screening back; it stays, marked' })
  @ApiOkResponse({ type: ScreeningDto })
  void(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IdParam('screeningId') screeningId: string,
    @Body() dto: VoidDto,
  ): Promise<ScreeningDto> {
    return this.screenings.void(actor, id, screeningId, dto.reason);
  }
}
