import type { Actor } from '../access/actor.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../dto/paging.js';
import { notFound, Problem } from '../problems/catalogue.js';
import type { BatchEntry, BatchLog, EntryKey } from './batch-log.records.js';
import { type Recorded, requireSameBody } from './replay.js';
import type { SqlWrite, Work } from './work.js';
import { voidedBefore, writeOnce } from './write-once.js';

/** A new record, ready to be kept. */
export interface NewEntry {
  siteId: string;
  occurredAt: Date;
  /** Further columns of its table. */
  own: Record<string, unknown>;
  /** Before and after the insert, in its transaction. */
  before?: (write: SqlWrite) => Promise<void>;
  after?: (write: SqlWrite) => Promise<void>;
}

/**
 * Keeps a record once, however often it is sent. One that was kept before is answered as it stands, whatever has
 * become of the batch since; only a new one is prepared, which is where it is judged.
 */
export async function recordOnce<Row extends BatchEntry>(
  work: Work,
  actor: Actor,
  log: BatchLog<Row>,
  key: EntryKey,
  prepare: () => Promise<NewEntry>,
): Promise<Recorded<Row>> {
  const replayed = await writeOnce(work, actor, {
    sentBefore: async () => {
      const kept = await log.find(key.id);
      if (kept) requireSame(kept, key);
      return kept !== null;
    },
    prepare: async () => {
      const entry = await prepare();
      return (write) => insert(write, log, key, entry);
    },
  });
  return { replayed, body: await keptOf(log, key.id) };
}

/** False when somebody sent the same meanwhile. */
async function insert<Row extends BatchEntry>(
  write: SqlWrite,
  log: BatchLog<Row>,
  key: EntryKey,
  { siteId, occurredAt, own, before, after }: NewEntry,
): Promise<boolean> {
  await before?.(write);
  if (!(await log.insert(write, { ...key, occurredAt }, own))) return false;
  await after?.(write);
  const detail = { batchId: key.batchId, occurredAt: occurredAt.toISOString() };
  write.audit({ action: `${log.kind}.recorded`, subjectKind: log.kind, subjectId: key.id, siteId, detail });
  return true;
}

/** An id belongs to one batch: under another it is another body. */
function requireSame(kept: BatchEntry, key: EntryKey): void {
  if (kept.batchId !== key.batchId) throw new Problem('other-body');
  requireSameBody(kept.bodySha256, key.bodySha256);
}

async function keptOf<Row extends BatchEntry>(log: BatchLog<Row>, id: string): Promise<Row> {
  const row = await log.find(id);
  if (!row) throw new Error(`the ${log.kind} ${id} is not there`);
  return row;
}

/** Takes a record of a batch back, once; it stays, marked. Sent again with the same reason it is answered as it stands. */
export async function voidOnce<Row extends BatchEntry>(
  work: Work,
  actor: Actor,
  log: BatchLog<Row>,
  target: { id: string; batchId: string; siteId: string; reason: string },
): Promise<Row> {
  const { id, batchId, siteId, reason } = target;
  await writeOnce(work, actor, {
    sentBefore: async () => {
      const kept = await log.find(id);
      if (kept?.batchId !== batchId) throw notFound(log.kind);
      return voidedBefore(kept, reason);
    },
    prepare: () =>
      Promise.resolve(async (write) => {
        if (!(await log.void(write, batchId, id, reason))) return false;
        const detail = { batchId, reason };
        write.audit({ action: `${log.kind}.voided`, subjectKind: log.kind, subjectId: id, siteId, detail });
        return true;
      }),
  });
  return keptOf(log, id);
}

/** A page of a batch's records, the latest first. */
export async function logPage<Row extends BatchEntry, T>(
  log: BatchLog<Row>,
  batchId: string,
  { limit, cursor }: PageQuery,
  view: (row: Row) => T,
): Promise<Page<T>> {
  const rows = await log.page(batchId, limit, keyOf(cursor, 'instant', 'id'));
  return pageOf(rows, limit, (row) => [row.occurredAt.toISOString(), row.id], view);
}
