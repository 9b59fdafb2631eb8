import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { freshDatabase, type TestDatabase } from '../../support/database.js';

/** What Prisma's drift check cannot see: CHECKs, exclusions, triggers, views and partial indexes, by name. */
const expected = {
  exclusions: ['bay_free', 'bay_stay_one_bay', 'permit_one_at_a_time'],
  partialIndexes: [
    'drop_off_revision_by_jurisdiction',
    'drop_off_revision_by_recorder',
    'drop_off_revision_by_site',
    'drop_off_revision_by_time',
    'drop_off_revision_current',
    'drop_off_revision_entry_unique',
    'shift_one_open',
  ],
  views: ['batch_flow', 'batch_now', 'bay_stay_named', 'drop_off_now'],
  kept: [
    'amendment',
    'assignment',
    'audit_event',
    'audit_seal',
    'batch',
    'batch_check',
    'batch_stage',
    'bay_stay',
    'check_reading',
    'distribution',
    'drop_off',
    'drop_off_reject',
    'drop_off_revision',
    'import',
    'instrument_verification',
    'refusal',
    'release',
    'sample',
    'screening',
    'sealed_document',
    'shift',
    'turn',
    'watering',
  ],
};

describe('what the database itself holds', () => {
  let home: TestDatabase;
  let client: pg.Client;
  beforeAll(async () => {
    home = await freshDatabase();
    client = new pg.Client({ connectionString: home.url });
    await client.connect();
  });
  afterAll(async () => {
    await client.end();
    await home.drop();
  });
  const names = async (sql: string) => {
    const { rows } = await client.query<{ name: string }>(sql);
    return rows.map(({ name }) => name).sort();
  };

  it('keeps its exclusion constraints', async () => {
    expect(await names(`SELECT conname AS name FROM pg_constraint WHERE contype = 'x'`)).toEqual(
      expected.exclusions,
    );
  });

  it('keeps its partial indexes', async () => {
    const sql = `SELECT c.relname AS name FROM pg_index i JOIN pg_class c ON c.oid = i.indexrelid WHERE i.indpred IS NOT NULL`;
    expect(await names(sql)).toEqual(expected.partialIndexes);
  });

  it('keeps its views', async () => {
    expect(await names(`SELECT viewname AS name FROM pg_views WHERE schemaname = 'public'`)).toEqual(
      expected.views,
    );
  });

  it('lets no operating record be changed, deleted or emptied', async () => {
    const guarded = (trigger: string) =>
      names(`SELECT c.relname AS name FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid
             WHERE t.tgname = '${trigger}' AND t.tgenabled = 'O'`);
    expect(await guarded('records_keep_rows')).toEqual(expected.kept);
    expect(await guarded('records_keep_table')).toEqual(expected.kept);
    await expect(client.query('TRUNCATE audit_event')).rejects.toMatchObject({ constraint: 'records_keep' });
  });

  it('names every constraint by hand', async () => {
    const unnamed = await names(
      `SELECT conname AS name FROM pg_constraint c JOIN pg_namespace n ON n.oid = c.connamespace
       WHERE n.nspname = 'public' AND contype <> 'n' AND conrelid <> '_prisma_migrations'::regclass AND (conname LIKE '%_check' OR conname LIKE '%_fkey' OR conname LIKE '%_key')`,
    );
    expect(unnamed).toEqual([]);
  });
});
