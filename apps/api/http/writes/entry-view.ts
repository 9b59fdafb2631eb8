import type { BatchEntry } from './batch-log.records.js';

/** What the answer about any record of a batch begins with. */
export function entryView(row: BatchEntry) {
  const { id, batchId, recordedBy, voidReason } = row;
  return {
    ...{ id, batchId, recordedBy, voidReason },
    occurredAt: row.occurredAt.toISOString(),
    recordedAt: row.recordedAt.toISOString(),
    voidedAt: row.voidedAt?.toISOString() ?? null,
  };
}

export function notedEntryView(row: BatchEntry & { note: string | null }) {
  return { ...entryView(row), note: row.note };
}
