import { kgOf, sumG } from '#libs/quantities';
import type { BatchDto, StayDto, TotalsDto } from './batches.dto.js';
import type { BatchLine, BatchNow } from './batches.records.js';
import type { FlowLine } from './flows.records.js';
import type { Stay } from './stays.records.js';

export function lineView(line: BatchLine) {
  return {
    id: line.id,
    siteId: line.siteId,
    code: line.code,
    method: line.method,
    processRule: line.processRule,
    stage: line.stage,
    stageEnteredAt: line.stageEnteredAt.toISOString(),
    bay: line.bayCode,
    occurredAt: line.occurredAt.toISOString(),
  };
}

export function batchView(batch: BatchNow, stays: readonly Stay[], flows: readonly FlowLine[]): BatchDto {
  return {
    ...lineView(batch),
    note: batch.note,
    stages: batch.stages.map((entry) => ({ ...entry, enteredAt: entry.enteredAt.toISOString() })),
    stays: stays.map(stayView),
    totals: totalsOf(flows),
    recordedAt: batch.recordedAt.toISOString(),
    recordedBy: batch.recordedBy,
  };
}

export function stayView(stay: Stay): StayDto {
  return {
    id: stay.id,
    bay: stay.bayCode,
    fromAt: stay.fromAt.toISOString(),
    toAt: stay.toAt?.toISOString() ?? null,
  };
}

function totalsOf(flows: readonly FlowLine[]): TotalsDto {
  const inputs = flows.filter(({ direction }) => direction === 'in');
  const outputs = flows.filter(({ direction }) => direction === 'out');
  const kg = (lines: readonly FlowLine[]) => kgOf(sumG(lines.map(({ massG }) => massG)));
  const ofKind = (kind: FlowLine['kind']) => inputs.filter((line) => line.kind === kind);
  return {
    assignments: ofKind('drop-off').reduce((count, { movements }) => count + movements, 0),
    dropOffKg: kg(ofKind('drop-off')),
    amendmentKg: kg(ofKind('amendment')),
    oversInKg: kg(ofKind('overs-in')),
    mergedInKg: kg(ofKind('merged-in')),
    inputKg: kg(inputs),
    estimatedKg: kgOf(sumG(inputs.map(({ estimatedG }) => estimatedG))),
    outputKg: kg(outputs),
  };
}
