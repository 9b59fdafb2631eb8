import { cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { applyMigrations, createDatabase, dropDatabase } from '#libs/database';

const root = fileURLToPath(new URL('../../../prisma', import.meta.url));
const migration = '20261125100300_sample_results';

describe('samples of before they were panels', () => {
  const name = `s_${randomUUID().replaceAll('-', '')}`;
  let client: pg.Client;
  let folder: string;
  beforeAll(async () => {
    await createDatabase(inject('adminUrl'), name);
    const address = new URL(inject('adminUrl'));
    address.pathname = `/${name}`;
    folder = await mkdtemp(join(tmpdir(), 'heapwright-samples-'));
    const before = (path: string) => {
      const folderOf = /migrations\/(\d{14}_\w+)/.exec(path)?.[1];
      return !path.includes('demo') && (folderOf === undefined || folderOf < migration);
    };
    await cp(root, folder, { recursive: true, filter: before });
    await applyMigrations(address.href, { root: folder });
    client = new pg.Client({ connectionString: address.href });
    await client.connect();
    // Rows without their batch and person: it is about their own columns only.
    await client.query(`SET session_replication_role = replica`);
    for (const [value, unit, finding] of [
      ['85.5000', '% emergence', null],
      ['3', null, 'stable'],
      [null, null, 'smells of earth'],
    ]) {
      const keys = [randomUUID(), randomUUID(), randomUUID()];
      await client.query(
        `INSERT INTO sample (id, batch_id, occurred_at, kind, value, unit, finding, outcome, entered, body_sha256, recorded_by)
         VALUES ($1, $2, now(), 'maturity', $4, $5, $6, 'passed', '{}', decode('00', 'hex'), $3)`,
        [...keys, value, unit, finding],
      );
    }
    await client.query(`SET session_replication_role = DEFAULT`);
    await cp(join(root, 'migrations', migration), join(folder, 'migrations', migration), { recursive: true });
    await applyMigrations(address.href, { root: folder });
  });
  afterAll(async () => {
    await client.end();
    await dropDatabase(inject('adminUrl'), name);
    await rm(folder, { recursive: true, force: true });
  });

  it('keep their figure in words, since nobody said what it was of', async () => {
    const { rows } = await client.query('SELECT finding, results FROM sample ORDER BY finding');
    expect(rows).toEqual([
      { finding: '3; stable', results: [] },
      { finding: '85.5 % emergence', results: [] },
      { finding: 'smells of earth', results: [] },
    ]);
  });

  it('are kept as before: not even their words are changed', async () => {
    await expect(client.query(`UPDATE sample SET finding = 'ripe'`)).rejects.toThrow();
    await expect(client.query(`DELETE FROM sample`)).rejects.toThrow();
  });

  it('take no figures that are no list', async () => {
    await client.query(`SET session_replication_role = replica`);
    const broken = client.query(`UPDATE sample SET results = '{}'`);
    await expect(broken).rejects.toMatchObject({ constraint: 'sample_results' });
    await client.query(`SET session_replication_role = DEFAULT`);
  });
});
