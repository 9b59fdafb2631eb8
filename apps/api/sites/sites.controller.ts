import { Body, Controller, Get, Patch, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IfMatch, withEtag } from '../http/dto/etag.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { NewBayDto, SiteChangeDto, SiteDto, SitePageDto, NewSiteDto } from './sites.dto.js';
import { SitesService } from './sites.service.js';

@ApiTags('sites')
@ApiBearerAuth()
@Controller('sites')
export class SitesController {
  constructor(private readonly sites: SitesService) {}

  @Get()
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'Hubs and yards: one’s own, or all of them for a coordinator' })
  @ApiOkResponse({ type: SitePageDto })
  list(@Asker() actor: Actor, @Query() query: PageQuery): Promise<SitePageDto> {
    return this.sites.list(actor, query);
  }

  @Get(':id')
  @Allow('volunteer', at.site('params'))
  @ApiOperation({ summary: 'One site, with its bays in ground order' })
  @ApiOkResponse({ type: SiteDto })
  async get(@IdParam() id: string, @Res({ passthrough: true }) reply: FastifyReply): Promise<SiteDto> {
    return withEtag(reply, await this.sites.get(id));
  }

  @Post()
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Add a site with its bays' })
  @ApiCreatedResponse({ type: SiteDto })
  async create(
    @Asker() actor: Actor,
    @Body() dto: NewSiteDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SiteDto> {
    return withEtag(reply, await this.sites.create(actor, dto));
  }

  @Post(':id/bays')
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Add a bay after the last one; answers with the site' })
  @ApiCreatedResponse({ type: SiteDto })
  async addBay(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Body() dto: NewBayDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SiteDto> {
    return withEtag(reply, await this.sites.addBay(actor, id, dto));
  }

  @Patch(':id')
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Change a site' })
  @ApiOkResponse({ type: SiteDto })
  async change(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IfMatch() version: number,
    @Body() dto: SiteChangeDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SiteDto> {
    return withEtag(reply, await this.sites.change(actor, id, version, dto));
  }
}
