import pg from 'pg';
import { createApp } from '../../apps/api/app.js';
import { settingsOf } from '../../apps/api/http/settings.js';
import { MixService } from '../../apps/api/mixing/mix.service.js';
import { type Figure, milliseconds, sideBySide } from './measure.js';
import { clientOf, type Stand } from './stand.js';
import { made, type World } from './world.js';

const DROP_OFFS = 20_000;
const ROUNDS = 15;

/** Each of a batch's drop-offs of one of these in turn. */
const MATERIALS = [
  ...['food-scraps', 'vegetable-scraps', 'fruit-scraps', 'grass-clippings', 'leaves', 'wood-chips'],
  ...['sawdust', 'cardboard', 'straw-wheat', 'paper-mixed', 'citrus-peel', 'garden-soil'],
];

/** As lean as it goes: what went in of each material, and nothing else. */
const BARE = `
  SELECT material_code, sum(mass_g) AS mass_g, sum(mass_g) FILTER (WHERE basis = 'volume') AS estimated_g FROM (
    SELECT r.material_code, a.mass_g, r.basis
    FROM assignment a JOIN drop_off_revision r ON r.drop_off_id = a.drop_off_id AND r.superseded_by IS NULL
    WHERE a.batch_id = $1 AND a.voided_at IS NULL
    UNION ALL
    SELECT material_code, mass_g, basis FROM amendment WHERE batch_id = $1 AND voided_at IS NULL
  ) AS input GROUP BY material_code`;

/** The mix of a batch of many drop-offs against the bare sum of what went in; over HTTP, and what to add to it. */
export async function mixFigures(stand: Stand, world: World): Promise<Figure[]> {
  const api = clientOf(stand.apiPort, 1);
  const client = new pg.Client({ connectionString: stand.databaseUrl });
  await client.connect();
  const { token, yardId: siteId } = world;
  await made(api, token, `/sites/${siteId}/bays`, { code: 'M1' });
  const batchId = await made(api, token, '/batches', { siteId, bay: 'M1', method: 'turned-windrow' });
  await fill(client, world, batchId);
  const ask = (what: string) => async () => {
    const { status } = await api.get(`/api/batches/${batchId}/${what}`, token);
    if (status !== 200) throw new Error(`${what} answered ${status}`);
  };
  const summed = async () => {
    const { rows } = await client.query({ name: 'bare-mix', text: BARE, values: [batchId] });
    if (rows.length !== MATERIALS.length) throw new Error(`summed ${rows.length} materials`);
  };
  const app = await createApp(settingsOf({ ...process.env, DATABASE_URL: stand.databaseUrl }), ['error']);
  const mixes = app.get(MixService, { strict: false });
  const mixed = async () => {
    const { materials } = await mixes.mix(batchId);
    if (materials.length !== MATERIALS.length) throw new Error(`mixed ${materials.length} materials`);
  };
  for (const warm of [mixed, summed, mixed, summed, ask('mix'), ask('additions')]) await warm();
  const [mixMs, bareMs] = await sideBySide(
    ROUNDS,
    () => milliseconds(mixed),
    () => milliseconds(summed),
  );
  const [askedMs, additionsMs] = await sideBySide(
    ROUNDS,
    () => milliseconds(ask('mix')),
    () => milliseconds(ask('additions')),
  );
  await Promise.all([api.close(), client.end(), app.close()]);
  const what = `mix of ${DROP_OFFS} drop-offs`;
  const baseline = 'the bare sum of what went in';
  return [
    { what, value: mixMs, unit: 'ms', baseline, ratio: mixMs / bareMs },
    { what: `${what}, over HTTP`, value: askedMs, unit: 'ms' },
    { what: `${what}, what to add`, value: additionsMs, unit: 'ms' },
  ];
}

async function fill(client: pg.Client, { siteId, jurisdictionId }: World, batchId: string): Promise<void> {
  await client.query('BEGIN');
  await client.query(`CREATE TEMPORARY TABLE lot ON COMMIT DROP AS
    SELECT gen_random_uuid() AS id, i FROM generate_series(0, ${DROP_OFFS - 1}) i`);
  await client.query(`INSERT INTO drop_off (id, site_id, body_sha256) SELECT id, $1, '\\x00' FROM lot`, [
    siteId,
  ]);
  await client.query(
    `INSERT INTO drop_off_revision (drop_off_id, revision, site_id, occurred_at, material_code, jurisdiction_id, depositor,
       basis, net_g, rejected_g, accepted_g, entered, warnings, recorded_by)
     SELECT id, 1, $1, now() - interval '1 hour', ($3::text[])[1 + i % ${MATERIALS.length}], $2, 'household',
       'scale', 5000 + i % 97, 0, 5000 + i % 97, '{}', '[]', (SELECT id FROM person LIMIT 1) FROM lot`,
    [siteId, jurisdictionId, MATERIALS],
  );
  await client.query(
    `INSERT INTO assignment (id, batch_id, drop_off_id, mass_g, occurred_at, recorded_by)
     SELECT gen_random_uuid(), $1, id, 5000 + i % 97, now(), (SELECT id FROM person LIMIT 1) FROM lot`,
    [batchId],
  );
  await client.query('COMMIT');
  for (const table of ['drop_off', 'drop_off_revision', 'assignment'])
    await client.query(`VACUUM ANALYZE ${table}`);
}
