import { PrismaPg } from '@prisma/adapter-pg';
import type pg from 'pg';
import { PrismaClient, type Prisma } from './generated/client.js';
import { createPool, type ConnectionSlot, type Pool, type PoolSettings } from './pool.js';

/** Plain SQL on one connection. Give a statement a `name` and it is prepared once a connection. */
export interface Sql {
  query<Row extends object>(text: string, values?: readonly unknown[], name?: string): Promise<Row[]>;
}

/** One transaction, for Prisma and for SQL alike: both run on the same connection. */
export interface Tx {
  prisma: Prisma.TransactionClient;
  sql: Sql;
}

const TRANSACTION_MAX_MS = 60_000;
const WAIT_FOR_CONNECTION_MS = 10_000;

function sqlOn(target: Pick<pg.ClientBase, 'query'>): Sql {
  return {
    async query<Row extends object>(text: string, values: readonly unknown[] = [], name?: string) {
      const result = await target.query<Row>({ text, values: [...values], ...(name ? { name } : {}) });
      return result.rows;
    },
  };
}

/** The one door to PostgreSQL. */
export class Database {
  readonly prisma: PrismaClient;
  readonly sql: Sql;
  private readonly pool: Pool;

  constructor(settings: PoolSettings) {
    this.pool = createPool(settings);
    this.prisma = new PrismaClient({ adapter: new PrismaPg(this.pool) });
    this.sql = sqlOn(this.pool);
  }

  /** Commits when `work` resolves; rolls back, and nothing is kept, when it throws. */
  async write<T>(work: (tx: Tx) => Promise<T>): Promise<T> {
    const slot: ConnectionSlot = {};
    return this.pool.capture(slot, () =>
      this.prisma.$transaction(
        (prisma) => {
          if (!slot.client) throw new Error('the transaction left no connection behind');
          return work({ prisma, sql: sqlOn(slot.client) });
        },
        { maxWait: WAIT_FOR_CONNECTION_MS, timeout: TRANSACTION_MAX_MS },
      ),
    );
  }

  /** A transaction of SQL alone, for the paths where every tenth of a millisecond is somebody's queue. */
  async writeSql<T>(work: (sql: Sql) => Promise<T>): Promise<T> {
    return this.inTransaction('BEGIN', work);
  }

  /**
   * As `writeSql`, and everything that is read sees one and the same moment, that of its first statement: what is
   * written of figures (an issued report) is of the very rows that they were summed from. A LOCK TABLE may go before that
   * moment, a lock taken by a SELECT may not. May be refused as `retry` where others wrote the same rows meanwhile.
   */
  async writeSnapshot<T>(work: (sql: Sql) => Promise<T>): Promise<T> {
    return this.inTransaction('BEGIN ISOLATION LEVEL REPEATABLE READ', work);
  }

  /** Many reads that must see one and the same moment (a record, a report, an export). */
  async readSnapshot<T>(work: (sql: Sql) => Promise<T>): Promise<T> {
    return this.inTransaction('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY', work);
  }

  private async inTransaction<T>(begin: string, work: (sql: Sql) => Promise<T>): Promise<T> {
    const client = await this.pool.connect();
    let broken: Error | undefined;
    try {
      await client.query(begin);
      const result = await work(sqlOn(client));
      await client.query('COMMIT');
      return result;
    } catch (error) {
      await client.query('ROLLBACK').catch((failure: unknown) => {
        broken = failure instanceof Error ? failure : new Error(String(failure));
      });
      throw error;
    } finally {
      client.release(broken);
    }
  }

  async close(): Promise<void> {
    await this.prisma.$disconnect();
    await this.pool.end();
  }
}
