import { Body, Controller, Get, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { answer } from '../http/writes/answer.js';
import { MergeDto, MergePageDto, NewMergeDto } from './merges.dto.js';
import { MergesService } from './merges.service.js';

@ApiTags('batches')
@ApiBearerAuth()
@Controller('batches/:id/merges')
export class MergesController {
  constructor(private readonly merges: MergesService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Batches that were put into this one, and the one that it was put into' })
  @ApiOkResponse({ type: MergePageDto })
  list(@IdParam() id: string, @Query() query: PageQuery): Promise<MergePageDto> {
    return this.merges.list(id, query);
  }

  @Post()
  @Allow('manager', at.thing('batch'))
  @ApiOperation({
    summary: 'Put all that lies there of another batch of the yard into this one, which closes the other',
  })
  @ApiCreatedResponse({ type: MergeDto })
  @ApiOkResponse({ type: MergeDto, description: 'The same was sent before: the first result' })
  async merge(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewMergeDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<MergeDto> {
    return answer(reply, await this.merges.merge(actor, id, dto));
  }
}
