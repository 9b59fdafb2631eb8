import { Inject, Injectable } from '@nestjs/common';
import {
  type AnyBatchRecord,
  BATCH_RECORD_SCHEMA,
  type BatchRecord,
  batchRecordPdf,
  CAUTIONS,
  DEFERENCE,
  recordOf,
} from '#libs/documents';
import { eachProbe } from '#libs/process';
import { BalanceService } from '../batches/balance.service.js';
import { BatchFlowsService } from '../batches/batch-flows.service.js';
import type { BatchNow } from '../batches/batches.service.js';
import { MixService } from '../mixing/mix.service.js';
import { SETTINGS, type Settings } from '../http/settings.js';
import type { SqlWrite } from '../http/writes/work.js';
import { ProcessService } from '../monitoring/process.service.js';
import { GatesService, type Standing } from '../release/gates.service.js';
import { ReleaseFactsService, type SignedGate, type Signing } from '../release/release-facts.service.js';
import { SealsService } from './seals.service.js';
import { holdsPart, mergesPart, pilesPart } from './record/accounts-part.js';
import { AccountsRecords } from './record/accounts.records.js';
import { intakePart, jurisdictionsPart } from './record/intake-part.js';
import { mixPart } from './record/mix-part.js';
import { METHODS } from './record/methods.js';
import { actionsPart, checksPart, loggerPart } from './record/monitoring-part.js';
import { type Names, RecordRecords } from './record/record.records.js';
import {
  balancePart,
  curePart,
  distributionsPart,
  permitPart,
  samplesPart,
  screeningsPart,
} from './record/release-part.js';
import { furtherPart, verdictPart } from './record/verdict-part.js';
import { iso } from './record/wording.js';

type Sql = SqlWrite['sql'];

/** A record as it is handed out: sealed, or a draft. */
export interface Issued {
  /** JSON; of a sealed record, the very text that was sealed. */
  json: string;
  seal: string | null;
}

@Injectable()
export class BatchRecordService {
  constructor(
    @Inject(SETTINGS) private readonly settings: Settings,
    private readonly records: RecordRecords,
    private readonly accounts: AccountsRecords,
    private readonly gates: GatesService,
    private readonly process: ProcessService,
    private readonly flows: BatchFlowsService,
    private readonly mixes: MixService,
    private readonly balances: BalanceService,
    private readonly released: ReleaseFactsService,
    private readonly seals: SealsService,
  ) {}

  /** The sealed record of a released batch, verbatim; the draft of any other, as of now. */
  async issued(batchId: string): Promise<Issued> {
    const sealed = await this.seals.latest('batch-record', batchId);
    if (sealed) return { json: sealed.document, seal: sealed.seal };
    return { json: JSON.stringify(await this.record(batchId)), seal: null };
  }

  /** The same as a printed document, drawn from that very JSON, and a name for its file. */
  async pdf(batchId: string): Promise<{ bytes: Uint8Array; fileName: string }> {
    const { json, seal } = await this.issued(batchId);
    const record = recordOf(JSON.parse(json) as AnyBatchRecord);
    const bytes = await batchRecordPdf(record, seal, json);
    return { bytes, fileName: `batch-record-${record.batch.code}.pdf` };
  }

  /**
   * Everything recorded of a batch, of one moment. With `signing`, as it stands once that signature is given: released.
   * Inside a transaction, give its `sql`. Refuses (404) where there is no such batch.
   */
  async record(batchId: string, signing?: Signing, sql?: Sql): Promise<BatchRecord> {
    return sql
      ? this.assembled(sql, batchId, signing)
      : this.records.snapshot((read) => this.assembled(read, batchId, signing));
  }

  private async assembled(sql: Sql, batchId: string, signing?: Signing): Promise<BatchRecord> {
    const standing = await this.gates.standing(batchId, sql, signing?.signedAt.getTime());
    const { batch, site } = standing.facts;
    const names = await this.records.names(sql, batchId);
    const groups = await this.records.intake(sql, batchId);
    const screenings = await this.released.screenings(batchId, sql);
    const signed = signing ?? null;
    const record: Omit<BatchRecord, 'asOf'> = {
      schema: BATCH_RECORD_SCHEMA,
      status: signed ? 'signed' : 'draft',
      version: 1,
      amends: null,
      programme: { name: this.settings.programme },
      site: { code: site.code, name: site.name, timeZone: site.timeZone },
      jurisdictions: jurisdictionsPart(groups),
      permit: permitPart(standing.permit, names),
      batch: batchPart(batch, signed),
      intake: intakePart({
        groups,
        pulled: await this.records.pulled(sql, batchId),
        amendments: await this.records.amendments(sql, batchId),
        screenings,
      }),
      merges: mergesPart(await this.accounts.merges(sql, batchId), standing.process),
      mix: mixPart(await this.mixes.mix(batchId, sql), names),
      ...(await this.monitored(sql, standing, names)),
      cure: curePart(standing.cure),
      samples: samplesPart(standing.samples, names),
      screenings: screeningsPart(screenings, names),
      piles: pilesPart(await this.accounts.piles(sql, batchId), names),
      balance: balancePart(await this.balances.balance(batchId, sql, signed ? 'released' : undefined), names),
      holds: holdsPart(await this.accounts.holds(sql, batchId)),
      gates: gatesPart(signed?.gates ?? standing.gates),
      release: signed && releasePart(signed),
      distributions: distributionsPart(await this.released.distributions(batchId, sql)),
      cautions: [...CAUTIONS],
      deference: DEFERENCE,
      methods: [...METHODS],
    };
    return { ...record, asOf: lastOf(record) };
  }

  private async monitored(sql: Sql, { facts, process, further }: Standing, names: Names) {
    const { id } = facts.batch;
    const full = await this.process.inFull(facts, process ?? { rule: eachProbe, mergedFrom: [] }, sql);
    const furtherVerdicts: BatchRecord['furtherVerdicts'] = [];
    for (const one of further) {
      furtherVerdicts.push(furtherPart(one, await this.process.inFull(facts, one, sql), facts.asOfMs));
    }
    return {
      checks: checksPart(await this.process.checks(id, sql), facts, process, names),
      actions: actionsPart(
        {
          turns: await this.process.turns(id, sql),
          waterings: await this.process.waterings(id, sql),
          moves: await this.flows.moves(id, sql),
        },
        names,
      ),
      loggers: (full.series ?? []).map(loggerPart),
      verdict: process && verdictPart(process, full, facts.asOfMs),
      furtherVerdicts,
    };
  }
}

function batchPart(batch: BatchNow, signed: Signing | null): BatchRecord['batch'] {
  const { code, method, stage, bayCode } = batch;
  const entered = batch.stages.map((entry) => ({
    stage: entry.stage,
    enteredAt: iso(entry.enteredAt),
    reason: entry.reason,
  }));
  if (!signed) return { code, bay: bayCode, method, stage, stages: entered };
  const released = { stage: 'released' as const, enteredAt: iso(signed.signedAt), reason: null };
  return { code, bay: bayCode, method, stage: 'released', stages: [...entered, released] };
}

function gatesPart(
  gates: readonly (Omit<SignedGate, 'overrideReason'> & { overrideReason?: string | null })[],
) {
  return gates.map(({ key, state, text, overrideReason = null }) => ({ key, state, text, overrideReason }));
}

function releasePart({ signedName, role, signedAt, recordedAt, statement }: Signing): BatchRecord['release'] {
  return { signedBy: signedName, role, signedAt: iso(signedAt), recordedAt: iso(recordedAt), statement };
}

/** The latest thing that the record tells of: it speaks as of then, not as of when it is printed. */
function lastOf(record: Omit<BatchRecord, 'asOf'>): string {
  const {
    batch,
    intake,
    merges,
    checks,
    loggers,
    actions,
    samples,
    screenings,
    piles,
    holds,
    distributions,
  } = record;
  const done = [...intake.amendments, ...merges, ...checks, ...actions];
  const events = [...done, ...samples, ...screenings, ...piles, ...holds, ...distributions];
  const times = [
    ...batch.stages.map(({ enteredAt }) => enteredAt),
    ...events.map(({ occurredAt }) => occurredAt),
    ...loggers.flatMap(({ hours }) => hours.at(-1)?.at ?? []),
    ...[intake.lastAt, record.release?.signedAt, ...holds.map(({ liftedAt }) => liftedAt)].flatMap(
      (at) => at ?? [],
    ),
  ];
  return times.reduce((latest, at) => (at > latest ? at : latest));
}
