import { Body, Controller, Get, HttpCode, Post, Query } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import {
  DeviceKeyDto,
  DeviceKeyPageDto,
  DeviceKeyQuery,
  NewDeviceKeyDto,
  NewKeyDto,
} from './device-keys.dto.js';
import { DeviceKeysService } from './device-keys.service.js';

@ApiTags('loggers')
@ApiBearerAuth()
@Controller('device-keys')
export class DeviceKeysController {
  constructor(private readonly devices: DeviceKeysService) {}

  @Get()
  @Allow('manager', at.ownSites())
  @ApiOperation({ summary: 'Loggers with their keys, newest first, and when each last told anything' })
  @ApiOkResponse({ type: DeviceKeyPageDto })
  list(@Asker() actor: Actor, @Query() query: DeviceKeyQuery): Promise<DeviceKeyPageDto> {
    return this.devices.list(actor, query);
  }

  @Post()
  @Allow('manager', at.site())
  @ApiOperation({
    summary: 'Make a key for a logger; it is shown this once',
    description: 'With it the logger may send readings of the bays and batches named, and nothing else.',
  })
  @ApiCreatedResponse({ type: NewKeyDto })
  create(@Asker() actor: Actor, @Body() dto: NewDeviceKeyDto): Promise<NewKeyDto> {
    return this.devices.create(actor, dto);
  }

  @Post(':id/revoke')
  @HttpCode(200)
  @Allow('manager', at.thing('device-key'))
  @ApiOperation({ summary: 'End a key; what came in under it stays, and its bays are free for another' })
  @ApiOkResponse({ type: DeviceKeyDto })
  revoke(@Asker() actor: Actor, @IdParam() id: string): Promise<DeviceKeyDto> {
    return this.devices.revoke(actor, id);
  }
}
