import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { amendmentSources } from '../../../apps/api/batches/amendments.dto.js';
import { stages } from '../../../apps/api/batches/stages.js';
import { contaminants, depositors, destinations } from '../../../apps/api/intake/words.js';
import { compostUses, recipients } from '../../../apps/api/release/distributions.dto.js';
import { stockBases } from '../../../apps/api/mixing/stock.dto.js';
import { residueDestinations } from '../../../apps/api/release/screenings.dto.js';
import { materialFigures, materialKinds, materialTraits, recipeBases, verifications } from '#libs/materials';
import { odours, sampleOutcomes, signs, textures } from '#libs/process';
import { pileShapes } from '#libs/quantities';
import { freshDatabase, type TestDatabase } from '../../support/database.js';

/** What Prisma's drift check cannot see: CHECKs, exclusions, triggers, views and partial indexes, by name. */
const expected = {
  exclusions: ['bay_free', 'bay_stay_one_bay', 'diversion_report_years_apart', 'permit_one_at_a_time'],
  partialIndexes: [
    'batch_hold_one',
    'device_bay_alone',
    'device_code_unique',
    'diversion_report_years_apart',
    'drop_off_revision_by_jurisdiction',
    'drop_off_revision_by_receipt',
    'drop_off_revision_by_recorder',
    'drop_off_revision_by_site',
    'drop_off_revision_by_time',
    'drop_off_revision_current',
    'drop_off_revision_entry_unique',
    'drop_off_revision_pulled',
    'haul_received_once',
    'shift_one_open',
  ],
  views: [
    'batch_flow',
    'batch_link',
    'batch_now',
    'bay_stay_named',
    'drop_off_now',
    'lot_on_haul',
    'mass_flow',
    'pile_measured',
  ],
  settings: [
    'bay',
    'container',
    'instrument',
    'jurisdiction',
    'material',
    'permit',
    'person',
    'recipe',
    'site',
  ],
  /** Columns that name a person, all but those of the access rules. */
  people: [
    ...[
      'amendment',
      'assignment',
      'batch_check',
      'complaint',
      'distribution',
      'haul',
      'haul_receipt',
      'logger_set_aside',
      'material_measurement',
      'pile_measurement',
      'refusal',
      'sample',
      'screening',
      'stock_count',
      'turn',
    ].map((table) => `${table}.voided_by`),
    ...['watering.voided_by', 'audit_event.person_id', 'release.signed_by', 'sealed_document.sealed_by'],
    'shift.closed_by',
  ],
  kept: [
    'amendment',
    'assignment',
    'audit_event',
    'audit_seal',
    'batch',
    'batch_check',
    'batch_hold',
    'batch_merge',
    'batch_stage',
    'bay_stay',
    'check_reading',
    'complaint',
    'complaint_action',
    'device',
    'device_target',
    'distribution',
    'diversion_report',
    'diversion_report_row',
    'diversion_report_version',
    'drop_off',
    'drop_off_reject',
    'drop_off_revision',
    'haul',
    'haul_container',
    'haul_explanation',
    'haul_lot',
    'haul_receipt',
    'haul_receipt_container',
    'import',
    'instrument_verification',
    'logger_placement',
    'logger_probe',
    'logger_reading',
    'logger_set_aside',
    'material_measurement',
    'pile_measurement',
    'process_rule',
    'refusal',
    'release',
    'sample',
    'screening',
    'sealed_document',
    'shift',
    'stock_count',
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

  const wordsOf = async (constraint: string) => {
    const { rows } = await client.query<{ text: string }>(
      'SELECT pg_get_constraintdef(oid) AS text FROM pg_constraint WHERE conname = $1',
      [constraint],
    );
    return [...(rows[0]?.text ?? '').matchAll(/'([^']+)'::text/g)].map(([, word]) => word!);
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

  it('lets nothing that records refer to be deleted or emptied', async () => {
    const guarded = (trigger: string) =>
      names(`SELECT c.relname AS name FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid
             WHERE t.tgname = '${trigger}' AND t.tgenabled = 'O'`);
    expect(await guarded('settings_stay_rows')).toEqual(expected.settings);
    // A figure may be cleared by itself.
    expect(await guarded('settings_stay_table')).toEqual([...expected.settings, 'material_figure'].sort());
    const refusal = { constraint: 'records_keep' };
    await client.query(`INSERT INTO jurisdiction (id, name, reporting_year_start)
      VALUES (gen_random_uuid(), 'Lark Hollow', '07-01') ON CONFLICT DO NOTHING`);
    await expect(client.query('DELETE FROM jurisdiction')).rejects.toMatchObject(refusal);
    for (const table of expected.settings) {
      await expect(client.query(`TRUNCATE ${table} CASCADE`)).rejects.toMatchObject(refusal);
    }
  });

  it('knows everybody who is named in a record', async () => {
    const referring = await names(
      `SELECT c.conrelid::regclass || '.' || a.attname AS name
       FROM pg_constraint c JOIN pg_attribute a ON a.attrelid = c.conrelid AND a.attnum = ANY(c.conkey)
       WHERE c.contype = 'f' AND c.confrelid = 'person'::regclass AND c.confdeltype = 'r'`,
    );
    const named = await names(
      `SELECT table_name || '.' || column_name AS name FROM information_schema.columns
       WHERE table_schema = 'public' AND (right(column_name, 3) = '_by' AND data_type = 'uuid' OR column_name = 'person_id')
         AND table_name NOT IN ('role_grant', 'session', 'drop_off_now', 'batch_now', 'bay_stay_named')`,
    );
    expect(referring).toEqual(named);
    expect(referring).toEqual(expect.arrayContaining(expected.people));
  });

  it.each<[constraint: string, words: readonly string[]]>([
    ['drop_off_revision_depositor', depositors],
    ['drop_off_reject_contaminant', contaminants],
    ['drop_off_reject_went_to', destinations],
    ['refusal_contaminant', contaminants],
    ['screening_residue_went_to', residueDestinations],
    ['distribution_recipient', recipients],
    ['distribution_use', compostUses],
    ['batch_stage_known', stages],
    ['sample_outcome', sampleOutcomes],
    ['batch_check_signs', signs],
    ['batch_check_texture', textures],
    ['stock_count_basis', stockBases],
    ['pile_measurement_shape', pileShapes],
    ['recipe_basis', recipeBases],
    ['material_kind', materialKinds],
    ['material_traits', materialTraits],
    ['material_figure_known', materialFigures],
    ['material_figure_verification', verifications],
  ])('knows the words of the code: %s', async (constraint, words) => {
    expect((await wordsOf(constraint)).sort()).toEqual([...words].sort());
  });

  it('knows the words of rules that hold more than words', async () => {
    expect(await wordsOf('amendment_source')).toEqual(expect.arrayContaining([...amendmentSources]));
    expect(await wordsOf('batch_check_values')).toEqual(expect.arrayContaining([...odours]));
  });

  it('names every constraint by hand', async () => {
    const unnamed = await names(
      `SELECT conname AS name FROM pg_constraint c JOIN pg_namespace n ON n.oid = c.connamespace
       WHERE n.nspname = 'public' AND contype <> 'n' AND conrelid <> '_prisma_migrations'::regclass AND (conname LIKE '%_check' OR conname LIKE '%_fkey' OR conname LIKE '%_key')`,
    );
    expect(unnamed).toEqual([]);
  });
});
