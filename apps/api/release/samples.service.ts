import { Injectable } from '@nestjs/common';
import { kgOf, massToG } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import type { Page, PageQuery } from '../http/dto/paging.js';
import { happenedSince } from '../http/dto/time.js';
import { invalid } from '../http/problems/catalogue.js';
import { entryView } from '../http/writes/entry-view.js';
import { logPage, type NewEntry, recordOnce, voidOnce } from '../http/writes/batch-log.js';
import { bodyDigest, type Recorded } from '../http/writes/replay.js';
import { Work } from '../http/writes/work.js';
import { BatchesService } from '../batches/batches.service.js';
import { OutputsService } from './outputs.service.js';
import type { NewSampleDto, SampleDto } from './samples.dto.js';
import { type SampleRow, SamplesRecords } from './samples.records.js';

@Injectable()
export class SamplesService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly samples: SamplesRecords,
    private readonly outputs: OutputsService,
    private readonly batches: BatchesService,
  ) {}

  list(batchId: string, query: PageQuery): Promise<Page<SampleDto>> {
    return logPage(this.samples, batchId, query, view);
  }

  async record(actor: Actor, batchId: string, dto: NewSampleDto): Promise<Recorded<SampleDto>> {
    const key = { id: idOr(dto.id), batchId, bodySha256: bodyDigest(dto) };
    const { replayed, body } = await recordOnce(this.work, actor, this.samples, key, () =>
      this.entryOf(batchId, dto),
    );
    return { replayed, body: view(body) };
  }

  async void(actor: Actor, batchId: string, id: string, reason: string): Promise<SampleDto> {
    const { siteId } = await this.batches.find(batchId);
    return view(await voidOnce(this.work, actor, this.samples, { id, batchId, siteId, reason }));
  }

  private async entryOf(batchId: string, dto: NewSampleDto): Promise<NewEntry> {
    const batch = await this.batches.find(batchId);
    const began = batch.occurredAt;
    const occurredAt = happenedSince(dto.occurredAt, this.clock.nowMs(), began, 'the batch was begun');
    requireFinding(dto);
    const { kind, outcome, value = null, unit = null, finding = null } = dto;
    const { laboratory = null, reference = null, mass } = dto;
    const entered = { ...(value === null ? {} : { value }), ...(mass ? { mass } : {}) };
    return {
      siteId: batch.siteId,
      occurredAt,
      own: {
        ...{ kind, outcome, value, unit, finding, laboratory, reference },
        massG: mass ? massToG(mass) : 0,
        entered: JSON.stringify(entered),
      },
      ...this.outputs.weighed(batchId),
    };
  }
}

function requireFinding({ value, unit, finding }: NewSampleDto): void {
  if (value === undefined && finding === undefined) {
    throw invalid('/value', 'or /finding is needed: what was found, as a number or in words');
  }
  if (value === undefined && unit !== undefined) throw invalid('/unit', 'goes with a value');
}

function view(row: SampleRow): SampleDto {
  const { kind, value, unit, finding, outcome, laboratory, reference, massG, entered } = row;
  return {
    ...entryView(row),
    ...{ kind, value, unit, finding, outcome, laboratory, reference, entered },
    massKg: kgOf(massG),
  };
}
