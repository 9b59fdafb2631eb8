import { Controller, Get } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { HeadroomDto } from './headroom.dto.js';
import { HeadroomService } from './headroom.service.js';

@ApiTags('reporting')
@ApiBearerAuth()
@Controller('sites/:id/headroom')
export class HeadroomController {
  constructor(private readonly headroom: HeadroomService) {}

  @Get()
  @Allow('operator', at.site('params'))
  @ApiOperation({
    summary: 'How much room is left under the permit, and what to see to before a limit is reached',
  })
  @ApiOkResponse({ type: HeadroomDto })
  of(@IdParam() id: string): Promise<HeadroomDto> {
    return this.headroom.of(id);
  }
}
