import { cp, mkdtemp, mkdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { applyMigrations, createDatabase, driftSql, dropDatabase } from '#libs/database';

const root = fileURLToPath(new URL('../../../prisma', import.meta.url));

describe('migrations', () => {
  const name = `m_${randomUUID().replaceAll('-', '')}`;
  let url: string;
  let folder: string;
  beforeAll(async () => {
    await createDatabase(inject('adminUrl'), name);
    const address = new URL(inject('adminUrl'));
    address.pathname = `/${name}`;
    url = address.href;
    folder = await mkdtemp(join(tmpdir(), 'heapwright-migrations-'));
    await cp(root, folder, { recursive: true, filter: (path) => !path.includes('demo') });
  });
  afterAll(async () => {
    await dropDatabase(inject('adminUrl'), name);
    await rm(folder, { recursive: true, force: true });
  });

  const write = async (migration: string, sql: string) => {
    await mkdir(join(folder, 'migrations', migration), { recursive: true });
    await writeFile(join(folder, 'migrations', migration, 'migration.sql'), sql);
  };
  const tables = async (like: string) => {
    const client = new pg.Client({ connectionString: url });
    await client.connect();
    const { rowCount } = await client.query('SELECT 1 FROM pg_tables WHERE tablename = $1', [like]);
    await client.end();
    return rowCount;
  };

  it('are applied once, in order, into an empty database', async () => {
    const applied = await applyMigrations(url, { root: folder });
    expect(applied.length).toBeGreaterThanOrEqual(2);
    expect([...applied].sort()).toEqual(applied);
    expect(await applyMigrations(url, { root: folder })).toEqual([]);
  });

  it('agree with the schema', async () => {
    expect(await driftSql(url, { root: folder })).toBe('');
  });

  it('show when the schema has what they lack', async () => {
    const extra = join(folder, 'schema', 'extra.prisma');
    await writeFile(extra, 'model Extra {\n  id Int @id\n}\n');
    expect(await driftSql(url, { root: folder })).toContain('CREATE TABLE "Extra"');
    await rm(extra);
  });

  it('leave nothing behind when one fails, and stop the ones after it', async () => {
    await write(
      '20990101000000_breaks',
      `CREATE TABLE left_behind (id int); SELECT 'a;b'; SELECT no_such_function();`,
    );
    await write('20990101000001_after', 'CREATE TABLE after_it (id int);');
    await expect(applyMigrations(url, { root: folder })).rejects.toThrow();
    expect(await tables('left_behind')).toBe(0);
    expect(await tables('after_it')).toBe(0);
  });

  it('leave no shadow database', async () => {
    const client = new pg.Client({ connectionString: inject('adminUrl') });
    await client.connect();
    const { rows } = await client.query(
      `SELECT datname FROM pg_database WHERE datname LIKE 'heapwright_shadow%'`,
    );
    await client.end();
    expect(rows).toEqual([]);
  });
});
