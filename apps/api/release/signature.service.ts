import { Injectable } from '@nestjs/common';
import { minuteMs } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { happenedAt } from '../http/dto/time.js';
import { invalid, Problem } from '../http/problems/catalogue.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { BatchFlowsService } from '../batches/batch-flows.service.js';
import { BatchesService, type BatchNow } from '../batches/batches.service.js';
import { SessionsService } from '../people/sessions.service.js';
import { BatchRecordService } from '../reporting/batch-record.service.js';
import { SealsService } from '../reporting/seals.service.js';
import { GatesService } from './gates.service.js';
import { HoldsService } from './holds.service.js';
import { OutputsService } from './outputs.service.js';
import { signedGates } from './overrides.js';
import type { NewReleaseDto, ReleasedDto } from './release.dto.js';
import { ReleaseFactsService, type Signing } from './release-facts.service.js';

const STATEMENT =
  'I have read the record of this batch and release it. The local permit and authority govern its use.';

/** Signed so long ago at most, it is signed now: no logger is waited for. The database has the same. */
const LOGGERS_GO_ON_MS = 5 * minuteMs;

/** A named manager's signature: never changed, never taken back. */
@Injectable()
export class SignatureService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly sessions: SessionsService,
    private readonly batches: BatchesService,
    private readonly flows: BatchFlowsService,
    private readonly outputs: OutputsService,
    private readonly gates: GatesService,
    private readonly records: BatchRecordService,
    private readonly seals: SealsService,
    private readonly released: ReleaseFactsService,
    private readonly holds: HoldsService,
  ) {}

  /**
   * Judges the gates, makes the batch record, seals it and enters the stage, all in one transaction that holds the batch:
   * what is sealed is what was judged.
   */
  async release(actor: Actor, batchId: string, dto: NewReleaseDto): Promise<ReleasedDto> {
    await this.sessions.requirePassword(actor, dto.password);
    return this.work.write(actor, async (write) => {
      await this.outputs.lock(write.sql, batchId);
      const batch = await this.batches.find(batchId, write.sql);
      requireCuring(batch);
      await this.holds.requireNone(batchId, write.sql);
      const signedAt = await this.signedAt(write.sql, batch, dto.occurredAt);
      const { gates } = await this.gates.standing(batchId, write.sql, signedAt.getTime());
      const signing: Signing = {
        signedBy: actor.personId,
        signedName: actor.displayName,
        role: actor.isCoordinator ? 'coordinator' : 'manager',
        signedAt,
        recordedAt: new Date(this.clock.nowMs()),
        statement: dto.statement ?? STATEMENT,
        gates: signedGates(gates, dto.overrides ?? []),
      };
      const record = await this.records.record(batchId, signing, write.sql);
      const { seal } = await this.seals.seal(write, 'batch-record', batchId, record);
      await this.keep(write, batch, signing, seal);
      return { seal };
    });
  }

  /**
   * When it was signed: now, if left out, and then never before the stage that it ends or the last record it closes,
   * which a clock a little ahead of ours may have made. Refuses (409) a signature from before something that is
   * recorded: dated back behind a reading or a test that failed it would be judged without them. What loggers tell
   * while it is being signed, and by clocks ahead of ours, is in nobody's way.
   */
  private async signedAt(
    sql: SqlWrite['sql'],
    { id, stageEnteredAt }: BatchNow,
    occurredAt: string | undefined,
  ): Promise<Date> {
    const nowMs = this.clock.nowMs();
    const at = happenedAt(occurredAt, nowMs);
    const last = await this.flows.lastRecord(id, sql);
    if (occurredAt === undefined) {
      return new Date(Math.max(at.getTime(), stageEnteredAt.getTime(), last?.at.getTime() ?? 0));
    }
    if (at < stageEnteredAt) throw invalid('/occurredAt', 'is before curing began');
    if (last && last.at > at) throw datedBack(last.what, last.at, 'void that with its reason');
    const told = at.getTime() < nowMs - LOGGERS_GO_ON_MS ? await this.flows.lastTold(id, sql) : null;
    if (told && told > at) throw datedBack('a reading of a logger', told, 'set that aside with its reason');
    return at;
  }

  private async keep(write: SqlWrite, batch: BatchNow, signing: Signing, seal: string): Promise<void> {
    const { role, ...signature } = signing;
    const { signedAt, gates } = signature;
    await this.released.sign(write, { batchId: batch.id, ...signature, seal });
    await this.batches.enterStage(write, batch.id, { stage: 'released', enteredAt: signedAt, reason: null });
    const overridden = gates.flatMap(({ key, state, overrideReason: reason }) =>
      reason === null ? [] : [{ gate: key, state, reason }],
    );
    write.audit({
      ...{ action: 'batch.released', subjectKind: 'batch', subjectId: batch.id, siteId: batch.siteId },
      detail: { seal, role, overridden },
    });
  }
}

function datedBack(what: string, at: Date, remedy: string): Problem {
  const detail = `is before ${what} of the batch, at ${at.toISOString()}`;
  const text = `The signature ${detail}: ${remedy}, or sign as of a later time.`;
  return new Problem('conflict', text, [{ pointer: '/occurredAt', detail }]);
}

function requireCuring({ stage }: BatchNow): void {
  if (stage === 'curing') return;
  if (stage === 'released' || stage === 'emptied') throw new Problem('batch-released');
  throw new Problem('stage-closed', `The batch is ${stage}; it is released out of curing.`);
}
