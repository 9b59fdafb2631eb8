import { Body, Controller, Get, Patch, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IfMatch, withEtag } from '../http/dto/etag.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import {
  JurisdictionChangeDto,
  JurisdictionDto,
  JurisdictionPageDto,
  NewJurisdictionDto,
} from './jurisdictions.dto.js';
import { JurisdictionsService } from './jurisdictions.service.js';

@ApiTags('sites')
@ApiBearerAuth()
@Controller('jurisdictions')
export class JurisdictionsController {
  constructor(private readonly jurisdictions: JurisdictionsService) {}

  @Get()
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'Municipalities and counties that material comes from' })
  @ApiOkResponse({ type: JurisdictionPageDto })
  list(@Query() query: PageQuery): Promise<JurisdictionPageDto> {
    return this.jurisdictions.list(query);
  }

  @Get(':id')
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'One jurisdiction' })
  @ApiOkResponse({ type: JurisdictionDto })
  async get(
    @IdParam() id: string,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<JurisdictionDto> {
    return withEtag(reply, await this.jurisdictions.get(id));
  }

  @Post()
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Add a jurisdiction' })
  @ApiCreatedResponse({ type: JurisdictionDto })
  async create(
    @Asker() actor: Actor,
    @Body() dto: NewJurisdictionDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<JurisdictionDto> {
    return withEtag(reply, await this.jurisdictions.create(actor, dto));
  }

  @Patch(':id')
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Change a jurisdiction' })
  @ApiOkResponse({ type: JurisdictionDto })
  async change(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IfMatch() version: number,
    @Body() dto: JurisdictionChangeDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<JurisdictionDto> {
    return withEtag(reply, await this.jurisdictions.change(actor, id, version, dto));
  }
}
