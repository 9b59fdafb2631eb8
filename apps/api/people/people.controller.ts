import { Body, Controller, Get, Patch, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at, SignedIn } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IfMatch, withEtag } from '../http/dto/etag.js';
import { IdParam } from '../http/dto/id.js';
import { PageQuery } from '../http/dto/paging.js';
import { NewPersonDto, PersonChangeDto, PersonDto, PersonPageDto } from './people.dto.js';
import { PeopleService } from './people.service.js';

@ApiTags('people')
@ApiBearerAuth()
@Controller('people')
export class PeopleController {
  constructor(private readonly people: PeopleService) {}

  @Get()
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Everybody with an account' })
  @ApiOkResponse({ type: PersonPageDto })
  list(@Query() query: PageQuery): Promise<PersonPageDto> {
    return this.people.list(query);
  }

  @Get('me')
  @SignedIn()
  @ApiOperation({ summary: 'Who is signed in' })
  @ApiOkResponse({ type: PersonDto })
  me(@Asker() actor: Actor): Promise<PersonDto> {
    return this.people.get(actor.personId);
  }

  @Get(':id')
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'One person' })
  @ApiOkResponse({ type: PersonDto })
  async get(@IdParam() id: string, @Res({ passthrough: true }) reply: FastifyReply): Promise<PersonDto> {
    return withEtag(reply, await this.people.get(id));
  }

  @Post()
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Add a person with roles' })
  @ApiCreatedResponse({ type: PersonDto })
  async create(
    @Asker() actor: Actor,
    @Body() dto: NewPersonDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<PersonDto> {
    return withEtag(reply, await this.people.create(actor, dto));
  }

  @Patch(':id')
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Change a person, their roles or their password' })
  @ApiOkResponse({ type: PersonDto })
  async change(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IfMatch() version: number,
    @Body() dto: PersonChangeDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<PersonDto> {
    return withEtag(reply, await this.people.change(actor, id, version, dto));
  }
}
