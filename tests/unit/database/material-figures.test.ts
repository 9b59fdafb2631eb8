import { cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { applyMigrations, createDatabase, dropDatabase } from '#libs/database';

const root = fileURLToPath(new URL('../../../prisma', import.meta.url));
const migration = '20261125110100_material_figures';

describe('materials of before each figure had its own source', () => {
  const name = `s_${randomUUID().replaceAll('-', '')}`;
  let client: pg.Client;
  let folder: string;
  beforeAll(async () => {
    await createDatabase(inject('adminUrl'), name);
    const address = new URL(inject('adminUrl'));
    address.pathname = `/${name}`;
    folder = await mkdtemp(join(tmpdir(), 'heapwright-materials-'));
    const before = (path: string) => {
      const folderOf = /migrations\/(\d{14}_\w+)/.exec(path)?.[1];
      return !path.includes('demo') && (folderOf === undefined || folderOf < migration);
    };
    await cp(root, folder, { recursive: true, filter: before });
    await applyMigrations(address.href, { root: folder });
    client = new pg.Client({ connectionString: address.href });
    await client.connect();
    await client.query(
      `INSERT INTO material (code, name, class, nitrogen_percent_dry, carbon_to_nitrogen, moisture_percent,
         bulk_density_kg_m3, source, verification, retired_at, version)
       VALUES ('hay', 'Hay', 'nitrogen', 2.105, 18.75, 20.5, 123.4, 'a farm', 'mirror', NULL, 3),
         ('wood-ash', 'Ash', 'neutral', NULL, NULL, NULL, 700, 'a bucket', 'local', now(), 1),
         ('water', 'Water', 'neutral', NULL, NULL, 100, 1000, 'by definition', 'derived', NULL, 1),
         ('spent-hops', 'Hops', 'nitrogen', NULL, NULL, NULL, NULL, 'none yet', 'local', NULL, 1)`,
    );
    await cp(join(root, 'migrations', migration), join(folder, 'migrations', migration), { recursive: true });
    await applyMigrations(address.href, { root: folder });
  });
  afterAll(async () => {
    await client.end();
    await dropDatabase(inject('adminUrl'), name);
    await rm(folder, { recursive: true, force: true });
  });

  it('keep every figure, with the source of the row and no range made up', async () => {
    const { rows } = await client.query({
      text: 'SELECT material_code, figure, typical, min, max, source, verification FROM material_figure ORDER BY 1, 2',
      rowMode: 'array',
    });
    expect(rows).toEqual([
      ['hay', 'bulkDensityKgM3', 123.4, null, null, 'a farm', 'mirror'],
      ['hay', 'carbonToNitrogen', 18.75, null, null, 'a farm', 'mirror'],
      ['hay', 'moisturePercent', 20.5, null, null, 'a farm', 'mirror'],
      ['hay', 'nitrogenPercentDry', 2.105, null, null, 'a farm', 'mirror'],
      ['water', 'bulkDensityKgM3', 1000, null, null, 'by definition', 'derived'],
      ['water', 'moisturePercent', 100, null, null, 'by definition', 'derived'],
      ['wood-ash', 'bulkDensityKgM3', 700, null, null, 'a bucket', 'local'],
    ]);
  });

  it('get the kind and the traits that the starting list gives their codes', async () => {
    const { rows } = await client.query({
      text: 'SELECT code, kind, traits, retired_at IS NOT NULL, version FROM material ORDER BY 1',
      rowMode: 'array',
    });
    expect(rows).toEqual([
      ['hay', 'organic', ['herbicide-risk'], false, 3],
      ['spent-hops', 'organic', [], false, 1],
      ['water', 'water', [], false, 1],
      ['wood-ash', 'mineral', ['caustic'], true, 1],
    ]);
  });

  it.each([
    [`('hay', 'ashPercentDry', 10, 11, NULL, 'x', 'local')`, 'material_figure_order'],
    [`('hay', 'ashPercentDry', 10, NULL, 9, 'x', 'local')`, 'material_figure_order'],
    [`('hay', 'ashPercentDry', 10, -1, NULL, 'x', 'local')`, 'material_figure_possible'],
    [`('hay', 'ashPercentDry', 'NaN', NULL, NULL, 'x', 'local')`, 'material_figure_possible'],
    [`('spent-hops', 'carbonToNitrogen', 0, NULL, NULL, 'x', 'local')`, 'material_figure_possible'],
    [`('spent-hops', 'bulkDensityKgM3', 'Infinity', NULL, NULL, 'x', 'local')`, 'material_figure_possible'],
    [`('hay', 'ph', 7, NULL, NULL, 'x', 'local')`, 'material_figure_known'],
    [`('hay', 'ashPercentDry', 10, NULL, NULL, '', 'local')`, 'material_figure_source'],
    [`('hay', 'ashPercentDry', 10, NULL, NULL, 'x', 'hearsay')`, 'material_figure_verification'],
    [`('straw', 'ashPercentDry', 10, NULL, NULL, 'x', 'local')`, 'material_figure_material_fk'],
    [`('hay', 'moisturePercent', 10, NULL, NULL, 'x', 'local')`, 'material_figure_pk'],
  ])('take no figure that cannot be: %s', async (row, constraint) => {
    await expect(client.query(`INSERT INTO material_figure VALUES ${row}`)).rejects.toMatchObject({
      constraint,
    });
  });

  it('take no trait that nobody knows, and the list is never emptied', async () => {
    const update = client.query(`UPDATE material SET traits = '{smelly}'`);
    await expect(update).rejects.toMatchObject({ constraint: 'material_traits' });
    await expect(client.query('TRUNCATE material_figure')).rejects.toMatchObject({
      constraint: 'records_keep',
    });
  });
});
