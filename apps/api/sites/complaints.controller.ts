import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import {
  ComplaintDto,
  ComplaintPageDto,
  ComplaintsQuery,
  NewComplaintActionDto,
  NewComplaintDto,
} from './complaints.dto.js';
import { ComplaintsService } from './complaints.service.js';

@ApiTags('sites')
@ApiBearerAuth()
@Controller('complaints')
export class ComplaintsController {
  constructor(private readonly complaints: ComplaintsService) {}

  @Get()
  @Allow('operator', at.ownSites())
  @ApiOperation({ summary: 'Complaints about one’s sites and what was done, newest first' })
  @ApiOkResponse({ type: ComplaintPageDto })
  list(@Asker() actor: Actor, @Query() query: ComplaintsQuery): Promise<ComplaintPageDto> {
    return this.complaints.list(actor, query);
  }

  @Get(':id')
  @Allow('operator', at.thing('complaint'))
  @ApiOperation({ summary: 'One complaint' })
  @ApiOkResponse({ type: ComplaintDto })
  get(@IdParam() id: string): Promise<ComplaintDto> {
    return this.complaints.get(id);
  }

  @Post()
  @Allow('operator', at.site())
  @ApiOperation({ summary: 'Record a complaint, without the name of who complained' })
  @ApiCreatedResponse({ type: ComplaintDto })
  @ApiOkResponse({ type: ComplaintDto, description: 'It was sent before: as it stands' })
  async record(
    @Asker() actor: Actor,
    @Body() dto: NewComplaintDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<ComplaintDto> {
    return answer(reply, await this.complaints.record(actor, dto));
  }

  @Post(':id/actions')
  @Allow('operator', at.thing('complaint'))
  @ApiOperation({ summary: 'Record what was done about a complaint' })
  @ApiCreatedResponse({ type: ComplaintDto })
  @ApiOkResponse({ type: ComplaintDto, description: 'It was sent before: as it stands' })
  async act(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewComplaintActionDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<ComplaintDto> {
    return answer(reply, await this.complaints.act(actor, id, dto));
  }

  @Post(':id/void')
  @HttpCode(200)
  @Allow('manager', at.thing('complaint'))
  @ApiOperation({ summary: 'Take a complaint back that was entered by mistake' })
  @ApiOkResponse({ type: ComplaintDto })
  void(@Asker() actor: Actor, @IdParam() id: string, @Body() dto: VoidDto): Promise<ComplaintDto> {
    return this.complaints.void(actor, id, dto.reason);
  }
}
