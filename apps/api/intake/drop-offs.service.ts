import { Injectable } from '@nestjs/common';
import { isUUID } from 'class-validator';
import type { Actor } from '../http/access/actor.js';
import { keyOf, type Page, pageOf } from '../http/dto/paging.js';
import { instantOrNull } from '../http/dto/time.js';
import { notFound, Problem } from '../http/problems/catalogue.js';
import { problemBody } from '../http/problems/filter.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import type { BulkItemDto } from './bulk.dto.js';
import type { DropOffDto, DropOffHistoryDto, DropOffsQuery, NewDropOffDto } from './drop-offs.dto.js';
import { DropOffsRecords, type RevisionRow } from './drop-offs.records.js';
import { firstView, lotView, newLotView, revisionView } from './drop-offs.view.js';
import { EntriesService, type JudgedEntry, newLotOf } from './entries.service.js';
import type { NewLot } from './lot.js';
import { LotWritesRecords } from './lot-writes.records.js';
import { LotsService } from './lots.service.js';
import { isRefused, outcome, required } from './outcome.js';
import { reachOf } from './reach.js';

@Injectable()
export class DropOffsService {
  constructor(
    private readonly lots: LotsService,
    private readonly entries: EntriesService,
    private readonly writes: LotWritesRecords,
    private readonly dropOffs: DropOffsRecords,
  ) {}

  async record(actor: Actor, dto: NewDropOffDto): Promise<Recorded<DropOffDto>> {
    const [facts] = await this.lots.judge([dto]);
    const entry = { dto, judged: outcome(() => newLotOf(dto, required(facts))) };
    return required((await this.keep(actor, [entry])).get(entry));
  }

  /** Bodies of single drop-offs, each accepted or refused for itself; what is accepted is kept in one transaction. */
  async recordBulk(actor: Actor, items: readonly unknown[]): Promise<BulkItemDto[]> {
    const entries = await this.entries.judge(actor, items);
    const read = entries.filter((one): one is JudgedEntry => !isRefused(one));
    const recorded = await this.keep(actor, read);
    return entries.map((one, index) =>
      bulkItem(
        items[index],
        outcome(() => required(isRefused(one) ? one : recorded.get(one))),
      ),
    );
  }

  /**
   * Keeps what is new and answers every entry: kept now, kept before, or refused. What was kept once is answered again
   * even where it would be refused by now, since its shift may have been closed meanwhile.
   */
  private async keep(
    actor: Actor,
    entries: readonly JudgedEntry[],
  ): Promise<Map<JudgedEntry, Recorded<DropOffDto> | Problem>> {
    const lots = new Map<string, NewLot>();
    for (const { judged } of entries) {
      if (!isRefused(judged) && !lots.has(judged.id)) lots.set(judged.id, judged);
    }
    const fresh = new Map<NewLot | Problem, DropOffDto>();
    for (const { id, recordedAt } of await this.writes.keep(actor, [...lots.values()])) {
      const lot = lots.get(id);
      if (lot) fresh.set(lot, newLotView(lot, recordedAt, actor.personId));
    }
    const others = entries.filter(({ judged }) => !fresh.has(judged));
    const firsts = await this.dropOffs.firsts(others.flatMap(({ dto }) => dto.id ?? []));
    return new Map(
      entries.map((entry) => {
        const body = fresh.get(entry.judged);
        return [entry, body ? { replayed: false, body } : outcome(() => sentBefore(entry, firsts))];
      }),
    );
  }

  async list(actor: Actor, query: DropOffsQuery): Promise<Page<DropOffDto>> {
    const after = keyOf(query.cursor, 'instant', 'id');
    const rows = await this.dropOffs.page({
      haulId: query.haulId ?? null,
      siteId: query.siteId ?? null,
      shiftId: query.shiftId ?? null,
      from: instantOrNull(query.from, '/from'),
      to: instantOrNull(query.to, '/to'),
      unassigned: query.unassigned === 'true',
      reach: reachOf(actor),
      limit: query.limit,
      after: after && { occurredAt: String(after[0]), id: String(after[1]) },
    });
    return pageOf(rows, query.limit, (row) => [row.occurredAt.toISOString(), row.id], lotView);
  }

  /** A lot as it stands, with every revision. */
  async get(actor: Actor, id: string): Promise<DropOffHistoryDto> {
    await this.requireReached(actor, id);
    const now = await this.dropOffs.now(id);
    if (!now) throw notFound('drop-off');
    const revisions = await this.dropOffs.revisions(id);
    return { ...lotView(now), revisions: revisions.map(revisionView) };
  }

  /** Refuses a volunteer what is neither theirs nor of their shift. */
  async requireReached(actor: Actor, id: string): Promise<void> {
    if (await this.dropOffs.isReached(id, reachOf(actor))) return;
    throw new Problem('not-allowed', 'A volunteer sees what they recorded and the shifts they took part in.');
  }
}

function sentBefore({ dto, judged }: JudgedEntry, firsts: Map<string, RevisionRow>): Recorded<DropOffDto> {
  const first = firsts.get(dto.id?.toLowerCase() ?? '');
  if (!first) throw isRefused(judged) ? judged : new Error('neither kept now nor before');
  requireSameBody(first.bodySha256, bodyDigest(dto));
  return { replayed: true, body: firstView(first) };
}

function bulkItem(item: unknown, answer: Recorded<DropOffDto> | Problem): BulkItemDto {
  if (!isRefused(answer)) return { id: answer.body.id, status: answer.replayed ? 200 : 201 };
  const id = (item as { id?: unknown } | null)?.id;
  return { id: isUUID(id) ? (id as string) : null, status: answer.status, problem: problemBody(answer) };
}
