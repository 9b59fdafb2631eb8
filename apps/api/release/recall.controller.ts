import { Controller, Get, StreamableFile } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiProduces, ApiTags } from '@nestjs/swagger';
import { RECALL_COLUMNS } from '#libs/documents';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { type RecallFile, RecallService } from './recall.service.js';

const CSV = 'text/csv; charset=utf-8; header=present';
const COLUMNS = `RFC 4180, UTF-8. Columns: ${RECALL_COLUMNS.map(({ title }) => title).join(', ')}.`;
const PRINTED = 'With room to note whom was told, what is taken for granted, and the cautions.';

@ApiTags('release')
@ApiBearerAuth()
@Controller()
export class RecallController {
  constructor(private readonly recalls: RecallService) {}

  @Get('drop-offs/:id/recall.csv')
  @Allow('operator', at.thing('drop-off'))
  @ApiOperation({ summary: 'Recall list of a drop-off, as a table', description: COLUMNS })
  @ApiProduces('text/csv')
  @ApiOkResponse({ schema: { type: 'string' } })
  async dropOffCsv(@IdParam() id: string): Promise<StreamableFile> {
    return fileOf(await this.recalls.csv('drop-off', id), CSV);
  }

  @Get('drop-offs/:id/recall.pdf')
  @Allow('operator', at.thing('drop-off'))
  @ApiOperation({ summary: 'Recall list of a drop-off, printed', description: PRINTED })
  @ApiProduces('application/pdf')
  @ApiOkResponse({ schema: { type: 'string', format: 'binary' } })
  async dropOffPdf(@IdParam() id: string): Promise<StreamableFile> {
    return fileOf(await this.recalls.pdf('drop-off', id), 'application/pdf');
  }

  @Get('batches/:id/recall.csv')
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Recall list of a batch, as a table', description: COLUMNS })
  @ApiProduces('text/csv')
  @ApiOkResponse({ schema: { type: 'string' } })
  async batchCsv(@IdParam() id: string): Promise<StreamableFile> {
    return fileOf(await this.recalls.csv('batch', id), CSV);
  }

  @Get('batches/:id/recall.pdf')
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'Recall list of a batch, printed', description: PRINTED })
  @ApiProduces('application/pdf')
  @ApiOkResponse({ schema: { type: 'string', format: 'binary' } })
  async batchPdf(@IdParam() id: string): Promise<StreamableFile> {
    return fileOf(await this.recalls.pdf('batch', id), 'application/pdf');
  }
}

function fileOf({ bytes, fileName }: RecallFile, type: string): StreamableFile {
  const disposition = `${type === CSV ? 'attachment' : 'inline'}; filename="${fileName}"`;
  return new StreamableFile(bytes, { type, disposition, length: bytes.length });
}
