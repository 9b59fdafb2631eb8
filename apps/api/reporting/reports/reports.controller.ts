import { Body, Controller, Get, Post, Query, Res, UseGuards } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Throttle, ThrottlerGuard } from '@nestjs/throttler';
import type { FastifyReply } from 'fastify';
import { Allow, AllowReader, Asker, at } from '../../http/access/access.js';
import { Actor } from '../../http/access/actor.js';
import { IdParam } from '../../http/dto/id.js';
import { answer } from '../../http/writes/answer.js';
import { IssuingService } from './issuing.service.js';
import { NewReportDto, NewReportVersionDto, ReportDto, ReportPageDto, ReportsQuery } from './reports.dto.js';
import { ReportsService } from './reports.service.js';

/** Tries a minute from one address, as for a release: whoever holds a stolen session must not guess the password. */
const TRIES = { default: { limit: 60, ttl: 60_000 } };

@ApiTags('reporting')
@ApiBearerAuth()
@Controller('diversion-reports')
export class ReportsController {
  constructor(
    private readonly issuing: IssuingService,
    private readonly reports: ReportsService,
  ) {}

  @Post()
  @Allow('coordinator', at.programme())
  @UseGuards(ThrottlerGuard)
  @Throttle(TRIES)
  @ApiOperation({
    summary: 'Issue what a jurisdiction is told of a period: it is sealed and never changes again',
    description:
      'The period must be over. Figures, the rows they were summed from and the seal are of one moment. Sent again under ' +
      'its id it is answered with 200. Of each period there is one report, and reporting years may not overlap.',
  })
  @ApiCreatedResponse({ type: ReportDto })
  async issue(
    @Asker() actor: Actor,
    @Body() dto: NewReportDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<ReportDto> {
    return answer(reply, await this.issuing.issue(actor, dto));
  }

  @Post(':id/versions')
  @Allow('coordinator', at.programme())
  @UseGuards(ThrottlerGuard)
  @Throttle(TRIES)
  @ApiOperation({
    summary: 'Issue a report anew: the next version lists what changed, line by line, with reasons',
    description: 'The versions before stay as they are. Refused (409) while nothing changed.',
  })
  @ApiCreatedResponse({ type: ReportDto })
  async amend(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewReportVersionDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<ReportDto> {
    return answer(reply, await this.issuing.amend(actor, id, dto));
  }

  @Get()
  @AllowReader()
  @ApiOperation({
    summary:
      'Issued reports, of the latest period first; a municipal reader sees those of the own jurisdiction',
  })
  @ApiOkResponse({ type: ReportPageDto })
  list(@Asker() actor: Actor, @Query() query: ReportsQuery): Promise<ReportPageDto> {
    return this.reports.list(actor, query);
  }

  @Get(':id')
  @AllowReader('id')
  @ApiOperation({ summary: 'One report with its versions' })
  @ApiOkResponse({ type: ReportDto })
  get(@IdParam() id: string): Promise<ReportDto> {
    return this.reports.get(id);
  }
}
