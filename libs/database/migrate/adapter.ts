import { randomUUID } from 'node:crypto';
import { PrismaPg } from '@prisma/adapter-pg';
import {
  ColumnTypeEnum,
  isDriverAdapterError,
  type SqlDriverAdapter,
  type SqlMigrationAwareDriverAdapterFactory,
  type SqlResultSet,
} from '@prisma/driver-adapter-utils';
import pg from 'pg';

const CHAR_OID = 18;

export interface ServerAddress {
  host: string;
  port: number;
  user: string;
  password: string;
  database: string;
}

/** Taken apart because a connection string would override the name of the shadow database. */
export function addressOf(url: string): ServerAddress {
  const parsed = new URL(url);
  return {
    host: parsed.hostname,
    port: Number(parsed.port || '5432'),
    user: decodeURIComponent(parsed.username),
    password: decodeURIComponent(parsed.password),
    database: decodeURIComponent(parsed.pathname.slice(1)),
  };
}

function poolAt(address: ServerAddress): pg.Pool {
  const pool = new pg.Pool({
    ...address,
    max: 2,
    options: '-c TimeZone=UTC',
    connectionTimeoutMillis: 5_000,
  });
  pool.on('error', () => undefined);
  return pool;
}

/**
 * The stock adapter splits a script on every semicolon, which breaks function bodies and leaves half a
 * migration behind. Sent whole, a script is one implicit transaction. It also cannot read the catalogue's
 * "char" columns, on which the engine depends.
 */
function mended(adapter: SqlDriverAdapter, pool: pg.Pool): SqlDriverAdapter {
  adapter.executeScript = async (script) => {
    await pool.query(script);
  };
  const queryRaw = adapter.queryRaw.bind(adapter);
  adapter.queryRaw = async (query) => {
    try {
      return await queryRaw(query);
    } catch (error) {
      // Only the catalogue has "char" columns, so what is asked a second time is a read.
      if (!isUnreadableColumn(error)) throw error;
      return readCatalogue(pool, query.sql, query.args);
    }
  };
  return adapter;
}

function isUnreadableColumn(error: unknown): boolean {
  return isDriverAdapterError(error) && error.cause.kind === 'UnsupportedNativeDataType';
}

async function readCatalogue(pool: pg.Pool, text: string, values: unknown[]): Promise<SqlResultSet> {
  const result = await pool.query<unknown[]>({ text, values, rowMode: 'array' });
  return {
    columnNames: result.fields.map((field) => field.name),
    columnTypes: result.fields.map((field) => columnType(field.dataTypeID)),
    rows: result.rows,
  };
}

/** The engine's catalogue queries hold only these. */
function columnType(oid: number): (typeof ColumnTypeEnum)[keyof typeof ColumnTypeEnum] {
  if (oid === CHAR_OID) return ColumnTypeEnum.Character;
  if (oid === 16) return ColumnTypeEnum.Boolean;
  if (oid === 21 || oid === 23) return ColumnTypeEnum.Int32;
  if (oid === 20 || oid === 26) return ColumnTypeEnum.Int64;
  if (oid === 1009 || oid === 1003) return ColumnTypeEnum.TextArray;
  return ColumnTypeEnum.Text;
}

export interface MigrationAdapter {
  factory: SqlMigrationAwareDriverAdapterFactory;
  /** The engine forgets to close what it opened, and would hold on to the database. */
  close(): Promise<void>;
}

/** Prisma's adapter with its shadow database made safe: its own name, its own pool, dropped for certain. */
export function migrationAdapter(address: ServerAddress): MigrationAdapter {
  const stock = new PrismaPg({ ...address });
  const open = new Set<() => Promise<void>>();
  const adapterOn = async (pool: pg.Pool, after: () => Promise<void>): Promise<SqlDriverAdapter> => {
    const adapter = mended(await new PrismaPg(pool).connect(), pool);
    const dispose = async () => {
      if (!open.delete(dispose)) return;
      await pool.end();
      await after();
    };
    open.add(dispose);
    adapter.dispose = dispose;
    return adapter;
  };
  const factory: SqlMigrationAwareDriverAdapterFactory = {
    adapterName: stock.adapterName,
    provider: stock.provider,
    connect: () => adapterOn(poolAt(address), () => Promise.resolve()),
    connectToShadowDb: async () => {
      const database = `heapwright_shadow_${randomUUID().replaceAll('-', '')}`;
      const server = poolAt(address);
      await server.query(`CREATE DATABASE "${database}" TEMPLATE template0`);
      return adapterOn(poolAt({ ...address, database }), async () => {
        await server.query(`DROP DATABASE IF EXISTS "${database}" WITH (FORCE)`);
        await server.end();
      });
    },
  };
  return {
    factory,
    async close() {
      for (const dispose of [...open]) await dispose();
    },
  };
}
