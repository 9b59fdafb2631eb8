import { Injectable } from '@nestjs/common';
import { invalid } from '../http/problems/catalogue.js';
import type { FurtherVerdictDto, ProcessDto, ProcessQuery } from './process.dto.js';
import { furtherView, processView } from './process-views.js';
import { type ProcessFacts, ProcessService, type RuledVerdict } from './process.service.js';

/** The verdicts of a batch side by side: its own rule first, then what its permit asks besides, then any other. */
@Injectable()
export class ProcessAnswerService {
  constructor(private readonly process: ProcessService) {}

  async answer(batchId: string, { rule, version, reading, all }: ProcessQuery): Promise<ProcessDto> {
    if (version !== undefined && rule === undefined) throw invalid('/version', 'goes with rule');
    const facts = await this.process.facts(batchId);
    const first = await this.process.judge(facts, { ruleCode: rule, version, reading });
    return processView(first, await this.others(facts, first, all === 'true'));
  }

  private async others(
    facts: ProcessFacts,
    first: RuledVerdict | null,
    all: boolean,
  ): Promise<FurtherVerdictDto[]> {
    const asked = (await this.process.judgeFurther(facts)).filter(
      ({ rule }) => rule.code !== first?.rule.code,
    );
    const told = new Set([...(first ? [first] : []), ...asked].map(({ rule }) => rule.code));
    const rest = all ? await this.process.judgeRest(facts, told) : [];
    return [...asked.map((one) => furtherView(one, true)), ...rest.map((one) => furtherView(one, false))];
  }
}
