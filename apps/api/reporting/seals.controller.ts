import { Controller, Get, Param } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { SignedIn } from '../http/access/access.js';
import { notFound } from '../http/problems/catalogue.js';
import { SealDto } from './seals.dto.js';
import { SealsService } from './seals.service.js';

const SEAL = /^[0-9a-f]{64}$/i;

@ApiTags('reporting')
@ApiBearerAuth()
@Controller('seals')
export class SealsController {
  constructor(private readonly seals: SealsService) {}

  @Get(':hash')
  @SignedIn()
  @ApiOperation({
    summary: 'Is a printed seal known here, and its document unchanged?',
    description: 'Tells nothing of what the document says.',
  })
  @ApiOkResponse({ type: SealDto })
  check(@Param('hash') hash: string): Promise<SealDto> {
    if (!SEAL.test(hash)) throw notFound('seal');
    return this.seals.check(hash.toLowerCase());
  }
}
