import { Injectable } from '@nestjs/common';
import { faultOf, parameterOf, type RuleMicrobes, type SampleResult } from '#libs/process';
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
import { judgedSample } from './judged-sample.js';
import { OutputsService } from './outputs.service.js';
import { RuleMicrobesService } from './rule-microbes.service.js';
import type { NewSampleDto, SampleDto, SampleResultDto } from './samples.dto.js';
import { type SampleRow, SamplesRecords } from './samples.records.js';

@Injectable()
export class SamplesService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly samples: SamplesRecords,
    private readonly outputs: OutputsService,
    private readonly batches: BatchesService,
    private readonly microbes: RuleMicrobesService,
  ) {}

  async list(batchId: string, query: PageQuery): Promise<Page<SampleDto>> {
    const microbes = await this.microbes.of(batchId);
    return logPage(this.samples, batchId, query, (row) => view(row, microbes));
  }

  async record(actor: Actor, batchId: string, dto: NewSampleDto): Promise<Recorded<SampleDto>> {
    const key = { id: idOr(dto.id), batchId, bodySha256: bodyDigest(dto) };
    const { replayed, body } = await recordOnce(this.work, actor, this.samples, key, () =>
      this.entryOf(batchId, dto),
    );
    return { replayed, body: view(body, await this.microbes.of(batchId)) };
  }

  async void(actor: Actor, batchId: string, id: string, reason: string): Promise<SampleDto> {
    const { siteId } = await this.batches.find(batchId);
    const voided = await voidOnce(this.work, actor, this.samples, { id, batchId, siteId, reason });
    return view(voided, await this.microbes.of(batchId));
  }

  private async entryOf(batchId: string, dto: NewSampleDto): Promise<NewEntry> {
    const batch = await this.batches.find(batchId);
    const began = batch.occurredAt;
    const occurredAt = happenedSince(dto.occurredAt, this.clock.nowMs(), began, 'the batch was begun');
    const { kind, outcome, finding = null, laboratory = null, reference = null, mass } = dto;
    const results = resultsOf(dto);
    return {
      siteId: batch.siteId,
      occurredAt,
      own: {
        ...{ kind, outcome, finding, laboratory, reference },
        results: JSON.stringify(results),
        massG: mass ? massToG(mass) : 0,
        entered: JSON.stringify(mass ? { mass } : {}),
      },
      ...this.outputs.weighed(batchId),
    };
  }
}

/** Refuses (422) a sample that says nothing, and a figure that no table could be held against, at its pointer. */
function resultsOf({ results, finding }: NewSampleDto): SampleResult[] {
  if (!results && finding === undefined) {
    throw invalid('/results', 'or /finding is needed: what was found, in figures or in words');
  }
  return (results ?? []).map(({ qualifier = null, laboratoryWord = null, ...figure }, index) => {
    const result = { ...figure, qualifier, laboratoryWord };
    const fault = faultOf(result);
    if (fault) throw invalid(`/results/${index}/${fault.field}`, fault.problem);
    return result;
  });
}

function view(row: SampleRow, microbes: readonly RuleMicrobes[]): SampleDto {
  const { kind, finding, outcome, laboratory, reference, massG, entered } = row;
  const { findings, warnings } = judgedSample(row, microbes);
  return {
    ...entryView(row),
    ...{ kind, finding, outcome, laboratory, reference, entered, findings },
    results: row.results.map(resultView),
    warnings: warnings.map((text) => ({ text })),
    massKg: kgOf(massG),
  };
}

const resultView = ({
  parameter,
  value,
  unit,
  qualifier,
  laboratoryWord,
}: SampleResult): SampleResultDto => ({
  ...{ parameter, title: parameterOf(parameter)?.title ?? parameter },
  ...{ value, unit, qualifier, laboratoryWord },
});
