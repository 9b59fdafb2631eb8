import { Injectable } from '@nestjs/common';
import { type HauledLot, shareHaul } from '#libs/accounting';
import { estimateMassG, kgOf, sumG } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { CLOCKS_APART_MS, happenedAt } from '../http/dto/time.js';
import { invalid, notFound, Problem } from '../http/problems/catalogue.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { voidedBefore, writeOnce } from '../http/writes/write-once.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { DropOffsRecords, type HauledLotRow } from './drop-offs.records.js';
import { weightOf } from './haul-amount.js';
import { HaulReceiptsRecords, type NewReceipt } from './haul-receipts.records.js';
import type { HaulDto, NewReceiptDto } from './hauls.dto.js';
import { type HaulRow, HaulsRecords } from './hauls.records.js';
import { haulView } from './hauls.view.js';
import { LotWritesRecords, type NewRevision } from './lot-writes.records.js';
import { UndoService } from './undo.service.js';

/** A haul that is on its way to a yard of the programme. */
type Incoming = HaulRow & { toSiteId: string };

/** Hauls that come in at a yard: from then on their lots can go into its batches. */
@Injectable()
export class HaulReceiptsService {
  constructor(
    private readonly work: Work,
    private readonly hauls: HaulsRecords,
    private readonly receipts: HaulReceiptsRecords,
    private readonly dropOffs: DropOffsRecords,
    private readonly lots: LotWritesRecords,
    private readonly sites: SiteFactsService,
    private readonly undo: UndoService,
    private readonly clock: Clock,
  ) {}

  async receive(actor: Actor, haulId: string, dto: NewReceiptDto): Promise<Recorded<HaulDto>> {
    const id = idOr(dto.id);
    const replayed = await writeOnce(this.work, actor, {
      sentBefore: async () => {
        const kept = await this.receipts.find(id);
        if (kept && kept.haulId !== haulId) throw new Problem('other-body');
        if (kept) requireSameBody(kept.bodySha256, bodyDigest(dto));
        return kept !== null;
      },
      prepare: async () => {
        const haul = incoming(await this.find(haulId));
        requireOnTheRoad(haul);
        const receipt = await this.newReceiptOf(id, haul, dto);
        return (write) => this.keep(write, haul, receipt);
      },
    });
    return { replayed, body: haulView(await this.find(haulId)) };
  }

  /** The haul is on the road again, and what was estimated weighs what was estimated. */
  async void(actor: Actor, haulId: string, reason: string): Promise<HaulDto> {
    const haul = incoming(await this.find(haulId));
    const receipt = await this.receipts.latest(haulId);
    if (!receipt) throw notFound('receipt');
    await writeOnce(this.work, actor, {
      sentBefore: async () => voidedBefore((await this.receipts.find(receipt.id)) ?? receipt, reason),
      prepare: async () => {
        await this.undo.requireMayVoid(actor, { ...receipt, siteId: haul.toSiteId, shiftId: null });
        return (write) => this.takeBack(write, haul, receipt.id, reason);
      },
    });
    return haulView(await this.find(haulId));
  }

  private async find(id: string): Promise<HaulRow> {
    const haul = await this.hauls.find(id);
    if (!haul) throw notFound('haul');
    return haul;
  }

  private async newReceiptOf(id: string, haul: Incoming, dto: NewReceiptDto): Promise<NewReceipt> {
    const { containers = [], explanation = null, note = null } = dto;
    const occurredAt = happenedAt(dto.occurredAt, this.clock.nowMs());
    if (occurredAt.getTime() < haul.occurredAt.getTime() - CLOCKS_APART_MS)
      throw invalid('/occurredAt', `is before the haul left, at ${haul.occurredAt.toISOString()}`);
    const asked = containers.map(({ containerId }) => ({ containerId, atMs: occurredAt.getTime() }));
    const known = (await this.sites.forIntake(haul.siteId, asked)).map(({ container }) => container);
    const weight = weightOf(dto, known, [haul.siteId, haul.toSiteId]);
    return { id, haulId: haul.id, occurredAt, weight, explanation, note, bodySha256: bodyDigest(dto) };
  }

  /** False when the same was sent meanwhile. */
  private async keep(
    write: SqlWrite,
    { id: haulId, siteId, toSiteId }: Incoming,
    receipt: NewReceipt,
  ): Promise<boolean> {
    const { sql } = write;
    await this.hauls.lockLotsAt(sql, [siteId, toSiteId]);
    const now = await this.hauls.find(haulId, sql);
    if (now?.receipt?.id === receipt.id) return false;
    if (now) requireOnTheRoad(now);
    if (!(await this.receipts.insert(write, receipt))) return false;
    const inG = receipt.weight.massG;
    const shared = inG === null ? 0 : await this.share(write, haulId, receipt.id, inG);
    const detail = { haulId, inG, shared };
    write.audit({
      ...{ action: 'haul-receipt.recorded', subjectKind: 'haul-receipt', subjectId: receipt.id },
      ...{ siteId: toSiteId, detail },
    });
    return true;
  }

  /** Gives every lot that was but estimated its share of the weight; answers how many those are. */
  private async share(write: SqlWrite, haulId: string, haulReceiptId: string, inG: number): Promise<number> {
    await this.receipts.holdLots(write.sql, haulId);
    const lots = await this.dropOffs.ofHaul(write.sql, haulId);
    const hauled = lots.map(({ id, basis, acceptedG }): HauledLot => {
      if (basis === 'haul') throw new Error(`lot ${id} has a share of a haul that was not received`);
      return { id, basis, acceptedG };
    });
    const { restG, sharesG } = shareHaul(inG, hauled);
    if (!sharesG) throw nothingLeft(inG, restG);
    const all = sharesG.size === 1 ? 'all of it this lot' : `shared among ${sharesG.size} lots`;
    const reason = `Weighed at the yard with haul ${haulId}: ${kgOf(restG)} kg, ${all}`;
    const next = lots.flatMap((lot): NewRevision[] => {
      const acceptedG = sharesG.get(lot.id);
      if (acceptedG === undefined) return [];
      const share = { basis: 'haul' as const, haulReceiptId, acceptedG, netG: acceptedG + lot.rejectedG };
      return [{ ...lot, ...share, ...nextOf(lot, reason) }];
    });
    await this.lots.reviseIn(write, 'weighed-with-haul', next);
    return next.length;
  }

  /** False when it was voided meanwhile. */
  private async takeBack(
    write: SqlWrite,
    haul: Incoming,
    receiptId: string,
    reason: string,
  ): Promise<boolean> {
    const { sql } = write;
    await this.hauls.lockLotsAt(sql, [haul.siteId, haul.toSiteId]);
    await this.receipts.holdLots(sql, haul.id);
    if (!(await this.receipts.void(write, receiptId, reason))) return false;
    const lots = await this.dropOffs.ofHaul(sql, haul.id);
    const shared = lots.filter(({ haulReceiptId }) => haulReceiptId === receiptId);
    const because = `Estimated again: the receipt of haul ${haul.id} was voided`;
    const next = shared.map((lot): NewRevision => ({ ...estimatedAgain(lot), ...nextOf(lot, because) }));
    await this.lots.reviseIn(write, 'weight-taken-back', next);
    write.audit({
      ...{ action: 'haul-receipt.voided', subjectKind: 'haul-receipt', subjectId: receiptId },
      ...{ siteId: haul.toSiteId, detail: { haulId: haul.id, reason } },
    });
    return true;
  }
}

function incoming(haul: HaulRow): Incoming {
  const { toSiteId } = haul;
  if (toSiteId === null)
    throw new Problem('conflict', 'The haul went to somebody else, and no yard receives it.');
  return { ...haul, toSiteId };
}

function requireOnTheRoad({ voidedAt, receipt }: HaulRow): void {
  if (voidedAt) throw new Problem('conflict', 'The haul is voided.');
  if (receipt) throw new Problem('haul-received');
}

function nothingLeft(inG: number, restG: number): Problem {
  const weighed = `the lots that were weighed at the hub make ${kgOf(inG - restG)} kg`;
  const detail = `is ${kgOf(inG)} kg, and ${weighed}: nothing is left for those that were taken by volume`;
  return new Problem('invalid', `The weight ${detail}.`, [{ pointer: '/weight', detail }]);
}

function nextOf(lot: HauledLotRow, reason: string) {
  const { id, siteId, revision } = lot;
  return { id, siteId, revision: revision + 1, voided: false, reason, entryId: null, entrySha256: null };
}

function estimatedAgain(lot: HauledLotRow): HauledLotRow {
  const netG = lot.estimateG ?? estimateMassG(lot.volumeMl ?? 0, lot.densityKgM3 ?? 0);
  const rejectedG = sumG(lot.rejects.map(({ massG }) => massG));
  if (rejectedG > netG) {
    const told = `${kgOf(rejectedG)} kg were pulled out of a drop-off that was estimated at ${kgOf(netG)} kg`;
    throw new Problem('conflict', `${told}: correct it before its share of the weight is taken back.`);
  }
  return { ...lot, basis: 'volume', haulReceiptId: null, netG, rejectedG, acceptedG: netG - rejectedG };
}
