import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { invalid, notFound, Problem } from '../http/problems/catalogue.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import { rejectOf } from './amount.js';
import type { CorrectionDto, DropOffDto, PulledRejectDto } from './drop-offs.dto.js';
import { DropOffsRecords, type LotRow } from './drop-offs.records.js';
import { DropOffsService } from './drop-offs.service.js';
import { lotView } from './drop-offs.view.js';
import { leftOverWarnings, requireBeforeSteps } from './lot-since.js';
import type { LotFacts } from './lot.js';
import { LotWritesRecords, type Revising } from './lot-writes.records.js';
import { LotsService } from './lots.service.js';
import { UndoService } from './undo.service.js';

interface Change {
  facts: LotFacts;
  reason: string;
  voided?: boolean;
}

/**
 * What was weighed with its whole haul keeps its share as long as its volume is stated as it was: anything else of it may be
 * put right. Stated otherwise it is no share any more, which the database refuses while the receipt stands.
 */
function withShare(facts: LotFacts, now: LotRow): LotFacts {
  if (now.basis !== 'haul' || facts.volumeMl !== now.volumeMl) return facts;
  const { basis, haulReceiptId, netG } = now;
  const acceptedG = netG - facts.rejectedG;
  if (acceptedG < 0) throw invalid('/rejects', 'must not weigh more than the lot itself');
  return { ...facts, basis, haulReceiptId, netG, acceptedG };
}

/** Whoever works at the yard that received the lot has it in hand. */
function isOfCrew(actor: Actor, { receivedAt, toSiteId }: Pick<LotRow, 'receivedAt' | 'toSiteId'>): boolean {
  return receivedAt !== null && toSiteId !== null && actor.mayAt('operator', toSiteId);
}

/** What becomes of a lot after it was recorded: each a revision, the ones before it kept. */
@Injectable()
export class RevisionsService {
  constructor(
    private readonly lots: LotsService,
    private readonly writes: LotWritesRecords,
    private readonly records: DropOffsRecords,
    private readonly dropOffs: DropOffsService,
    private readonly undo: UndoService,
    private readonly sites: SiteFactsService,
  ) {}

  /** States the whole lot anew. */
  async correct(actor: Actor, id: string, dto: CorrectionDto): Promise<Recorded<DropOffDto>> {
    return this.once(actor, 'corrected', id, dto, async (now) => {
      const { revision, reason, ...stated } = dto;
      if (revision !== undefined && revision !== now.revision) throw new Problem('changed-meanwhile');
      // It was weighed where it was weighed, unless the correction names another scale.
      const instrumentId = dto.instrumentId ?? (dto.weight && now.instrumentId);
      const entry = { ...stated, siteId: now.siteId, ...(instrumentId ? { instrumentId } : {}) };
      const first = (await this.records.firsts([id])).get(id);
      const recordedMs = now.importId || !first ? null : first.recordedAt.getTime();
      const facts = withShare(await this.lots.require(entry, recordedMs, now), now);
      return { facts: await this.heldAgainstSteps(facts, now), reason };
    });
  }

  /** Refuses (422) a time after what was done with it, and warns of what is left over of it. */
  private async heldAgainstSteps(facts: LotFacts, now: LotRow): Promise<LotFacts> {
    const steps = await this.records.steps(now.id);
    requireBeforeSteps(facts, now, steps);
    const { name } = await this.sites.site(now.receivedAt ? (now.toSiteId ?? now.siteId) : now.siteId);
    return { ...facts, warnings: [...facts.warnings, ...leftOverWarnings(facts, now, steps, name)] };
  }

  /** Takes one more reject off a lot, where it lies: at its hub, or at the yard that received it. */
  async pullReject(actor: Actor, id: string, dto: PulledRejectDto): Promise<Recorded<DropOffDto>> {
    const { siteId, ...whereabouts } = await this.now(id);
    if (!isOfCrew(actor, whereabouts)) {
      if (!actor.mayAt('volunteer', siteId)) throw new Problem('other-site');
      await this.dropOffs.requireReached(actor, id);
    }
    return this.once(actor, 'reject-pulled', id, dto, async (now) => {
      // The crew finds what is in it at the yard, days later; at the hub it is found at the scale.
      if (!actor.mayAt('operator', now.siteId) && !isOfCrew(actor, now))
        await this.requireOwnSlip(actor, now);
      const reject = rejectOf(dto);
      const rejectedG = now.rejectedG + reject.massG;
      const acceptedG = now.netG - rejectedG;
      if (acceptedG < 0) throw invalid('/mass', 'must not weigh more than what is left of the lot');
      // What waits of it is less now than it was when that was told.
      const warnings = now.warnings.filter(({ code }) => code !== 'left-over');
      const facts = { ...now, rejects: [...now.rejects, reject], rejectedG, acceptedG, warnings };
      return { facts, reason: `Pulled out: ${reject.contaminant}` };
    });
  }

  /** Takes a lot back. Sent again with the same reason it is answered as it stands. */
  async void(actor: Actor, id: string, reason: string): Promise<DropOffDto> {
    const now = await this.now(id);
    if (now.voided && now.reason === reason && now.recordedBy === actor.personId) return lotView(now);
    await this.requireOwnSlip(actor, now);
    return this.revise(actor, 'voided', now, { facts: now, reason, voided: true });
  }

  private async requireOwnSlip(actor: Actor, now: LotRow): Promise<void> {
    const first = (await this.records.firsts([now.id])).get(now.id) ?? now;
    const recordedBy = first.recordedBy === now.recordedBy ? first.recordedBy : null;
    await this.undo.requireMayVoid(actor, { ...first, recordedBy });
  }

  /** Makes a revision once, however often its entry is sent, if it has an id of its own. */
  private async once(
    actor: Actor,
    how: Revising,
    id: string,
    dto: { id?: string },
    change: (now: LotRow) => Promise<Change>,
  ): Promise<Recorded<DropOffDto>> {
    if (dto.id?.toLowerCase() === id)
      throw invalid('/id', 'is that of the drop-off; what is sent has one of its own');
    const before = await this.sentBefore(id, dto);
    if (before) return before;
    const now = await this.now(id);
    const changed = await change(now);
    try {
      return { replayed: false, body: await this.revise(actor, how, now, changed, dto) };
    } catch (error) {
      const meanwhile = await this.sentBefore(id, dto);
      if (meanwhile) return meanwhile;
      throw error;
    }
  }

  private async sentBefore(id: string, dto: { id?: string }): Promise<Recorded<DropOffDto> | null> {
    const made = dto.id === undefined ? null : await this.writes.ofEntry(dto.id);
    if (!made) return null;
    if (made.id !== id) throw new Problem('other-body');
    requireSameBody(made.sha256, bodyDigest(dto));
    const revisions = await this.records.revisions(id);
    const now = await this.now(id);
    const body = revisions
      .filter(({ revision }) => revision === made.revision)
      .map((row) => lotView({ ...now, ...row }));
    return body[0] ? { replayed: true, body: body[0] } : null;
  }

  private async revise(
    actor: Actor,
    how: Revising,
    now: LotRow,
    { facts, reason, voided = false }: Change,
    entry: { id?: string } = {},
  ): Promise<DropOffDto> {
    const { id, siteId } = now;
    const revision = now.revision + 1;
    const entrySha256 = entry.id === undefined ? null : bodyDigest(entry).toString('hex');
    const identity = { id, siteId, revision, voided, reason, entryId: entry.id ?? null, entrySha256 };
    const recordedAt = await this.writes.revise(actor, how, { ...facts, ...identity });
    return lotView({
      ...now,
      ...facts,
      ...{ revision, voided, reason, recordedAt },
      recordedBy: actor.personId,
    });
  }

  private async now(id: string): Promise<LotRow> {
    const now = await this.records.now(id);
    if (!now) throw notFound('drop-off');
    return now;
  }
}
