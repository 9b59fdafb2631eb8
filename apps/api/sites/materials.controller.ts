import { Body, Controller, Get, Patch, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IfMatch, withEtag } from '../http/dto/etag.js';
import { MaterialCodeParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { MaterialChangeDto, MaterialDto, MaterialPageDto, NewMaterialDto } from './materials.dto.js';
import { MaterialsService } from './materials.service.js';

@ApiTags('sites')
@ApiBearerAuth()
@Controller('materials')
export class MaterialsController {
  constructor(private readonly materials: MaterialsService) {}

  @Get()
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'Materials and their figures, retired ones included' })
  @ApiOkResponse({ type: MaterialPageDto })
  list(@Query() query: PageQuery): Promise<MaterialPageDto> {
    return this.materials.list(query);
  }

  @Get(':code')
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'One material' })
  @ApiOkResponse({ type: MaterialDto })
  async get(
    @MaterialCodeParam() code: string,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<MaterialDto> {
    return withEtag(reply, await this.materials.get(code));
  }

  @Post()
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Add a material' })
  @ApiCreatedResponse({ type: MaterialDto })
  async create(
    @Asker() actor: Actor,
    @Body() dto: NewMaterialDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<MaterialDto> {
    return withEtag(reply, await this.materials.create(actor, dto));
  }

  @Patch(':code')
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Change or retire a material' })
  @ApiOkResponse({ type: MaterialDto })
  async change(
    @Asker() actor: Actor,
    @MaterialCodeParam() code: string,
    @IfMatch() version: number,
    @Body() dto: MaterialChangeDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<MaterialDto> {
    return withEtag(reply, await this.materials.change(actor, code, version, dto));
  }
}
