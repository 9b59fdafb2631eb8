import { afterAll, beforeAll, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { makeYard, sqlOf, type Yard } from '../support/yard-work.js';

const LOTS = 1_000;

/** As many lots as wait at a hub after a season, put straight into the database. */
const WAITING = `
  WITH lot AS (SELECT gen_random_uuid() AS id, i FROM generate_series(1, $1::int) AS i),
    named AS (INSERT INTO drop_off (id, site_id, body_sha256) SELECT id, $2, '\\x00' FROM lot)
  INSERT INTO drop_off_revision (drop_off_id, revision, site_id, occurred_at, material_code, jurisdiction_id, depositor,
    basis, net_g, rejected_g, accepted_g, entered, warnings, recorded_by)
  SELECT id, 1, $2, timestamptz '2026-03-02T10:00:00Z' + i * interval '1 second', 'food-scraps', $3, 'household',
    'scale', 1000, 0, 1000, '{}', '[]', $4 FROM lot`;

let api: TestApi;
let programme: Programme;
let yard: Yard;
beforeAll(async () => {
  api = await startApi();
  programme = await makeProgramme(api);
  yard = await makeYard(api, programme);
  const { hub1, jurisdictions, people } = programme;
  const values = [LOTS, hub1.id, jurisdictions.larkHollow.id, people.volunteer.id];
  await sqlOf(api).query(WAITING, values);
});
afterAll(() => api.stop());

/** Rows of a table that were read by reading it whole, once the rows that were written to it are counted as well. */
async function readWhole(table: string): Promise<number> {
  const read =
    'SELECT n_tup_ins AS written, seq_tup_read AS read FROM pg_stat_user_tables WHERE relname = $1';
  const counted = async () => (await sqlOf(api).query<{ written: number; read: number }>(read, [table]))[0]!;
  await expect.poll(async () => (await counted()).written, { timeout: 20_000 }).toBe(LOTS);
  return (await counted()).read;
}

it('are looked up one by one while they are taken by the thousand, though nothing had been there before', async () => {
  await sqlOf(api).query('ANALYZE');
  const lots = { allWaiting: {} };
  const haul = { siteId: programme.hub1.id, toSiteId: yard.yard.id, lots };
  const { id, lotCount } = await made<{ id: string; lotCount: number }>(api, '/hauls', haul);
  expect(lotCount).toBe(LOTS);
  await made(api, `/hauls/${id}/receipt`, {});
  const batch = (await yard.begin()) as { id: string };
  const all = { allUnassigned: { haulIds: [id] } };
  expect(await made(api, `/batches/${batch.id}/assignments`, all)).toMatchObject({ lots: LOTS });
  expect(await readWhole('assignment')).toBeLessThan(LOTS);
  expect(await readWhole('haul_lot')).toBeLessThan(LOTS * 20);
}, 60_000);
