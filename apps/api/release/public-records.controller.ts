import { Controller, Get, Param, Res } from '@nestjs/common';
import { ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Public } from '../http/access/access.js';
import { notFound } from '../http/problems/catalogue.js';
import { PublicRecordDto } from './public-records.dto.js';
import { PublicRecordsService } from './public-records.service.js';

const SEAL = /^[0-9a-f]{64}$/i;

@ApiTags('release')
@Controller('public/batch-records')
export class PublicRecordsController {
  constructor(private readonly records: PublicRecordsService) {}

  @Get(':seal')
  @Public()
  @ApiOperation({
    summary: 'What the record of a released batch says in short, where its yard shows it',
    description:
      'To anybody who has the seal, as a label carries it. No names of people, no notes and no recipients. Whether the batch ' +
      'is on hold is as of now; the rest is as it was sealed.',
  })
  @ApiOkResponse({ type: PublicRecordDto })
  find(
    @Param('seal') seal: string,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<PublicRecordDto> {
    if (!SEAL.test(seal)) throw notFound('record to be shown');
    // A hold must be seen at once.
    void reply.header('cache-control', 'no-store');
    return this.records.find(seal.toLowerCase());
  }
}
