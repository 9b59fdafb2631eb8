import { Inject, Injectable } from '@nestjs/common';
import {
  localMinute,
  recallCsv,
  type RecallBatch,
  type RecallDistribution,
  type RecallList,
  recallPdf,
  type RecallSubject,
  type RecallWaiting,
} from '#libs/documents';
import { SETTINGS, type Settings } from '../http/settings.js';
import type { BatchTraceDto, DropOffTraceDto, TracedBatchDto, TracedDistributionDto } from './trace.dto.js';
import type { BatchFacts, LotFacts } from './trace.records.js';
import { type Placed, TraceService } from './trace.service.js';
import { factOf } from './trace-views.js';

/** What a recall list is about. */
export type RecallOf = 'drop-off' | 'batch';

export interface RecallFile {
  bytes: Uint8Array;
  fileName: string;
}

/** The trace forward as a list to work off: which batches to hold, and whom to tell. */
@Injectable()
export class RecallService {
  constructor(
    @Inject(SETTINGS) private readonly settings: Settings,
    private readonly traces: TraceService,
  ) {}

  async csv(kind: RecallOf, id: string): Promise<RecallFile> {
    const { list, name } = await this.list(kind, id);
    return { bytes: Buffer.from(recallCsv(list)), fileName: `${name}.csv` };
  }

  async pdf(kind: RecallOf, id: string): Promise<RecallFile> {
    const { list, name } = await this.list(kind, id);
    return { bytes: await recallPdf(list), fileName: `${name}.pdf` };
  }

  private async list(kind: RecallOf, id: string): Promise<{ list: RecallList; name: string }> {
    if (kind === 'batch') {
      const placed = await this.traces.batch(id);
      const { code } = placed.trace;
      return { list: this.listOf(placed, batchSubject(placed), null), name: `recall-${code}` };
    }
    const placed = await this.traces.dropOff(id);
    const { trace, lot } = placed;
    const list = this.listOf(placed, lotSubject(trace, lot), waitingOf(trace, lot));
    return { list, name: `recall-drop-off-${id}` };
  }

  private listOf(
    { trace, facts }: Pick<Placed<DropOffTraceDto | BatchTraceDto>, 'trace' | 'facts'>,
    subject: RecallSubject,
    waiting: RecallWaiting | null,
  ): RecallList {
    return {
      programme: this.settings.programme,
      asOf: trace.asOf,
      subject,
      waiting,
      batches: trace.batches.map((batch) => batchOf(batch, factOf(facts, batch.id))),
      distributions: trace.distributions.map((one) => distributionOf(one, factOf(facts, one.batchId))),
      assumptions: trace.assumptions,
      cautions: trace.cautions,
    };
  }
}

function lotSubject({ dropOff: told }: DropOffTraceDto, lot: LotFacts): RecallSubject {
  const at = localMinute(lot.occurredAt.toISOString(), lot.timeZone);
  const lines = [
    ['Dropped off', `${at}, ${lot.siteName} (${lot.siteCode})`],
    ['From', `${lot.depositor.replaceAll('-', ' ')}, ${lot.jurisdiction}`],
    ['Accepted', `${told.acceptedKg} kg${lot.voided ? ' (the entry was voided)' : ''}`],
    ['In batches', `${told.inBatchesKg} kg`],
    ['In no batch', `${told.inNoBatchKg} kg`],
    ['Composted by', lot.elsewhere ?? 'the programme itself'],
  ];
  return {
    title: `${lot.materialName} of ${at.slice(0, 10)}`,
    timeZone: lot.timeZone,
    lines: lines.map(([label = '', value = '']) => ({ label, value })),
  };
}

/** What of it is in no batch, and where that is; null of nothing. */
function waitingOf({ dropOff: { inNoBatchKg } }: DropOffTraceDto, lot: LotFacts): RecallWaiting | null {
  const { elsewhere, hauledTo, received, siteName } = lot;
  if (inNoBatchKg <= 0) return null;
  if (elsewhere !== null) return { kind: 'elsewhere', site: elsewhere, ofItKg: inNoBatchKg };
  if (hauledTo !== null && !received) return { kind: 'on-the-road', site: hauledTo, ofItKg: inNoBatchKg };
  return { kind: 'waiting', site: hauledTo ?? siteName, ofItKg: inNoBatchKg };
}

function batchSubject({ trace, facts }: Placed<BatchTraceDto>): RecallSubject {
  const { siteName, siteCode, timeZone, begunAt, stage, onHold } = factOf(facts, trace.id);
  return {
    title: `Batch ${trace.code}`,
    timeZone,
    lines: [
      { label: 'Yard', value: `${siteName} (${siteCode})` },
      { label: 'Begun', value: localMinute(begunAt.toISOString(), timeZone) },
      { label: 'Put in', value: `${trace.inputKg} kg, water not counted` },
      { label: 'Stage', value: onHold ? `${stage}, on hold` : stage },
    ],
  };
}

function batchOf(batch: TracedBatchDto, { siteName }: BatchFacts): RecallBatch {
  const { code, stage, onHold, inputKg, ofItKg, sharePercent, compostLeftKg, oversLeftKg } = batch;
  const ways = batch.ways.map(({ kind, fromBatch, massKg }) =>
    kind === 'overs' ? `overs of ${fromBatch}, ${massKg} kg` : `all of ${fromBatch}, ${massKg} kg`,
  );
  return {
    code,
    site: siteName,
    stage,
    onHold,
    ways,
    inputKg,
    ofItKg,
    sharePercent,
    compostLeftKg,
    oversLeftKg,
  };
}

function distributionOf(one: TracedDistributionDto, { siteName, timeZone }: BatchFacts): RecallDistribution {
  const { code, occurredAt, recipient, use, massKg, volumeL, ofItKg, sharePercent, note } = one;
  const place = { code, batchCode: one.batch, site: siteName, timeZone };
  return { ...place, occurredAt, recipient, use, massKg, volumeL, ofItKg, sharePercent, note };
}
