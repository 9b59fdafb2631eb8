import { Injectable } from '@nestjs/common';
import { microbesOf, type RuleMicrobes } from '#libs/process';
import { BatchesService } from '../batches/batches.service.js';
import { ProcessRulesService } from '../sites/process-rules.service.js';
import { SiteFactsService } from '../sites/site-facts.service.js';

/** The tests of the product that go with the rules of a batch, whatever its readings say. */
@Injectable()
export class RuleMicrobesService {
  constructor(
    private readonly batches: BatchesService,
    private readonly sites: SiteFactsService,
    private readonly rules: ProcessRulesService,
  ) {}

  async of(batchId: string): Promise<RuleMicrobes[]> {
    const { siteId, occurredAt, recordedAt, processRule } = await this.batches.find(batchId);
    const permit = await this.sites.permitAt(siteId, occurredAt.getTime());
    const named = [processRule ?? permit?.processRule ?? [], permit?.furtherRules ?? []].flat();
    const microbes: RuleMicrobes[] = [];
    for (const code of new Set(named)) {
      const rule = await this.rules.find(code, recordedAt);
      if (rule) microbes.push(...microbesOf([rule]));
    }
    return microbes;
  }
}
