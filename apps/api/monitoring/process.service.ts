import { setImmediate as letOthersRun } from 'node:timers/promises';
import { Injectable } from '@nestjs/common';
import {
  type BatchFacts,
  eachProbe,
  evaluateProcess,
  type LastMerge,
  type LoggerSeries,
  type MergedBatch,
  type ProbeTerms,
  type ProcessRule,
  type RuleReading,
  type Verdict,
} from '#libs/process';
import { dayMs } from '#libs/quantities';
import { Clock } from '../http/clock.js';
import { invalid } from '../http/problems/catalogue.js';
import type { SqlWrite } from '../http/writes/work.js';
import { BatchFlowsService } from '../batches/batch-flows.service.js';
import { BatchesService, type BatchNow, type Stage } from '../batches/batches.service.js';
import { type MergeRow, MergesService } from '../batches/merges.service.js';
import { type ExactCarbon, MixService } from '../mixing/mix.service.js';
import { type BatchSeries, LoggerSeriesService } from '../loggers/logger-series.service.js';
import { ProcessRulesService } from '../sites/process-rules.service.js';
import { type PermitFacts, type SiteFacts, SiteFactsService } from '../sites/site-facts.service.js';
import { type AppliedRule, appliedRule, ruleCodeOf } from './applied-rule.js';
import { CautionsService } from './cautions.service.js';
import { ChecksRecords, type CheckFacts, type CheckRow } from './checks.records.js';
import { type Judging, otherThan, ReadingOnService } from './reading-on.service.js';
import { TurnsRecords, type TurnRow } from './turns.records.js';
import { WateringsRecords, type WateringRow } from './waterings.records.js';

type Sql = SqlWrite['sql'];

export type { CheckRow, TurnRow, WateringRow };

/** What monitoring knows of a batch, whatever the rule. */
export interface ProcessFacts {
  batch: BatchNow;
  site: SiteFacts;
  /** The one in force on the day the batch began: it says how its rule is applied. */
  foundingPermit: PermitFacts | null;
  /** Without what loggers show, which is asked for rule by rule. */
  process: BatchFacts;
  series: BatchSeries;
  carbon: ExactCarbon;
  /** Every batch that was merged in, by however many steps; those that came into a batch before the batch itself. */
  merged: readonly Merged[];
  /** As of when it is judged: now, or when its record was closed by release or by being condemned. */
  asOfMs: number;
}

/** A batch that was merged in, as its record stood when it was closed by that. */
interface Merged {
  merge: MergeRow;
  facts: ProcessFacts;
}

/** A verdict with the rule it was reached under. */
export interface RuledVerdict {
  rule: ProcessRule;
  verdict: Verdict;
  /** The same under the reading that was not chosen; null where the rule itself says how its time is read. */
  otherReading: Verdict | null;
  /** What was merged in, and when it had met that rule. */
  mergedFrom: readonly MergedBatch[];
}

export interface VerdictOptions {
  /** Instead of the rule of the batch. */
  ruleCode?: string | undefined;
  /** Of that rule, instead of the one that the batch began under. */
  version?: number | undefined;
  reading?: RuleReading | undefined;
}

/** What the records of a batch show of its process rules. Inside a transaction, give its `sql`. */
@Injectable()
export class ProcessService {
  constructor(
    private readonly clock: Clock,
    private readonly batches: BatchesService,
    private readonly flows: BatchFlowsService,
    private readonly merges: MergesService,
    private readonly mixes: MixService,
    private readonly sites: SiteFactsService,
    private readonly rules: ProcessRulesService,
    private readonly doubts: CautionsService,
    private readonly loggers: LoggerSeriesService,
    private readonly readingOn: ReadingOnService,
    private readonly checksKept: ChecksRecords,
    private readonly turnsKept: TurnsRecords,
    private readonly wateringsKept: WateringsRecords,
  ) {}

  /** As of now, or of the moment given. One after the other: a transaction has one connection. */
  async facts(batchId: string, sql?: Sql, nowMs = this.clock.nowMs()): Promise<ProcessFacts> {
    const merged: Merged[] = [];
    for (const merge of await this.merges.tree(batchId, sql))
      merged.push({ merge, facts: await this.recorded(merge.fromBatchId, nowMs, sql) });
    return { ...(await this.recorded(batchId, nowMs, sql)), merged };
  }

  private async recorded(batchId: string, nowMs: number, sql?: Sql): Promise<ProcessFacts> {
    const batch = await this.batches.find(batchId, sql);
    const site = await this.sites.site(batch.siteId, sql);
    const foundingPermit = await this.sites.permitAt(site.id, batch.occurredAt.getTime(), sql);
    const checks = await this.checksKept.facts(batchId, sql);
    const carbon = await this.mixes.carbonToNitrogen(batchId, sql);
    const asOfMs = asOf(batch, nowMs);
    const { timeZone } = site;
    const series = this.loggers.ofBatch(batchId, asOfMs);
    const process: BatchFacts = {
      timeZone,
      rawAdditions: await this.flows.rawAdditions(batchId, sql),
      checks,
      turns: await this.turnings(batchId, sql),
      moistures: checks.flatMap(moistureOf),
      carbonToNitrogen: carbon.value,
      cautions: await this.doubts.cautionsOf({ batchId, timeZone, checks, asOfMs }, sql),
    };
    return { batch, site, foundingPermit, process, series, carbon, merged: [], asOfMs };
  }

  /**
   * The verdict under the rule of the batch, in the version it began under, or under the rule asked for. Null when
   * neither the batch nor its permit names one. Refuses (422 at `/rule`) a code that is not known.
   */
  async judge(facts: ProcessFacts, options: VerdictOptions = {}, sql?: Sql): Promise<RuledVerdict | null> {
    const { batch, foundingPermit } = facts;
    const { ruleCode, version, reading } = options;
    const code = ruleCode ?? ruleCodeOf(batch, foundingPermit);
    if (code === null) return null;
    const rule =
      version === undefined
        ? await this.rules.find(code, batch.recordedAt, sql)
        : await this.rules.findVersion(code, version, sql);
    if (rule) return this.verdictUnder(rule, facts, sql, reading);
    if (version === undefined) throw invalid('/rule', `"${code}" is no known process rule`);
    throw invalid('/version', `"${code}" has no version ${version}`);
  }

  /** The verdicts under what the permit asks besides. */
  async judgeFurther(facts: ProcessFacts, sql?: Sql): Promise<RuledVerdict[]> {
    const { batch, foundingPermit } = facts;
    const own = ruleCodeOf(batch, foundingPermit);
    const codes = (foundingPermit?.furtherRules ?? []).filter((code) => code !== own);
    const verdicts: RuledVerdict[] = [];
    for (const code of codes) {
      await letOthersRun();
      const rule = await this.rules.require(code, '/rule', batch.recordedAt, sql);
      verdicts.push(await this.verdictUnder(rule, facts, sql));
    }
    return verdicts;
  }

  /**
   * The verdicts under every rule for the method of the batch but those told already, for information: under one reading
   * each, and nothing of them is kept to read on from.
   */
  async judgeRest(facts: ProcessFacts, told: ReadonlySet<string>, sql?: Sql): Promise<RuledVerdict[]> {
    const { method, recordedAt } = facts.batch;
    const rules = await this.rules.forMethod(method, recordedAt, sql);
    const verdicts: RuledVerdict[] = [];
    for (const rule of rules.filter(({ code }) => !told.has(code))) {
      await letOthersRun();
      const applied = appliedRule(rule, facts.foundingPermit);
      const mergedFrom = await this.mergedUnder(applied, facts, sql);
      const full = await this.inFull(facts, { rule: applied.rule, mergedFrom }, sql);
      const verdict = evaluateProcess(applied.rule, full, facts.asOfMs, applied.reading);
      verdicts.push(ruled(applied, facts, { verdict, otherReading: null, mergedFrom }));
    }
    return verdicts;
  }

  /** With all that loggers show under a rule, from the beginning. */
  async inFull(
    { process, series }: ProcessFacts,
    { rule, mergedFrom }: { rule: ProbeTerms; mergedFrom: readonly MergedBatch[] },
    sql?: Sql,
  ): Promise<BatchFacts> {
    return { ...process, mergedFrom, series: await series.under(rule, sql) };
  }

  /** What the hottest probes of loggers show from an instant on, and some days before it. */
  hottest({ series }: ProcessFacts, fromMs: number, sql?: Sql): Promise<LoggerSeries[]> {
    return series.under(eachProbe, sql, fromMs - BEFORE_MS);
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

  private async turnings(batchId: string, sql?: Sql): Promise<BatchFacts['turns']> {
    const turned = await this.turnsKept.standing(batchId, sql);
    const moves = await this.flows.moves(batchId, sql);
    return [
      ...turned.map(({ occurredAt }) => ({ occurredAtMs: occurredAt.getTime(), kind: 'turn' as const })),
      ...moves.map(({ occurredAtMs }) => ({ occurredAtMs, kind: 'move' as const })),
    ];
  }

  private async verdictUnder(
    rule: ProcessRule,
    facts: ProcessFacts,
    sql?: Sql,
    reading?: RuleReading,
  ): Promise<RuledVerdict> {
    const applied = appliedRule(rule, facts.foundingPermit, reading);
    const { batch, series, process, asOfMs, merged } = facts;
    const judging = { ...applied, batchId: batch.id, facts: process, series, asOfMs };
    const mergedFrom = await this.mergedUnder(applied, facts, sql);
    const { verdict, other } = await this.readingOn.verdict(withMerged(judging, mergedFrom), sql);
    if (other === null || merged.length === 0)
      return ruled(applied, facts, { verdict, otherReading: other, mergedFrom });
    // Under the other reading what was merged in may have met the rule at another time, or not at all.
    const otherwise = { ...applied, reading: otherThan(applied.reading) };
    const mergedOtherwise = await this.mergedUnder(otherwise, facts, sql);
    const read = withMerged({ ...judging, ...otherwise }, mergedOtherwise);
    const { verdict: otherReading } = await this.readingOn.verdict(read, sql);
    return ruled(applied, facts, { verdict, otherReading, mergedFrom });
  }

  /** When what was merged into a batch had met the very rule that the batch is held against, one after the other. */
  private async mergedUnder(
    { rule, reading }: Pick<AppliedRule, 'rule' | 'reading'>,
    { batch, merged }: ProcessFacts,
    sql?: Sql,
  ): Promise<MergedBatch[]> {
    const cameInto = new Map<string, MergedBatch[]>();
    for (const { merge, facts } of merged) {
      await letOthersRun();
      const before = { rule, mergedFrom: cameInto.get(merge.fromBatchId) ?? [] };
      const full = await this.inFull(facts, before, sql);
      const { metAtMs } = evaluateProcess(rule, full, facts.asOfMs, reading);
      const one = { code: merge.fromBatchCode, occurredAtMs: merge.occurredAt.getTime(), metAtMs };
      cameInto.set(merge.batchId, [...(cameInto.get(merge.batchId) ?? []), one]);
    }
    return cameInto.get(batch.id) ?? [];
  }
}

/** The batch that went into this one last; null where none did. */
export function lastMergeOf({ batch, merged }: ProcessFacts): LastMerge | null {
  const own = merged.filter(({ merge }) => merge.batchId === batch.id);
  const last = own.toSorted((a, b) => a.merge.occurredAt.getTime() - b.merge.occurredAt.getTime()).at(-1);
  return last ? { code: last.merge.fromBatchCode, atMs: last.merge.occurredAt.getTime() } : null;
}

const withMerged = (judging: Judging, mergedFrom: readonly MergedBatch[]): Judging => ({
  ...judging,
  facts: { ...judging.facts, mergedFrom },
});

function ruled(
  applied: AppliedRule,
  { carbon }: ProcessFacts,
  { verdict, otherReading, mergedFrom }: Omit<RuledVerdict, 'rule'>,
): RuledVerdict {
  const notes = [...applied.notes, ...carbonNotes(applied, carbon), ...verdict.notes];
  return { rule: applied.rule, verdict: { ...verdict, notes }, otherReading, mergedFrom };
}

/** Whether a cure began on a batch that had cooled is seen from what was before it. */
const BEFORE_MS = 7 * dayMs;

const moistureOf = ({ occurredAtMs, moisturePercent }: CheckFacts) =>
  moisturePercent === null ? [] : { occurredAtMs, percent: moisturePercent };

/** Why the C:N of the mix is not known, where the rule asks for it. */
function carbonNotes({ rule }: AppliedRule, { missing }: ExactCarbon): string[] {
  if (rule.carbonToNitrogen === null || missing.length === 0) return [];
  return [`The C:N of the mix is not known, because figures are missing of: ${missing.join(', ')}.`];
}

const CLOSING: ReadonlySet<Stage> = new Set(['released', 'condemned', 'merged']);

/** A closed record is not judged anew by what the clock says today. */
function asOf({ stages }: BatchNow, nowMs: number): number {
  const closed = stages.find(({ stage }) => CLOSING.has(stage));
  return closed?.enteredAt.getTime() ?? nowMs;
}
