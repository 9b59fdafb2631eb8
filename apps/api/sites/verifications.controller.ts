import { Body, Controller, Get, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { answer } from '../http/writes/answer.js';
import { NewVerificationDto, VerificationDto, VerificationPageDto } from './verifications.dto.js';
import { VerificationsService } from './verifications.service.js';

@ApiTags('sites')
@ApiBearerAuth()
@Controller('instruments/:id/verifications')
export class VerificationsController {
  constructor(private readonly verifications: VerificationsService) {}

  @Get()
  @Allow('volunteer', at.thing('instrument'))
  @ApiOperation({ summary: 'The verification log, newest first' })
  @ApiOkResponse({ type: VerificationPageDto })
  list(@IdParam() id: string, @Query() query: PageQuery): Promise<VerificationPageDto> {
    return this.verifications.list(id, query);
  }

  @Post()
  @Allow('manager', at.thing('instrument'))
  @ApiOperation({ summary: 'Add a verification to the log; sent again under its id it is answered with 200' })
  @ApiCreatedResponse({ type: VerificationDto })
  @ApiOkResponse({ type: VerificationDto, description: 'It was recorded before' })
  async record(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewVerificationDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<VerificationDto> {
    return answer(reply, await this.verifications.record(actor, id, dto));
  }
}
