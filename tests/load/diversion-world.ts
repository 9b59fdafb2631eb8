import type pg from 'pg';

/** Five years of a thousand sites in twenty jurisdictions; every tenth site is also a yard, which begins a batch a month. */
export const SITES = 1000;
const JURISDICTIONS = 20;
const MONTHS = 60;
const BEGINNING = '2021-01-01T00:00:00Z';
const MATERIALS = `ARRAY['food-scraps', 'vegetable-scraps', 'fruit-scraps', 'grass-clippings', 'leaves', 'wood-chips', 'sawdust', 'cardboard']`;

/** Ids are computed, so that rows find each other without being looked up: a kind, and a number. */
const idOf = (kind: string, number: string): string =>
  `('${kind}0000-0000-7000-8000-' || lpad(to_hex((${number})::bigint), 12, '0'))::uuid`;
const monthOf = (month: string): string => `(timestamptz '${BEGINNING}' + (${month}) * interval '1 month')`;
const PERSON = '(SELECT id FROM person LIMIT 1)';

/** The jurisdiction whose year is asked for. */
export const JURISDICTION_ID = 'a0000000-0000-7000-8000-000000000007';
export const YEAR = { from: '2024-07-01', to: '2025-07-01' };

const PLACES = [
  `INSERT INTO person (id, email, display_name, password_hash) VALUES (gen_random_uuid(), 'load@thistledown.example', 'Load', '-')`,
  `INSERT INTO jurisdiction (id, name, reporting_year_start)
   SELECT ${idOf('a000', 'j')}, 'Town ' || j, '07-01' FROM generate_series(0, ${JURISDICTIONS - 1}) j`,
  `INSERT INTO site (id, code, name, takes_drop_offs, runs_batches, time_zone, jurisdiction_id)
   SELECT ${idOf('b000', 's')}, 'S' || s, 'Site ' || s, true, s % 10 = 0, 'America/Denver',
          ${idOf('a000', `s / ${SITES / JURISDICTIONS}`)} FROM generate_series(0, ${SITES - 1}) s`,
  `INSERT INTO batch (id, site_id, code, method, occurred_at, body_sha256, recorded_by)
   SELECT ${idOf('c000', 'y * 100 + m')}, ${idOf('b000', 'y * 10')}, 'S' || y * 10 || '-' || m, 'turned-windrow',
          ${monthOf('m')}, '\\x00', ${PERSON}
   FROM generate_series(0, ${SITES / 10 - 1}) y, generate_series(0, ${MONTHS - 1}) m`,
  `INSERT INTO batch_stage (batch_id, stage, entered_at, recorded_by)
   SELECT b.id, step.stage, b.occurred_at + step.days * interval '1 day', ${PERSON}
   FROM batch b, (VALUES ('building', 0), ('active', 40), ('curing', 80), ('released', 120)) AS step (stage, days)`,
  // Each is screened, its residue goes to landfill, and its overs go into the batch of four months later.
  `INSERT INTO screening (id, batch_id, occurred_at, compost_g, overs_g, residue_g, residue_went_to, entered, body_sha256, recorded_by)
   SELECT gen_random_uuid(), id, occurred_at + interval '100 days', 900000, 200000, 20011, 'landfill', '{}', '\\x00', ${PERSON} FROM batch`,
  `INSERT INTO amendment (id, batch_id, material_code, source, from_batch_id, basis, mass_g, entered, warnings, occurred_at, body_sha256, recorded_by)
   SELECT gen_random_uuid(), ${idOf('c000', 'y * 100 + m')}, 'wood-chips', 'overs', ${idOf('c000', 'y * 100 + m - 4')},
          'scale', 200000, '{}', '[]', ${monthOf('m')} + interval '20 days', '\\x00', ${PERSON}
   FROM generate_series(0, ${SITES / 10 - 1}) y, generate_series(4, ${MONTHS - 1}) m`,
];

/** Lots number `from` to `to`, spread over all five years in the order of time; each is assigned within the next month. */
const lots = (from: number, to: number): string[] => [
  `CREATE TEMPORARY TABLE lot AS
   SELECT i, ${idOf('d000', 'i')} AS id, i % ${SITES} AS s,
          timestamptz '${BEGINNING}' + (i - ${from}) * (interval '${MONTHS} months' / ${to - from}) AS at
   FROM generate_series(${from}, ${to - 1}) i`,
  `INSERT INTO drop_off (id, site_id, body_sha256) SELECT id, ${idOf('b000', 's')}, '\\x00' FROM lot`,
  `INSERT INTO drop_off_revision (drop_off_id, revision, site_id, occurred_at, material_code, jurisdiction_id, depositor,
     basis, net_g, rejected_g, accepted_g, volume_ml, density_kg_m3, density_source, entered, warnings, recorded_by)
   SELECT id, 1, ${idOf('b000', 's')}, at, (${MATERIALS})[1 + i / 7 % 8],
          ${idOf('a000', `(s / ${SITES / JURISDICTIONS} + (i % 23 = 0)::int) % ${JURISDICTIONS}`)},
          (ARRAY['household', 'household', 'school', 'business'])[1 + i / 3 % 4], CASE WHEN i % 11 = 0 THEN 'volume' ELSE 'scale' END,
          5000 + i % 97, CASE WHEN i % 53 = 0 THEN 30 ELSE 0 END, 5000 + i % 97 - CASE WHEN i % 53 = 0 THEN 30 ELSE 0 END,
          CASE WHEN i % 11 = 0 THEN 10000 END, CASE WHEN i % 11 = 0 THEN 500 END, CASE WHEN i % 11 = 0 THEN 'own' END,
          '{}', '[]', (SELECT id FROM person LIMIT 1) FROM lot`,
  `INSERT INTO drop_off_reject (drop_off_id, revision, line, contaminant, mass_g, went_to, entered)
   SELECT id, 1, 1, 'film-plastic', 30, CASE WHEN i % 2 = 0 THEN 'landfill' ELSE 'recycling' END, '{}' FROM lot WHERE i % 53 = 0`,
  `INSERT INTO assignment (id, batch_id, drop_off_id, mass_g, occurred_at, recorded_by)
   SELECT ${idOf('e000', 'i')}, ${idOf('c000', `s / 10 * 100 + least(${MONTHS - 1}, (i - ${from}) * ${MONTHS}::bigint / ${to - from})`)}, id,
          5000 + i % 97 - CASE WHEN i % 53 = 0 THEN 30 ELSE 0 END, at + interval '5 days', ${PERSON}
   FROM lot WHERE i % 1009 <> 0`,
  'DROP TABLE lot',
];

const BIG = ['drop_off', 'drop_off_revision', 'drop_off_reject', 'assignment'];

/** What is not looked at by the database is made so that it would pass: checks, triggers and indexes are set aside while it is loaded. */
export async function buildWorld(client: pg.Client): Promise<void> {
  await client.query(
    "SET session_replication_role = 'replica'; SET synchronous_commit = off; SET work_mem = '64MB'",
  );
  for (const statement of PLACES) await client.query(statement);
}

export async function addLots(client: pg.Client, from: number, to: number): Promise<void> {
  const { rows } = await client.query<{ name: string; made: string }>(
    `SELECT indexrelid::regclass::text AS name, pg_get_indexdef(indexrelid) AS made FROM pg_index
     WHERE indrelid = ANY ($1::regclass[]) AND NOT indisprimary AND NOT EXISTS (SELECT 1 FROM pg_constraint WHERE conindid = indexrelid)`,
    [BIG],
  );
  for (const { name } of rows) await client.query(`DROP INDEX ${name}`);
  for (const statement of lots(from, to)) await client.query(statement);
  await client.query("SET maintenance_work_mem = '256MB'");
  for (const { made } of rows) await client.query(made);
  for (const table of BIG) await client.query(`VACUUM ANALYZE ${table}`);
}
