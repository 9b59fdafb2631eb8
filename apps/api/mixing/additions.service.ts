import { Injectable } from '@nestjs/common';
import { targetsAsked } from '#libs/materials';
import { SiteFactsService } from '../sites/site-facts.service.js';
import type { AdditionsDto, AdditionsQuery } from './additions.dto.js';
import { additionsView, closedView } from './additions-view.js';
import type { Ask, Asked } from './asked.js';
import { type Built, BuiltService, soundParts } from './built.service.js';
import { permitTargets } from './mix-view.js';
import { OnHandService } from './on-hand.service.js';
import { SolverService } from './solver.service.js';

@Injectable()
export class AdditionsService {
  constructor(
    private readonly built: BuiltService,
    private readonly onHand: OnHandService,
    private readonly sites: SiteFactsService,
    private readonly solver: SolverService,
  ) {}

  /** What to add to a batch so that its figures come into range. Refuses (404) where there is no such batch. */
  async additions(batchId: string, query: AdditionsQuery): Promise<AdditionsDto> {
    const { leastBy = 'mass', grade = 'reasonable' } = query;
    const built = await this.built.built(batchId);
    if (built.leftAt !== null) return this.closed(built, { leastBy, grade });
    const asked = await this.asked(built, { leastBy, grade });
    const answer = await this.solver.additions(asked.question);
    const { siteId, bayCode } = built.batch;
    const bay = bayCode === null ? null : await this.sites.bay(siteId, bayCode);
    return additionsView(asked, answer, bay);
  }

  private async closed(built: Built, ask: Ask): Promise<AdditionsDto> {
    const permit = await this.built.permitOf(built);
    const { sound: parts } = soundParts(built.parts);
    return closedView({ built, ask, parts, targets: targetsAsked(permitTargets(permit), ask.grade) });
  }

  private async asked(built: Built, ask: Ask): Promise<Asked> {
    const onHand = await this.onHand.at(built.batch.siteId, built.asOfMs);
    const { sound, contradicted } = soundParts(built.parts);
    // Somebody may have changed a material between the two reads: the batch goes by what its candidates go by.
    const parts = sound.map((part) => ({
      ...part,
      material: onHand.figures.get(part.material.code) ?? part.material,
    }));
    const targets = targetsAsked(permitTargets(onHand.permit), ask.grade);
    const { candidates, obtainable } = onHand;
    const question = { parts, targets, candidates, obtainable, leastBy: ask.leastBy };
    return { built, ask, onHand, question, contradicted };
  }
}
