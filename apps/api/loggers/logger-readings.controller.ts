import { Body, Controller, Get, Post, Query, Res } from '@nestjs/common';
import {
  ApiBearerAuth,
  ApiBody,
  ApiCreatedResponse,
  ApiOkResponse,
  ApiOperation,
  ApiTags,
} from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, AllowDevice, Asker, AskingDevice, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import type { Device } from '../http/access/device.js';
import { BodyLimit } from '../http/body-limit.js';
import { answer } from '../http/writes/answer.js';
import {
  LoggerHourPageDto,
  LoggerHoursQuery,
  LoggerReadingsDto,
  NewLoggerReadingsDto,
  READINGS_BODY_MAX_BYTES,
} from './logger-readings.dto.js';
import { LoggerReadingsService } from './logger-readings.service.js';
import { readingsIn } from './well-formed.js';

@ApiTags('loggers')
@ApiBearerAuth()
@Controller('logger-readings')
export class LoggerReadingsController {
  constructor(private readonly readings: LoggerReadingsService) {}

  @Get()
  @Allow('operator', at.ownSites())
  @ApiOperation({ summary: 'What a logger of one’s own sites told, hour by hour, the latest first' })
  @ApiOkResponse({ type: LoggerHourPageDto })
  hours(@Asker() actor: Actor, @Query() query: LoggerHoursQuery): Promise<LoggerHourPageDto> {
    return this.readings.hours(actor, query);
  }

  @Post()
  @AllowDevice()
  @BodyLimit(READINGS_BODY_MAX_BYTES)
  @ApiOperation({
    summary: 'Send up to 5,000 readings, each kept or refused for itself',
    description:
      'May be sent again as it is: what was kept is known again and not counted twice. A reading is of one probe at one ' +
      'instant; with another temperature it is refused, and what was kept first stands.',
  })
  @ApiBody({ type: NewLoggerReadingsDto })
  @ApiCreatedResponse({ type: LoggerReadingsDto })
  @ApiOkResponse({ type: LoggerReadingsDto, description: 'Nothing of it is new' })
  async record(
    @AskingDevice() device: Device,
    @Body() body: object,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<LoggerReadingsDto> {
    return answer(reply, await this.readings.record(device, readingsIn(body)));
  }
}
