import { Controller, Get } from '@nestjs/common';
import { ApiBearerAuth, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, at } from '../http/access/access.js';
import { IdParam } from '../http/dto/id.js';
import { BalanceDto } from './balance.dto.js';
import { WholeBalanceService } from './whole-balance.service.js';

@ApiTags('batches')
@ApiBearerAuth()
@Controller('batches/:id/balance')
export class BalanceController {
  constructor(private readonly balances: WholeBalanceService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({ summary: 'What went in, what came out, and what was lost to the air' })
  @ApiOkResponse({ type: BalanceDto })
  balance(@IdParam() id: string): Promise<BalanceDto> {
    return this.balances.balance(id);
  }
}
