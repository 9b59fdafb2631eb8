import { Controller, Get, Post, Query } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { PageQuery } from '../http/dto/paging.js';
import {
  AuditPageDto,
  AuditQuery,
  AuditSealDto,
  AuditSealPageDto,
  AuditVerificationDto,
} from './audit.dto.js';
import { AuditService } from './audit.service.js';

@ApiTags('records')
@ApiBearerAuth()
@Controller('audit')
export class AuditController {
  constructor(private readonly audit: AuditService) {}

  @Get()
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Who did what and when, newest first' })
  @ApiOkResponse({ type: AuditPageDto })
  list(@Query() query: AuditQuery): Promise<AuditPageDto> {
    return this.audit.list(query);
  }

  @Get('seals')
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Seals over the audit trail, newest first' })
  @ApiOkResponse({ type: AuditSealPageDto })
  listSeals(@Query() query: PageQuery): Promise<AuditSealPageDto> {
    return this.audit.listSeals(query);
  }

  @Post('seals')
  @Allow('coordinator', at.programme())
  @ApiOperation({
    summary: 'Seal the audit trail up to now',
    description:
      'It is sealed every ten minutes anyway. Answers the newest seal, to be kept elsewhere; 503 while a long write is ' +
      'under way.',
  })
  @ApiCreatedResponse({ type: AuditSealDto })
  sealNow(@Asker() actor: Actor): Promise<AuditSealDto> {
    return this.audit.sealNow(actor);
  }

  @Get('verification')
  @Allow('coordinator', at.programme())
  @ApiOperation({ summary: 'Does every seal still hold?' })
  @ApiOkResponse({ type: AuditVerificationDto })
  verify(): Promise<AuditVerificationDto> {
    return this.audit.verify();
  }
}
