import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import { NewRefusalDto, RefusalDto, RefusalPageDto, RefusalsQuery } from './refusals.dto.js';
import { RefusalsService } from './refusals.service.js';

@ApiTags('intake')
@ApiBearerAuth()
@Controller('refusals')
export class RefusalsController {
  constructor(private readonly refusals: RefusalsService) {}

  @Post()
  @Allow('volunteer', at.site())
  @ApiOperation({ summary: 'Record a load that was turned away' })
  @ApiCreatedResponse({ type: RefusalDto })
  @ApiOkResponse({ type: RefusalDto, description: 'It was sent before: as it stands' })
  async record(
    @Asker() actor: Actor,
    @Body() dto: NewRefusalDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<RefusalDto> {
    return answer(reply, await this.refusals.record(actor, dto));
  }

  @Get()
  @Allow('volunteer', at.ownSites())
  @ApiOperation({
    summary: 'Loads turned away, newest first; a volunteer sees their own and those of their shift',
  })
  @ApiOkResponse({ type: RefusalPageDto })
  list(@Asker() actor: Actor, @Query() query: RefusalsQuery): Promise<RefusalPageDto> {
    return this.refusals.list(actor, query);
  }

  @Post(':id/void')
  @HttpCode(200)
  @Allow('volunteer', at.thing('refusal'))
  @ApiOperation({ summary: 'Take a refusal back: a manager, or at once whoever recorded it' })
  @ApiOkResponse({ type: RefusalDto })
  void(@Asker() actor: Actor, @IdParam() id: string, @Body() dto: VoidDto): Promise<RefusalDto> {
    return this.refusals.void(actor, id, dto.reason);
  }
}
