import { Body, Controller, Post, UseGuards } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import { Throttle, ThrottlerGuard } from '@nestjs/throttler';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IdParam } from '../http/dto/id.js';
import { NewReleaseDto, ReleasedDto } from './release.dto.js';
import { SignatureService } from './signature.service.js';

/** Tries a minute from one address, as for signing in: whoever holds a stolen session must not guess the password. */
const TRIES = 60;

@ApiTags('release')
@ApiBearerAuth()
@Controller('batches/:id/release')
export class ReleaseController {
  constructor(private readonly signature: SignatureService) {}

  @Post()
  @Allow('manager', at.thing('batch'))
  @UseGuards(ThrottlerGuard)
  @Throttle({ default: { limit: TRIES, ttl: 60_000 } })
  @ApiOperation({
    summary: 'Release a batch by signature; its record is sealed and never changes again',
    description:
      'Every gate that is unmet or unknown needs an override with its reason. The signature says that a person has ' +
      'looked; it does not say that something is lawful: the permit and the local authority decide.',
  })
  @ApiCreatedResponse({ type: ReleasedDto })
  release(@Asker() actor: Actor, @IdParam() id: string, @Body() dto: NewReleaseDto): Promise<ReleasedDto> {
    return this.signature.release(actor, id, dto);
  }
}
