import { Body, Controller, Get, HttpCode, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { answer } from '../http/writes/answer.js';
import {
  CloseShiftDto,
  NewShiftDto,
  OpenedShiftDto,
  ShiftDto,
  ShiftPageDto,
  ShiftsQuery,
} from './shifts.dto.js';
import { ShiftsService } from './shifts.service.js';

@ApiTags('intake')
@ApiBearerAuth()
@Controller('shifts')
export class ShiftsController {
  constructor(private readonly shifts: ShiftsService) {}

  @Post()
  @Allow('volunteer', at.site())
  @ApiOperation({ summary: 'Open a hub' })
  @ApiCreatedResponse({ type: OpenedShiftDto })
  @ApiOkResponse({ type: OpenedShiftDto, description: 'It was sent before: as it stands' })
  async open(
    @Asker() actor: Actor,
    @Body() dto: NewShiftDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<OpenedShiftDto> {
    return answer(reply, await this.shifts.open(actor, dto));
  }

  @Get()
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'Shifts, newest first; a volunteer sees the open one and their own' })
  @ApiOkResponse({ type: ShiftPageDto })
  list(@Asker() actor: Actor, @Query() query: ShiftsQuery): Promise<ShiftPageDto> {
    return this.shifts.list(actor, query);
  }

  @Get(':id')
  @Allow('volunteer', at.thing('shift'))
  @ApiOperation({ summary: 'One shift with its running totals' })
  @ApiOkResponse({ type: ShiftDto })
  get(@Asker() actor: Actor, @IdParam() id: string): Promise<ShiftDto> {
    return this.shifts.get(actor, id);
  }

  @Post(':id/close')
  @HttpCode(200)
  @Allow('volunteer', at.thing('shift'))
  @ApiOperation({ summary: 'Close a shift with the lots counted; the answer tells whether the count agrees' })
  @ApiOkResponse({ type: ShiftDto })
  close(@Asker() actor: Actor, @IdParam() id: string, @Body() dto: CloseShiftDto): Promise<ShiftDto> {
    return this.shifts.close(actor, id, dto);
  }
}
