import { AsyncLocalStorage } from 'node:async_hooks';
import type { EventEmitter } from 'node:events';
import pg from 'pg';

const INT8_OID = 20;

/** Counts and masses come as int8; all of ours fit a double exactly, and one that does not must not pass silently. */
function int8ToNumber(text: string): number {
  const value = Number(text);
  if (!Number.isSafeInteger(value)) throw new RangeError(`int8 value ${text} is beyond 2^53`);
  return value;
}

/** The driver's types name only the built-in types; any oid has a parser. */
const parserOf = pg.types.getTypeParser as (oid: number, format?: 'text' | 'binary') => unknown;

const typesWithNumericInt8 = {
  getTypeParser: (oid: number, format?: 'text' | 'binary'): unknown =>
    oid === INT8_OID && format !== 'binary' ? int8ToNumber : parserOf(oid, format),
};

export interface PoolSettings {
  url: string;
  /** Connections this process may hold. */
  max?: number;
  statementTimeoutMs?: number;
}

/** Where a transaction that Prisma opens leaves its connection, so that SQL can run on the very same one. */
export interface ConnectionSlot {
  client?: pg.PoolClient;
}

/** A pg pool that notes the connection handed out inside `capture`. */
export class Pool extends pg.Pool {
  private readonly slots = new AsyncLocalStorage<ConnectionSlot>();

  capture<T>(slot: ConnectionSlot, work: () => Promise<T>): Promise<T> {
    return this.slots.run(slot, work);
  }

  override connect(): Promise<pg.PoolClient>;
  override connect(callback: Parameters<pg.Pool['connect']>[0]): void;
  override connect(callback?: Parameters<pg.Pool['connect']>[0]): Promise<pg.PoolClient> | void {
    if (callback) {
      super.connect(callback);
      return;
    }
    const slot = this.slots.getStore();
    return super.connect().then((client) => {
      if (slot) slot.client = client;
      return client;
    });
  }
}

/**
 * Every limit is stated here because the driver's own defaults wait for ever. The session's zone must be UTC:
 * the Prisma adapter sends and reads timestamps without an offset.
 */
export function createPool(settings: PoolSettings): Pool {
  const pool = new Pool({
    connectionString: settings.url,
    max: settings.max ?? 10,
    connectionTimeoutMillis: 5_000,
    idleTimeoutMillis: 30_000,
    statement_timeout: settings.statementTimeoutMs ?? 60_000,
    keepAlive: true,
    options: '-c TimeZone=UTC',
    types: typesWithNumericInt8,
  });
  // An idle connection that the server drops (a restart, say) must not end the process.
  pool.on('error', () => undefined);
  // Nor one inside a transaction, between two statements: the next statement fails, and that is told.
  pool.on('connect', (client) => void client.on('error', () => undefined));
  pool.on('connect', nameConstraints);
  return pool;
}

/**
 * Of a refusal Prisma hands on the hint but not the name of the constraint, and the sentences of our triggers do not
 * hold it: so it is put into the hint, where `refusalOf` finds it. The driver tells of a failure by this event before
 * anybody who waits for the statement goes on.
 */
function nameConstraints(client: pg.PoolClient): void {
  const { connection } = client as unknown as { connection: EventEmitter };
  connection.on('errorMessage', (error: pg.DatabaseError) => {
    if (error.constraint) error.hint ??= `constraint "${error.constraint}"`;
  });
}
