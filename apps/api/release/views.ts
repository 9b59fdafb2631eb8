import type { BatchEntry } from '../http/work/batch-log.records.js';

export function recordView(row: BatchEntry) {
  const { id, batchId, recordedBy, voidReason } = row;
  return {
    ...{ id, batchId, recordedBy, voidReason },
    occurredAt: row.occurredAt.toISOString(),
    recordedAt: row.recordedAt.toISOString(),
    voidedAt: row.voidedAt?.toISOString() ?? null,
  };
}
