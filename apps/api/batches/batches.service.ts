import { Injectable } from '@nestjs/common';
import { Temporal } from 'temporal-polyfill';
import { v7 } from 'uuid';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, pageOf } from '../http/dto/paging.js';
import { happenedAt } from '../http/dto/time.js';
import { invalid, notFound } from '../http/problems/catalogue.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { ProcessRulesService } from '../sites/process-rules.service.js';
import { type BayFacts, type SiteFacts, SiteFactsService } from '../sites/site-facts.service.js';
import type { BatchDto, BatchLineDto, BatchQuery, NewBatchDto } from './batches.dto.js';
import { BatchesRecords, type BatchLine, type BatchNow, type StageEntry } from './batches.records.js';
import { FlowsRecords } from './flows.records.js';
import { writeOnce } from '../http/writes/write-once.js';
import { type Stay, StaysRecords } from './stays.records.js';
import type { Stage } from './stages.js';
import { batchView, lineView } from './views.js';

export type { BatchNow, Stage, StageEntry, Stay };

type Sql = SqlWrite['sql'];

@Injectable()
export class BatchesService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly batches: BatchesRecords,
    private readonly stays: StaysRecords,
    private readonly flows: FlowsRecords,
    private readonly sites: SiteFactsService,
    private readonly rules: ProcessRulesService,
  ) {}

  /** A batch as it stands; refuses (404) when there is none. Inside a transaction, give its `sql`. */
  async find(batchId: string, sql?: Sql): Promise<BatchNow> {
    const row = await this.batches.find(batchId, sql);
    if (!row) throw notFound('batch');
    return row;
  }

  /** Where it lay and lies, in order of time. */
  async staysOf(batchId: string, sql?: Sql): Promise<Stay[]> {
    return this.stays.ofBatch(batchId, sql);
  }

  /** Enters a stage inside a write of the caller, who notes the audit line. The database holds the order of stages. */
  async enterStage(write: SqlWrite, batchId: string, entry: StageEntry): Promise<void> {
    await this.batches.enterStage(write.sql, batchId, entry, write.actor.personId);
  }

  async list(actor: Actor, query: BatchQuery): Promise<Page<BatchLineDto>> {
    const after = keyOf(query.cursor, 'instant', 'id');
    const rows = await this.batches.page({
      siteIds: actor.sitesFor('operator'),
      siteId: query.siteId ?? null,
      stage: query.stage ?? null,
      limit: query.limit,
      after: after && { occurredAt: String(after[0]), id: String(after[1]) },
    });
    const key = (row: BatchLine) => [row.occurredAt.toISOString(), row.id];
    return pageOf(rows, query.limit, key, lineView);
  }

  async get(batchId: string): Promise<BatchDto> {
    const batch = await this.find(batchId);
    return batchView(batch, await this.stays.ofBatch(batchId), await this.flows.lines(batchId));
  }

  /** Begins a batch in a bay. Its code is the yard's, the local year's and a running number: "QS-2026-014". */
  async create(actor: Actor, dto: NewBatchDto): Promise<Recorded<BatchDto>> {
    const id = idOr(dto.id);
    const digest = bodyDigest(dto);
    const replayed = await writeOnce(this.work, actor, {
      sentBefore: async () => {
        const kept = await this.batches.find(id);
        if (kept) requireSameBody(kept.bodySha256, digest);
        return kept !== null;
      },
      prepare: async () => {
        const place = await this.placeOf(dto);
        const occurredAt = happenedAt(dto.occurredAt, this.clock.nowMs());
        const rule = await this.ruleOf(dto, occurredAt);
        return (write) => this.begin(write, dto, { id, digest, occurredAt, rule, ...place });
      },
    });
    return { replayed, body: await this.get(id) };
  }

  private async placeOf({ siteId, bay: code }: NewBatchDto): Promise<{ site: SiteFacts; bay: BayFacts }> {
    const site = await this.sites.site(siteId);
    if (!site.runsBatches) throw invalid('/siteId', `${site.code} runs no batches`);
    const bay = await this.sites.bay(siteId, code);
    if (!bay) throw invalid('/bay', `is no bay of ${site.code}`);
    return { site, bay };
  }

  private async ruleOf(dto: NewBatchDto, at: Date): Promise<string | null> {
    const permit = dto.processRule === undefined && (await this.sites.permitAt(dto.siteId, at.getTime()));
    const code = dto.processRule ?? (permit ? permit.processRule : null);
    if (code !== null) await this.rules.require(code, '/processRule');
    return code;
  }

  private async begin(
    write: SqlWrite,
    dto: NewBatchDto,
    made: {
      id: string;
      digest: Buffer;
      occurredAt: Date;
      rule: string | null;
      site: SiteFacts;
      bay: BayFacts;
    },
  ): Promise<boolean> {
    const { id, occurredAt, site, bay } = made;
    const { method, note = null } = dto;
    const recordedBy = write.actor.personId;
    const code = await this.nextCode(write.sql, site, occurredAt);
    const batch = { id, siteId: site.id, code, method, processRule: made.rule, occurredAt, note, recordedBy };
    if (!(await this.batches.insert(write.sql, { ...batch, bodySha256: made.digest }))) return false;
    await this.enterStage(write, id, { stage: 'building', enteredAt: occurredAt, reason: null });
    const stay = { id: v7(), batchId: id, bayId: bay.id, fromAt: occurredAt, recordedBy };
    await this.stays.insert(write.sql, stay);
    const detail = { code, method, bay: bay.code, processRule: made.rule };
    write.audit({ action: 'batch.begun', subjectKind: 'batch', subjectId: id, siteId: site.id, detail });
    return true;
  }

  private async nextCode(sql: Sql, site: SiteFacts, at: Date): Promise<string> {
    const { year } = Temporal.Instant.fromEpochMilliseconds(at.getTime()).toZonedDateTimeISO(site.timeZone);
    const prefix = `${site.code}-${year}-`;
    const number = await this.batches.nextNumber(sql, site.id, prefix);
    return `${prefix}${String(number).padStart(3, '0')}`;
  }
}
