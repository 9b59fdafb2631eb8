import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { VoidDto } from '../http/dto/void.dto.js';
import { answer } from '../http/writes/answer.js';
import { AssignedDto, AssignmentDto, AssignmentPageDto, NewAssignmentsDto } from './assignments.dto.js';
import { AssignmentsService } from './assignments.service.js';

@ApiTags('batches')
@ApiBearerAuth()
@Controller('batches/:id/assignments')
export class AssignmentsController {
  constructor(private readonly assignments: AssignmentsService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Which drop-offs are in the batch, voided assignments included' })
  @ApiOkResponse({ type: AssignmentPageDto })
  list(@IdParam() id: string, @Query() query: PageQuery): Promise<AssignmentPageDto> {
    return this.assignments.list(id, query);
  }

  @Post()
  @Allow('manager', at.thing('batch'))
  @ApiOperation({
    summary: 'Put drop-offs into the batch: some of them, in whole or in part, or all that wait',
  })
  @ApiCreatedResponse({ type: AssignedDto })
  @ApiOkResponse({ type: AssignedDto, description: 'Nothing new: sent before, or nothing was waiting' })
  async assign(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewAssignmentsDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<AssignedDto> {
    return answer(reply, await this.assignments.assign(actor, id, dto));
  }

  @Post(':assignmentId/void')
  @Allow('manager', at.thing('batch'))
  @HttpCode(200)
  @ApiOperation({ summary: 'Take an assignment back while the batch is being built; it stays, marked' })
  @ApiOkResponse({ type: AssignmentDto })
  void(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IdParam('assignmentId') assignmentId: string,
    @Body() dto: VoidDto,
  ): Promise<AssignmentDto> {
    return this.assignments.void(actor, id, assignmentId, dto.reason);
  }
}
