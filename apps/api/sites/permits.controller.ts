import { Body, Controller, Get, Patch, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IfMatch, withEtag } from '../http/dto/etag.js';
import { IdParam } from '../http/dto/id.js';
import { PermitChangeDto, PermitDto, PermitPageDto, NewPermitDto } from './permits.dto.js';
import { PermitsService } from './permits.service.js';
import { SiteThingsQuery } from './site-fields.js';

@ApiTags('sites')
@ApiBearerAuth()
@Controller('permits')
export class PermitsController {
  constructor(private readonly permits: PermitsService) {}

  @Get()
  @Allow('operator', at.ownSites())
  @ApiOperation({ summary: 'Permits of one’s own sites' })
  @ApiOkResponse({ type: PermitPageDto })
  list(@Asker() actor: Actor, @Query() query: SiteThingsQuery): Promise<PermitPageDto> {
    return this.permits.list(actor, query);
  }

  @Get(':id')
  @Allow('operator', at.thing('permit'))
  @ApiOperation({ summary: 'One permit' })
  @ApiOkResponse({ type: PermitDto })
  async get(@IdParam() id: string, @Res({ passthrough: true }) reply: FastifyReply): Promise<PermitDto> {
    return withEtag(reply, await this.permits.get(id));
  }

  @Post()
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Enter a permit: every limit is the local one' })
  @ApiCreatedResponse({ type: PermitDto })
  async create(
    @Asker() actor: Actor,
    @Body() dto: NewPermitDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<PermitDto> {
    return withEtag(reply, await this.permits.create(actor, dto));
  }

  @Patch(':id')
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Change what was entered of a permit' })
  @ApiOkResponse({ type: PermitDto })
  async change(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IfMatch() version: number,
    @Body() dto: PermitChangeDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<PermitDto> {
    return withEtag(reply, await this.permits.change(actor, id, version, dto));
  }
}
