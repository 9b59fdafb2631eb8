import { Body, Controller, Get, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IfMatch, withEtag } from '../http/dto/etag.js';
import { RuleCodeParam } from '../http/dto/id.js';
import {
  NewProcessRuleDto,
  ProcessRuleDto,
  ProcessRuleListDto,
  ProcessRuleTermsDto,
  RuleVersionQuery,
} from './process-rules.dto.js';
import { ProcessRulesService } from './process-rules.service.js';

@ApiTags('sites')
@ApiBearerAuth()
@Controller('process-rules')
export class ProcessRulesController {
  constructor(private readonly rules: ProcessRulesService) {}

  @Get()
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'The process rules that are known here, with their sources' })
  @ApiOkResponse({ type: ProcessRuleListDto })
  list(): Promise<ProcessRuleListDto> {
    return this.rules.list();
  }

  @Get(':code')
  @Allow('volunteer', at.ownSites())
  @ApiOperation({ summary: 'One process rule' })
  @ApiOkResponse({ type: ProcessRuleDto })
  async get(
    @RuleCodeParam() code: string,
    @Query() { version }: RuleVersionQuery,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<ProcessRuleDto> {
    return withEtag(reply, await this.rules.get(code, version));
  }

  @Post()
  @Allow('coordinator', at.programme())
  @ApiOperation({
    summary: 'Enter a process rule of one’s own',
    description:
      'How sure its text is (textStatus), and where it was read, is the word of whoever enters it.',
  })
  @ApiCreatedResponse({ type: ProcessRuleDto })
  async create(
    @Asker() actor: Actor,
    @Body() dto: NewProcessRuleDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<ProcessRuleDto> {
    return withEtag(reply, await this.rules.create(actor, dto));
  }

  @Post(':code/versions')
  @Allow('coordinator', at.programme())
  @ApiOperation({
    summary: 'Enter the next version of a process rule of one’s own',
    description: 'Whole, not only what differs. Batches keep the version they began under.',
  })
  @ApiCreatedResponse({ type: ProcessRuleDto })
  async amend(
    @Asker() actor: Actor,
    @RuleCodeParam() code: string,
    @IfMatch() version: number,
    @Body() dto: ProcessRuleTermsDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<ProcessRuleDto> {
    return withEtag(reply, await this.rules.amend(actor, code, version, dto));
  }
}
