import { Controller, Get, HttpCode } from '@nestjs/common';
import { ApiOperation, ApiTags } from '@nestjs/swagger';
import { Database } from '#libs/database';
import { Public } from './access/access.js';
import { Problem } from './problems/catalogue.js';

@ApiTags('health')
@Controller('health')
export class HealthController {
  constructor(private readonly database: Database) {}

  @Get('live')
  @Public()
  @HttpCode(200)
  @ApiOperation({ summary: 'The process answers' })
  live(): { status: 'live' } {
    return { status: 'live' };
  }

  @Get('ready')
  @Public()
  @HttpCode(200)
  @ApiOperation({ summary: 'The process answers and its database does' })
  async ready(): Promise<{ status: 'ready' }> {
    try {
      await this.database.sql.query('SELECT 1');
    } catch {
      throw new Problem('busy');
    }
    return { status: 'ready' };
  }
}
