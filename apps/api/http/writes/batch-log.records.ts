import type { Database, Sql } from '#libs/database';
import type { SqlWrite } from './work.js';

/** What every operating record of a batch carries. */
export interface BatchEntry {
  id: string;
  batchId: string;
  occurredAt: Date;
  bodySha256: Buffer;
  recordedAt: Date;
  recordedBy: string;
  voidedAt: Date | null;
  voidReason: string | null;
}

export type EntryKey = Pick<BatchEntry, 'id' | 'batchId' | 'bodySha256'>;

const BASE = `e.id, e.batch_id AS "batchId", e.occurred_at AS "occurredAt", e.body_sha256 AS "bodySha256",
  e.recorded_at AS "recordedAt", e.recorded_by AS "recordedBy",
  e.voided_at AS "voidedAt", e.void_reason AS "voidReason"`;

const snake = (name: string) => name.replaceAll(/[A-Z]/g, (part) => `_${part.toLowerCase()}`);

/**
 * One table of operating records of batches (checks, turns, samples, …): each is inserted once, told in order of time,
 * and voided once. `table` and `own` (the table's further columns, as SQL over `e`) are written in code only.
 */
export class BatchLog<Row extends BatchEntry> {
  private readonly select: string;

  constructor(
    protected readonly database: Database,
    /** What it is called in the audit trail and in refusals. */
    readonly kind: string,
    private readonly table: string,
    own: string,
  ) {
    this.select = `SELECT ${BASE}, ${own} FROM ${table} e`;
  }

  /** A record by its id, of whatever batch; voided ones included. */
  async find(id: string, sql: Sql = this.database.sql): Promise<Row | null> {
    const [row] = await sql.query<Row>(`${this.select} WHERE e.id = $1`, [id], `${this.table}-find`);
    return row ?? null;
  }

  /** The latest first, voided ones included; `after` is the key (time, id) of the last one of the page before. */
  page(batchId: string, limit: number, after: readonly (string | number)[] | null): Promise<Row[]> {
    return this.database.sql.query<Row>(
      `${this.select} WHERE e.batch_id = $1
         AND ($2::timestamptz IS NULL OR (e.occurred_at, e.id) < ($2, $3::uuid))
       ORDER BY e.occurred_at DESC, e.id DESC LIMIT $4`,
      [batchId, after?.[0] ?? null, after?.[1] ?? null, limit + 1],
      `${this.table}-page`,
    );
  }

  /** All that were not voided, in order of time. */
  standing(batchId: string, sql: Sql = this.database.sql): Promise<Row[]> {
    return sql.query<Row>(
      `${this.select} WHERE e.batch_id = $1 AND e.voided_at IS NULL ORDER BY e.occurred_at, e.id`,
      [batchId],
      `${this.table}-standing`,
    );
  }

  /** False when the id is taken already. Columns by their names in camel case; JSON as text. */
  async insert(
    { sql, actor }: SqlWrite,
    entry: EntryKey & { occurredAt: Date },
    own: Record<string, unknown>,
  ): Promise<boolean> {
    const columns = { ...entry, ...own, recordedBy: actor.personId };
    const names = Object.keys(columns).map(snake);
    const rows = await sql.query(
      `INSERT INTO ${this.table} (${names.join(', ')}) VALUES (${names.map((_, at) => `$${at + 1}`).join(', ')})
       ON CONFLICT (id) DO NOTHING RETURNING id`,
      Object.values(columns),
      `${this.table}-insert`,
    );
    return rows.length === 1;
  }

  /** False when there is no such record of the batch, or it is voided already. */
  async void({ sql, actor }: SqlWrite, batchId: string, id: string, reason: string): Promise<boolean> {
    const rows = await sql.query(
      `UPDATE ${this.table} SET voided_at = now(), voided_by = $3, void_reason = $4
       WHERE id = $1 AND batch_id = $2 AND voided_at IS NULL RETURNING id`,
      [id, batchId, actor.personId, reason],
      `${this.table}-void`,
    );
    return rows.length === 1;
  }
}
