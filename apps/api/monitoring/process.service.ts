import { Injectable } from '@nestjs/common';
import {
  type BatchFacts,
  type Check,
  evaluateProcess,
  type ProcessRule,
  processRules,
  type RuleReading,
  type Verdict,
} from '#libs/process';
import { Clock } from '../http/clock.js';
import { invalid } from '../http/problems/catalogue.js';
import type { SqlWrite } from '../http/writes/work.js';
import { BatchFlowsService } from '../batches/batch-flows.service.js';
import { BatchesService, type BatchNow } from '../batches/batches.service.js';
import { type PermitFacts, type SiteFacts, SiteFactsService } from '../sites/site-facts.service.js';
import { appliedRule, ruleCodeOf } from './applied-rule.js';
import { ChecksRecords, type CheckRow } from './checks.records.js';
import type { ProcessDto, ProcessQuery, ProcessRuleListDto } from './process.dto.js';
import { processView, ruleView } from './process-views.js';
import { TurnsRecords, type TurnRow } from './turns.records.js';
import { WateringsRecords, type WateringRow } from './waterings.records.js';

type Sql = SqlWrite['sql'];

export type { CheckRow, TurnRow, WateringRow };

/** What monitoring knows of a batch. */
export interface ProcessFacts {
  batch: BatchNow;
  site: SiteFacts;
  /** The one in force on the day the batch began: it says how its rule is applied. */
  foundingPermit: PermitFacts | null;
  process: BatchFacts;
  /** As of when it is judged: now, or when its record was closed by release or by being condemned. */
  asOfMs: number;
}

/** A verdict with the rule it was reached under. */
export interface RuledVerdict {
  rule: ProcessRule;
  verdict: Verdict;
}

export interface VerdictOptions {
  /** Instead of the rule of the batch. */
  ruleCode?: string | undefined;
  reading?: RuleReading | undefined;
}

/** What the records of a batch show of its process rule. Inside a transaction, give its `sql`. */
@Injectable()
export class ProcessService {
  constructor(
    private readonly clock: Clock,
    private readonly batches: BatchesService,
    private readonly flows: BatchFlowsService,
    private readonly sites: SiteFactsService,
    private readonly checksKept: ChecksRecords,
    private readonly turnsKept: TurnsRecords,
    private readonly wateringsKept: WateringsRecords,
  ) {}

  /** Null when neither the batch nor its permit names a rule. Refuses (422 at `/rule`) a code that is not known. */
  async verdict(batchId: string, options: VerdictOptions = {}, sql?: Sql): Promise<RuledVerdict | null> {
    return this.judge(await this.facts(batchId, sql), options);
  }

  /** As of now, or of the moment given. One after the other: a transaction has one connection. */
  async facts(batchId: string, sql?: Sql, nowMs = this.clock.nowMs()): Promise<ProcessFacts> {
    const batch = await this.batches.find(batchId, sql);
    const site = await this.sites.site(batch.siteId, sql);
    const foundingPermit = await this.sites.permitAt(site.id, batch.occurredAt.getTime(), sql);
    const rawAdditions = await this.flows.rawAdditions(batchId, sql);
    const checks: Check[] = await this.checksKept.facts(batchId, sql);
    const turned = await this.turnsKept.standing(batchId, sql);
    const moves = await this.flows.moves(batchId, sql);
    const turns = [
      ...turned.map(({ occurredAt }) => ({ occurredAtMs: occurredAt.getTime(), kind: 'turn' as const })),
      ...moves.map(({ occurredAtMs }) => ({ occurredAtMs, kind: 'move' as const })),
    ];
    const process = { timeZone: site.timeZone, rawAdditions, checks, turns };
    return { batch, site, foundingPermit, process, asOfMs: asOf(batch, nowMs) };
  }

  judge(facts: ProcessFacts, { ruleCode, reading }: VerdictOptions = {}): RuledVerdict | null {
    const { batch, foundingPermit, process, asOfMs } = facts;
    const code = ruleCode ?? ruleCodeOf(batch, foundingPermit);
    if (code === null) return null;
    const applied = appliedRule(code, foundingPermit, reading);
    if (!applied) throw invalid('/rule', `"${code}" is no known process rule`);
    const verdict = evaluateProcess(applied.rule, process, asOfMs, applied.reading);
    return { rule: applied.rule, verdict: { ...verdict, notes: [...applied.notes, ...verdict.notes] } };
  }

  async answer(batchId: string, { rule, reading }: ProcessQuery): Promise<ProcessDto> {
    return processView(await this.verdict(batchId, { ruleCode: rule, reading }));
  }

  rules(): ProcessRuleListDto {
    return { items: processRules.map(ruleView) };
  }

  /** Every check that stands, with its readings, in order of time. */
  checks(batchId: string, sql?: Sql): Promise<CheckRow[]> {
    return this.checksKept.standing(batchId, sql);
  }

  /** Turns in place that stand, in order of time; moves are told by the batches area. */
  turns(batchId: string, sql?: Sql): Promise<TurnRow[]> {
    return this.turnsKept.standing(batchId, sql);
  }

  waterings(batchId: string, sql?: Sql): Promise<WateringRow[]> {
    return this.wateringsKept.standing(batchId, sql);
  }
}

/** A closed record is not judged anew by what the clock says today. */
function asOf({ stages }: BatchNow, nowMs: number): number {
  const closed = stages.find(({ stage }) => stage === 'released' || stage === 'condemned');
  return closed?.enteredAt.getTime() ?? nowMs;
}
