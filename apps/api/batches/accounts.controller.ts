import { Controller, Get } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { LineageDto } from './accounts.dto.js';
import { LineageService } from './lineage.service.js';

@ApiTags('batches')
@ApiBearerAuth()
@Controller('batches/:id')
export class AccountsController {
  constructor(private readonly lineages: LineageService) {}

  @Get('lineage')
  @Allow('operator', at.thing('batch'))
  @ApiOperation({
    summary: 'Which batches gave overs to this one or were merged into it, and which had its own',
  })
  @ApiOkResponse({ type: LineageDto })
  lineage(@IdParam() id: string): Promise<LineageDto> {
    return this.lineages.lineage(id);
  }
}
