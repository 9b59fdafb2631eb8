import { Injectable } from '@nestjs/common';
import { type CureVerdict, evaluateCure, type Gate, gatesOf, microbesOf } from '#libs/process';
import type { SqlWrite } from '../http/writes/work.js';
import {
  lastMergeOf,
  type ProcessFacts,
  ProcessService,
  type RuledVerdict,
} from '../monitoring/process.service.js';
import { type PermitFacts, SiteFactsService } from '../sites/site-facts.service.js';
import type { GatesDto } from './gates.dto.js';
import { type JudgedSample, judgedSample } from './judged-sample.js';
import { type HoldRow, HoldsService } from './holds.service.js';
import { OutputsService } from './outputs.service.js';
import { ReleaseFactsService } from './release-facts.service.js';

type Sql = SqlWrite['sql'];

export type { JudgedSample };

/** How a batch stands towards its release. */
export interface Standing {
  facts: ProcessFacts;
  /** The permit in force as of then or, where there is none, the one in force when the batch began. */
  permit: PermitFacts | null;
  /** Null where no rule is named. */
  process: RuledVerdict | null;
  /** Under what the permit asks besides. */
  further: RuledVerdict[];
  /** Null where the permit asks for no cure, or is not known. */
  cure: CureVerdict | null;
  samples: JudgedSample[];
  gates: readonly Gate[];
  /** The one that stands; null where there is none. */
  hold: HoldRow | null;
  /** Every gate is met or not required, and the batch is curing. */
  releasable: boolean;
}

/**
 * The gates of a release. What may go in, and how the rule is applied, is said by the permit in force when the batch
 * began; cure, samples and validity by the one in force now. Inside a transaction, give its `sql`.
 */
@Injectable()
export class GatesService {
  constructor(
    private readonly process: ProcessService,
    private readonly sites: SiteFactsService,
    private readonly outputs: OutputsService,
    private readonly released: ReleaseFactsService,
    private readonly holds: HoldsService,
  ) {}

  /** The gates as they stand or, of a released batch, as they stood when it was signed. */
  async gates(batchId: string, sql?: Sql): Promise<GatesDto> {
    const signed = await this.released.release(batchId, sql);
    if (signed) {
      const hold = holdView(await this.holds.standing(batchId, sql));
      return { gates: signed.gates, releasable: false, signedAt: signed.signedAt.toISOString(), hold };
    }
    const { gates, releasable, hold } = await this.standing(batchId, sql);
    const open = gates.map((gate) => ({ ...gate, overrideReason: null }));
    return { gates: open, releasable, signedAt: null, hold: holdView(hold) };
  }

  /** Everything that the gates rest on, computed anew: as of now, or of the moment given. */
  async standing(batchId: string, sql?: Sql, nowMs?: number): Promise<Standing> {
    const facts = await this.process.facts(batchId, sql, nowMs);
    const { batch, site, foundingPermit, asOfMs } = facts;
    const process = await this.process.judge(facts, {}, sql);
    const further = await this.process.judgeFurther(facts, sql);
    const permit = (await this.sites.permitAt(site.id, asOfMs, sql)) ?? foundingPermit;
    const cure = await this.cureOf(facts, permit, process, sql);
    const microbes = microbesOf([...(process ? [process] : []), ...further].map(({ rule }) => rule));
    const samples = await this.released.samples(batchId, sql);
    const hold = await this.holds.standing(batchId, sql);
    const list = gatesOf(
      {
        timeZone: site.timeZone,
        permit,
        foundingPermit,
        process: process?.verdict ?? null,
        furtherProcesses: further.map(({ verdict }) => verdict),
        microbes,
        cure,
        samples: samples.map(({ kind, outcome, results, occurredAt }) => ({
          ...{ kind, outcome, results },
          occurredAtMs: occurredAt.getTime(),
        })),
        lastRawAtMs: facts.process.rawAdditions.at(-1)?.occurredAtMs ?? null,
        lastMerge: lastMergeOf(facts),
        ...(await this.outputs.totals(batchId, sql)),
        hold: hold && { sinceMs: hold.occurredAt.getTime(), reason: hold.reason },
      },
      asOfMs,
    );
    const releasable = list.releasable && batch.stage === 'curing';
    const judged = samples.map((sample) => judgedSample(sample, microbes));
    return { facts, permit, process, further, cure, samples: judged, gates: list.gates, hold, releasable };
  }

  /** Where the permit names no temperature, the process rule's is the one that a cure stays under. */
  private async cureOf(
    standing: ProcessFacts,
    permit: PermitFacts | null,
    ruled: RuledVerdict | null,
    sql?: Sql,
  ): Promise<CureVerdict | null> {
    const { batch, site, process, asOfMs } = standing;
    if (!permit?.cureDays) return null;
    const startedAtMs = batch.stages.find(({ stage }) => stage === 'curing')?.enteredAt.getTime() ?? null;
    const facts = {
      ...{ cureDays: permit.cureDays, startedAtMs },
      reheatDeciC: permit.cureReheatDeciC ?? ruled?.rule.thresholdDeciC ?? null,
      reheatRule: permit.cureReheatDeciC === null ? (ruled?.rule.code ?? null) : null,
      ...{ checks: process.checks, turns: process.turns, lastMerge: lastMergeOf(standing) },
      series: startedAtMs === null ? [] : await this.process.hottest(standing, startedAtMs, sql),
    };
    return evaluateCure(facts, asOfMs, site.timeZone);
  }
}

const holdView = (hold: HoldRow | null): GatesDto['hold'] =>
  hold && { id: hold.id, since: hold.occurredAt.toISOString(), reason: hold.reason };
