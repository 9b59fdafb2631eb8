import pg from 'pg';
import { createApp } from '../../apps/api/app.js';
import { settingsOf } from '../../apps/api/http/settings.js';
import { TraceService } from '../../apps/api/release/trace.service.js';
import { type Figure, median, milliseconds } from './measure.js';
import type { Stand } from './stand.js';
import type { World } from './world.js';

/** A yard that puts the overs of each batch into the next. */
const GENERATIONS = 50;
/** Drop-offs of each batch. */
const LOTS = [25, 50, 100];
const ROUNDS = 5;
const FILLED = [
  'batch',
  'batch_stage',
  'drop_off',
  'drop_off_revision',
  'assignment',
  'amendment',
  'distribution',
];

/** Ids that say what they are of, so that nothing need be handed from one statement to the next. */
const idOf = (what: string, lots: number, rest: string) => `md5('${what}-${lots}-' || ${rest})::uuid`;

/**
 * A drop-off of the first batch followed through fifty generations of overs, and compost of the last traced back, with n, 2n
 * and 4n drop-offs a batch.
 */
export async function traceFigures(stand: Stand, world: World): Promise<Figure[]> {
  const client = new pg.Client({ connectionString: stand.databaseUrl });
  await client.connect();
  for (const lots of LOTS) await fill(client, world, lots);
  await client.query(`VACUUM ANALYZE ${FILLED.join(', ')}`);
  const app = await createApp(settingsOf({ ...process.env, DATABASE_URL: stand.databaseUrl }), ['error']);
  const traces = app.get(TraceService, { strict: false });
  const figures: Figure[] = [];
  for (const lots of LOTS) {
    const [dropOffId, distributionId] = await endsOf(client, lots);
    const on = await timed(async () => {
      const { batches, distributions } = (await traces.dropOff(dropOffId)).trace;
      if (batches.length !== GENERATIONS || distributions.length !== 1) throw new Error('lost on the way on');
    });
    const back = await timed(async () => {
      const { ledFrom, sources } = await traces.distribution(distributionId);
      if (ledFrom.length !== GENERATIONS - 1 || sources.length < lots)
        throw new Error('lost on the way back');
    });
    figures.push(...told(`${GENERATIONS} generations of ${lots} drop-offs, traced`, { on, back }, figures));
  }
  await Promise.all([client.end(), app.close()]);
  return figures;
}

async function timed(work: () => Promise<void>): Promise<number> {
  await work();
  const times: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) times.push(await milliseconds(work));
  return median(times);
}

/** Beside what the fewest took: both ways are told in turn. */
function told(what: string, { on, back }: { on: number; back: number }, before: readonly Figure[]): Figure[] {
  const figure = (way: string, value: number, first: Figure | undefined): Figure => ({
    ...{ what: `${what} ${way}`, value, unit: 'ms' },
    ...(first ? { baseline: `that with ${LOTS[0]}`, ratio: value / first.value } : {}),
  });
  return [figure('on', on, before[0]), figure('back', back, before[1])];
}

async function endsOf(client: pg.Client, lots: number): Promise<[dropOffId: string, distributionId: string]> {
  const { rows } = await client.query<{ on: string; back: string }>(
    `SELECT ${idOf('lot', lots, `'0-0'`)} AS on, ${idOf('distribution', lots, `'0'`)} AS back`,
  );
  return [rows[0]?.on ?? '', rows[0]?.back ?? ''];
}

/** Put past the triggers: fifty batches in a row would have to be heated, cured and screened one after the other. */
async function fill(
  client: pg.Client,
  { siteId, yardId, jurisdictionId }: World,
  lots: number,
): Promise<void> {
  const person = '(SELECT id FROM person LIMIT 1)';
  const eachBatch = `generate_series(0, ${GENERATIONS - 1}) AS g`;
  const eachLot = `${eachBatch}, generate_series(0, ${lots - 1}) AS i`;
  const batchId = (generation: string) => idOf('batch', lots, `(${generation})`);
  const lotId = idOf('lot', lots, `g || '-' || i`);
  await client.query('BEGIN');
  await client.query('SET LOCAL session_replication_role = replica');
  await client.query(
    `INSERT INTO batch (id, site_id, code, method, occurred_at, body_sha256, recorded_by)
     SELECT ${batchId('g')}, $1, 'T${lots}-' || g, 'turned-windrow', now(), '\\x00', ${person} FROM ${eachBatch}`,
    [yardId],
  );
  await client.query(
    `INSERT INTO batch_stage (batch_id, stage, entered_at, recorded_by)
     SELECT ${batchId('g')}, 'curing', now(), ${person} FROM ${eachBatch}`,
  );
  await client.query(
    `INSERT INTO drop_off (id, site_id, body_sha256) SELECT ${lotId}, $1, '\\x00' FROM ${eachLot}`,
    [siteId],
  );
  await client.query(
    `INSERT INTO drop_off_revision (drop_off_id, revision, site_id, occurred_at, material_code, jurisdiction_id, depositor,
       basis, net_g, rejected_g, accepted_g, entered, warnings, recorded_by)
     SELECT ${lotId}, 1, $1, now() - interval '1 hour', 'food-scraps', $2, 'household', 'scale', 5000 + i, 0, 5000 + i, '{}',
       '[]', ${person} FROM ${eachLot}`,
    [siteId, jurisdictionId],
  );
  await client.query(
    `INSERT INTO assignment (id, batch_id, drop_off_id, mass_g, occurred_at, recorded_by)
     SELECT gen_random_uuid(), ${batchId('g')}, ${lotId}, 5000 + i, now(), ${person} FROM ${eachLot}`,
  );
  await client.query(
    `INSERT INTO amendment (id, batch_id, occurred_at, source, from_batch_id, material_code, basis, mass_g, entered, warnings,
       body_sha256, recorded_by)
     SELECT gen_random_uuid(), ${batchId('g + 1')}, now(), 'overs', ${batchId('g')}, 'overs', 'scale', ${lots} * 1500, '{}',
       '[]', '\\x00', ${person} FROM generate_series(0, ${GENERATIONS - 2}) AS g`,
  );
  await client.query(
    `INSERT INTO distribution (id, batch_id, number, occurred_at, recipient, use, mass_g, basis, entered, body_sha256, recorded_by)
     VALUES (${idOf('distribution', lots, `'0'`)}, ${batchId(String(GENERATIONS - 1))}, 1, now(), 'school', 'lawns', 90000,
       'scale', '{}', '\\x00', ${person})`,
  );
  await client.query('COMMIT');
}
