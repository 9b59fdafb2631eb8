import { Body, Controller, Get, Patch, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IfMatch, withEtag } from '../http/dto/etag.js';
import { IdParam } from '../http/dto/id.js';
import { ContainerChangeDto, ContainerDto, ContainerPageDto, NewContainerDto } from './containers.dto.js';
import { ContainersService } from './containers.service.js';
import { SiteThingsQuery } from './site-fields.js';

@ApiTags('sites')
@ApiBearerAuth()
@Controller('containers')
export class ContainersController {
  constructor(private readonly containers: ContainersService) {}

  @Get()
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'Containers of one’s own sites' })
  @ApiOkResponse({ type: ContainerPageDto })
  list(@Asker() actor: Actor, @Query() query: SiteThingsQuery): Promise<ContainerPageDto> {
    return this.containers.list(actor, query);
  }

  @Get(':id')
  @Allow('volunteer', at.thing('container'))
  @ApiOperation({ summary: 'One container' })
  @ApiOkResponse({ type: ContainerDto })
  async get(@IdParam() id: string, @Res({ passthrough: true }) reply: FastifyReply): Promise<ContainerDto> {
    return withEtag(reply, await this.containers.get(id));
  }

  @Post()
  @Allow('manager', at.site())
  @ApiOperation({ summary: 'Add a container with its tare' })
  @ApiCreatedResponse({ type: ContainerDto })
  async create(
    @Asker() actor: Actor,
    @Body() dto: NewContainerDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<ContainerDto> {
    return withEtag(reply, await this.containers.create(actor, dto));
  }

  @Patch(':id')
  @Allow('manager', at.thing('container'))
  @ApiOperation({ summary: 'Change or retire a container' })
  @ApiOkResponse({ type: ContainerDto })
  async change(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IfMatch() version: number,
    @Body() dto: ContainerChangeDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<ContainerDto> {
    return withEtag(reply, await this.containers.change(actor, id, version, dto));
  }
}
