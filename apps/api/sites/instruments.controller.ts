import { Body, Controller, Get, Patch, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IfMatch, withEtag } from '../http/dto/etag.js';
import { IdParam } from '../http/dto/id.js';
import {
  InstrumentChangeDto,
  InstrumentDto,
  InstrumentPageDto,
  NewInstrumentDto,
} from './instruments.dto.js';
import { InstrumentsService } from './instruments.service.js';
import { SiteThingsQuery } from './site-fields.js';

@ApiTags('sites')
@ApiBearerAuth()
@Controller('instruments')
export class InstrumentsController {
  constructor(private readonly instruments: InstrumentsService) {}

  @Get()
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'Scales and thermometers of one’s own sites' })
  @ApiOkResponse({ type: InstrumentPageDto })
  list(@Asker() actor: Actor, @Query() query: SiteThingsQuery): Promise<InstrumentPageDto> {
    return this.instruments.list(actor, query);
  }

  @Get(':id')
  @Allow('volunteer', at.thing('instrument'))
  @ApiOperation({ summary: 'One instrument' })
  @ApiOkResponse({ type: InstrumentDto })
  async get(@IdParam() id: string, @Res({ passthrough: true }) reply: FastifyReply): Promise<InstrumentDto> {
    return withEtag(reply, await this.instruments.get(id));
  }

  @Post()
  @Allow('manager', at.site())
  @ApiOperation({ summary: 'Add a scale or a thermometer' })
  @ApiCreatedResponse({ type: InstrumentDto })
  async create(
    @Asker() actor: Actor,
    @Body() dto: NewInstrumentDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<InstrumentDto> {
    return withEtag(reply, await this.instruments.create(actor, dto));
  }

  @Patch(':id')
  @Allow('manager', at.thing('instrument'))
  @ApiOperation({ summary: 'Change or retire an instrument' })
  @ApiOkResponse({ type: InstrumentDto })
  async change(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IfMatch() version: number,
    @Body() dto: InstrumentChangeDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<InstrumentDto> {
    return withEtag(reply, await this.instruments.change(actor, id, version, dto));
  }
}
