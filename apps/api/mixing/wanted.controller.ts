import { Controller, Get } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { WantedDto } from './wanted.dto.js';
import { WantedService } from './wanted.service.js';

@ApiTags('mixing')
@ApiBearerAuth()
@Controller('sites/:id/wanted')
export class WantedController {
  constructor(private readonly wanted: WantedService) {}

  @Get()
  @Allow('operator', at.site('params'))
  @ApiOperation({ summary: 'What to ask donors for: what the batches being built lack beyond the stock' })
  @ApiOkResponse({ type: WantedDto })
  ofSite(@IdParam() id: string): Promise<WantedDto> {
    return this.wanted.ofSite(id);
  }
}
