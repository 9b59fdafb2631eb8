import { Injectable } from '@nestjs/common';
import { type AnyBatchRecord, type BatchRecord, recordOf } from '#libs/documents';
import { kgOf, massToG, sumG } from '#libs/quantities';
import { notFound } from '../http/problems/catalogue.js';
import type { PublicRecordDto } from './public-records.dto.js';
import { PublicRecordsRecords } from './public-records.records.js';
import { percentOf } from './trace-views.js';

/** What a sealed record says in short, to anybody who has its seal: where the yard lets them. */
@Injectable()
export class PublicRecordsService {
  constructor(private readonly records: PublicRecordsRecords) {}

  /** Refuses (404) alike what is not known and what is not shown. */
  async find(seal: string): Promise<PublicRecordDto> {
    const row = await this.records.find(seal);
    if (!row) throw notFound('record to be shown');
    const record = recordOf(JSON.parse(row.document) as AnyBatchRecord);
    return { seal, onHold: row.onHold, ...inShort(record) };
  }
}

function inShort(record: BatchRecord): Omit<PublicRecordDto, 'seal' | 'onHold'> {
  const { programme, site, batch, release, verdict, cure, samples, gates, cautions, deference } = record;
  return {
    programme: programme.name,
    site: site.name,
    timeZone: site.timeZone,
    batch: batch.code,
    begunAt: batch.stages[0]?.enteredAt ?? record.asOf,
    releasedAt: release?.signedAt ?? null,
    materials: materialsOf(record),
    verdict: verdict && {
      rule: verdict.rule.title,
      citation: verdict.rule.citation,
      status: verdict.status,
      metAt: verdict.metAt,
    },
    cure: cure && { daysDone: cure.daysDone, daysRequired: cure.daysRequired },
    samples: samples.map(({ occurredAt, kind, outcome }) => ({ occurredAt, kind, outcome })),
    gates: gates.map(({ key, state, overrideReason }) => ({
      key,
      state,
      overridden: overrideReason !== null,
    })),
    cautions: cautions.map(({ topic, text, source }) => ({ topic, text, source })),
    deference,
  };
}

type Input = NonNullable<BatchRecord['balance']>['inputs'][number];

const FROM_BATCHES: Partial<Record<Input['kind'], string>> = {
  'overs-in': 'Overs of earlier batches',
  'merged-in': 'Other batches that were put in',
};

/** By name: what came from a neighbour and what came from stock are one. */
function materialsOf({ balance }: BatchRecord): PublicRecordDto['materials'] {
  const masses = new Map<string, { massG: number; estimatedG: number }>();
  for (const { kind, label, massKg, estimatedKg } of balance?.inputs ?? []) {
    const name = FROM_BATCHES[kind] ?? label;
    const { massG, estimatedG } = masses.get(name) ?? { massG: 0, estimatedG: 0 };
    masses.set(name, { massG: massG + gramsOf(massKg), estimatedG: estimatedG + gramsOf(estimatedKg) });
  }
  const wholeG = sumG([...masses.values()].map(({ massG }) => massG));
  return [...masses]
    .toSorted(([, a], [, b]) => b.massG - a.massG)
    .map(([name, { massG, estimatedG }]) => ({
      ...{ name, massKg: kgOf(massG), sharePercent: percentOf(massG, wholeG) },
      ...{ estimated: estimatedG > 0, estimatedKg: kgOf(estimatedG) },
    }));
}

const gramsOf = (massKg: number): number => massToG({ value: massKg, unit: 'kg' });
