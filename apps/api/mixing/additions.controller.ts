import { Controller, Get, Query } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { AdditionsDto, AdditionsQuery } from './additions.dto.js';
import { AdditionsService } from './additions.service.js';

@ApiTags('mixing')
@ApiBearerAuth()
@Controller('batches/:id/additions')
export class AdditionsController {
  constructor(private readonly additions: AdditionsService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'The least of what lies at the yard that brings the mix into range' })
  @ApiOkResponse({ type: AdditionsDto })
  whatToAdd(@IdParam() id: string, @Query() query: AdditionsQuery): Promise<AdditionsDto> {
    return this.additions.additions(id, query);
  }
}
