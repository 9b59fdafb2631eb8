import { Injectable } from '@nestjs/common';
import { kgOf, litresOf, massToG, volumeToMl } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import type { Page, PageQuery } from '../http/dto/paging.js';
import { happenedSince } from '../http/dto/time.js';
import { invalid } from '../http/problems/catalogue.js';
import { notedEntryView } from '../http/writes/entry-view.js';
import { logPage, type NewEntry, recordOnce, voidOnce } from '../http/writes/batch-log.js';
import { bodyDigest, type Recorded } from '../http/writes/replay.js';
import { Work } from '../http/writes/work.js';
import { BatchesService } from '../batches/batches.service.js';
import { OutputsService } from './outputs.service.js';
import type { NewScreeningDto, ScreeningDto, ScreeningEntered } from './screenings.dto.js';
import { type ScreeningRow, ScreeningsRecords } from './screenings.records.js';

@Injectable()
export class ScreeningsService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly screenings: ScreeningsRecords,
    private readonly outputs: OutputsService,
    private readonly batches: BatchesService,
  ) {}

  list(batchId: string, query: PageQuery): Promise<Page<ScreeningDto>> {
    return logPage(this.screenings, batchId, query, view);
  }

  async record(actor: Actor, batchId: string, dto: NewScreeningDto): Promise<Recorded<ScreeningDto>> {
    const key = { id: idOr(dto.id), batchId, bodySha256: bodyDigest(dto) };
    const { replayed, body } = await recordOnce(this.work, actor, this.screenings, key, () =>
      this.entryOf(batchId, dto),
    );
    return { replayed, body: view(body) };
  }

  async void(actor: Actor, batchId: string, id: string, reason: string): Promise<ScreeningDto> {
    const { siteId } = await this.batches.find(batchId);
    return view(await voidOnce(this.work, actor, this.screenings, { id, batchId, siteId, reason }));
  }

  private async entryOf(batchId: string, dto: NewScreeningDto): Promise<NewEntry> {
    const batch = await this.batches.find(batchId);
    const curing = batch.stages.find(({ stage }) => stage === 'curing');
    const [began, what] = curing
      ? [curing.enteredAt, 'curing began']
      : [batch.occurredAt, 'the batch was begun'];
    const occurredAt = happenedSince(dto.occurredAt, this.clock.nowMs(), began, what);
    return {
      siteId: batch.siteId,
      occurredAt,
      own: {
        ...partsOf(dto),
        residueWentTo: dto.residueWentTo ?? null,
        note: dto.note ?? null,
        entered: JSON.stringify(enteredOf(dto)),
      },
      ...this.outputs.weighed(batchId),
    };
  }
}

function partsOf({ compost, compostVolume, overs, residue, residueWentTo }: NewScreeningDto) {
  const [compostG, oversG, residueG] = [compost, overs, residue].map((mass) => (mass ? massToG(mass) : 0));
  if (!compostG && !oversG && !residueG) {
    throw invalid('/compost', 'or /overs or /residue is needed: what screening gave');
  }
  if (residueG && !residueWentTo) throw invalid('/residueWentTo', 'is needed with residue');
  if (!residueG && residueWentTo) throw invalid('/residueWentTo', 'goes with residue');
  const compostVolumeMl = compostVolume ? volumeToMl(compostVolume) : null;
  if (compostVolumeMl !== null && !compostG) throw invalid('/compostVolume', 'goes with the mass of compost');
  if (compostVolumeMl === 0) throw invalid('/compostVolume', 'is nothing; leave it out');
  return { compostG, oversG, residueG, compostVolumeMl };
}

function enteredOf({ compost, compostVolume, overs, residue }: NewScreeningDto): ScreeningEntered {
  const typed = Object.entries({ compost, compostVolume, overs, residue });
  return Object.fromEntries(typed.filter(([, quantity]) => quantity !== undefined));
}

function view(row: ScreeningRow): ScreeningDto {
  const { compostVolumeMl, residueWentTo, entered } = row;
  return {
    ...notedEntryView(row),
    compostKg: kgOf(row.compostG),
    compostVolumeL: compostVolumeMl === null ? null : litresOf(compostVolumeMl),
    oversKg: kgOf(row.oversG),
    residueKg: kgOf(row.residueG),
    ...{ residueWentTo, entered },
  };
}
