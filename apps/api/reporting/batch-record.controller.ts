import { Controller, Get, Res, StreamableFile } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiProduces, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { batchRecordSchema } from '#libs/documents';
import { Allow, at, Public } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { BatchRecordService } from './batch-record.service.js';

@ApiTags('reporting')
@Controller()
export class BatchRecordController {
  constructor(private readonly records: BatchRecordService) {}

  @Get('batches/:id/record.json')
  @Allow('operator', at.thing('batch'))
  @ApiBearerAuth()
  @ApiOperation({
    summary: 'Everything recorded of a batch, in one document',
    description:
      'Its form is at /api/schemas/batch-record.json. Of a released batch it is the document that was sealed, to the ' +
      'byte, and the ETag is its seal; of any other, a draft.',
  })
  @ApiOkResponse({ schema: { type: 'object', additionalProperties: true } })
  async json(
    @IdParam() id: string,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<StreamableFile> {
    const { json, seal } = await this.records.issued(id);
    if (seal !== null) void reply.header('etag', `"${seal}"`);
    return new StreamableFile(Buffer.from(json), { type: 'application/json; charset=utf-8' });
  }

  @Get('batches/:id/record.pdf')
  @Allow('operator', at.thing('batch'))
  @ApiBearerAuth()
  @ApiOperation({ summary: 'The same document, printed' })
  @ApiProduces('application/pdf')
  @ApiOkResponse({ schema: { type: 'string', format: 'binary' } })
  async pdf(@IdParam() id: string): Promise<StreamableFile> {
    const { bytes, fileName } = await this.records.pdf(id);
    return new StreamableFile(bytes, {
      type: 'application/pdf',
      disposition: `inline; filename="${fileName}"`,
      length: bytes.length,
    });
  }

  @Get('schemas/batch-record.json')
  @Public()
  @ApiOperation({ summary: 'JSON Schema of the batch record' })
  @ApiOkResponse({ schema: { type: 'object', additionalProperties: true } })
  schema(): object {
    return batchRecordSchema;
  }
}
