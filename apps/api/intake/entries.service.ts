import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { idOr } from '../http/dto/id.js';
import { readAs } from '../http/dto/validation.js';
import { Problem } from '../http/problems/catalogue.js';
import { bodyDigest } from '../http/writes/replay.js';
import { NewDropOffDto } from './drop-offs.dto.js';
import type { LotFacts, NewLot } from './lot.js';
import { LotsService } from './lots.service.js';
import { isRefused, outcome, required } from './outcome.js';

/** An entry that could be read: what was sent, and the lot it makes or why it makes none. */
export interface JudgedEntry {
  dto: NewDropOffDto;
  judged: NewLot | Problem;
}

export function newLotOf(dto: NewDropOffDto, facts: LotFacts): NewLot {
  return {
    ...facts,
    id: idOr(dto.id),
    siteId: dto.siteId.toLowerCase(),
    shiftId: dto.shiftId?.toLowerCase() ?? null,
    bodySha256: bodyDigest(dto).toString('hex'),
  };
}

/** Many entries at once, each accepted or refused for itself. */
@Injectable()
export class EntriesService {
  constructor(private readonly lots: LotsService) {}

  /** In the order of the items. One that cannot even be read is its refusal alone. */
  async judge(
    actor: Actor,
    items: readonly unknown[],
    recordedMs?: number | null,
  ): Promise<(JudgedEntry | Problem)[]> {
    const read = items.map((item) => outcome(() => readEntry(actor, item)));
    const dtos = read.filter((one): one is NewDropOffDto => !isRefused(one));
    const judged = await this.lots.judge(dtos, recordedMs);
    const factsOf = new Map(dtos.map((dto, index) => [dto, judged[index]]));
    return read.map((dto) =>
      isRefused(dto) ? dto : { dto, judged: outcome(() => newLotOf(dto, required(factsOf.get(dto)))) },
    );
  }
}

function readEntry(actor: Actor, item: unknown): NewDropOffDto {
  const dto = readAs(NewDropOffDto, item);
  if (!actor.mayAt('volunteer', dto.siteId.toLowerCase())) throw new Problem('other-site');
  return dto;
}
