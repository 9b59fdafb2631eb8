import { readFile, writeFile } from 'node:fs/promises';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import pg from 'pg';
import copy from 'pg-copy-streams';
import { type Figure, median, milliseconds, sideBySide } from './measure.js';
import { type Client, clientOf, type Stand } from './stand.js';
import { made, type World } from './world.js';

const PROBES = 8;
const DAYS = [91, 182, 364] as const;
const DAY_MS = 86_400_000;
const A_TIME = 5_000;
/** Judged by each in turn: none was read under before, so each reads from the beginning. */
const RULES = ['us-503-pfrp-static-aerated', 'us-503-pfrp-in-vessel', 'us-503-pfrp-windrow'];

interface Pile {
  batchId: string;
  bay: string;
  key: string;
  deviceId: string;
  from: Date;
}

/** Readings as they come in over HTTP, against a COPY and against one bare insert of as many rows. */
export async function ingestFigures(stand: Stand, world: World): Promise<Figure[]> {
  const api = clientOf(stand.apiPort, 1);
  const client = new pg.Client({ connectionString: stand.databaseUrl });
  await client.connect();
  const pile = await makePile(api, world, 'I1', 30);
  await client.query(
    'CREATE TABLE bare_reading (at timestamptz, probe int, deci_c smallint, PRIMARY KEY (probe, at))',
  );
  let sent = 0;
  const rows = () => {
    const first = (sent += A_TIME / PROBES);
    return Array.from({ length: A_TIME }, (_, index) => ({
      at: new Date(pile.from.getTime() + (first + Math.floor(index / PROBES)) * 60_000).toISOString(),
      probe: index % PROBES,
      deciC: 550 + (index % 97),
    }));
  };
  const post = async () => {
    const readings = rows().map(({ at, probe, deciC }) => ({
      ...{ bay: pile.bay, position: `p-${probe}`, occurredAt: at },
      temperature: { value: deciC / 10, unit: 'C' },
    }));
    const { body } = await api.post('/api/logger-readings', { readings }, pile.key);
    if ((body as { new: number }).new !== A_TIME) throw new Error(`kept ${JSON.stringify(body)}`);
  };
  const copied = async () => {
    const lines = rows().map(({ at, probe, deciC }) => `${at}\t${probe}\t${deciC}\n`);
    await pipeline(Readable.from(lines), client.query(copy.from('COPY bare_reading FROM STDIN')));
  };
  const inserted = async () => {
    const given = rows();
    await client.query(
      'INSERT INTO bare_reading SELECT * FROM unnest($1::timestamptz[], $2::int[], $3::int2[])',
      [given.map(({ at }) => at), given.map(({ probe }) => probe), given.map(({ deciC }) => deciC)],
    );
  };
  for (const one of [post, copied, inserted]) await one();
  const timed = (one: () => Promise<void>) => () => milliseconds(one);
  const [postMs, copyMs] = await sideBySide(9, timed(post), timed(copied));
  const [againMs, insertMs] = await sideBySide(9, timed(post), timed(inserted));
  await Promise.all([api.close(), client.end()]);
  const figure = { what: `${A_TIME} logger readings in one request`, unit: 'readings/s' };
  const perSecond = (ms: number) => A_TIME / (ms / 1000);
  return [
    { ...figure, value: perSecond(postMs), baseline: 'COPY of the same rows', ratio: copyMs / postMs },
    { ...figure, value: perSecond(againMs), baseline: 'one bare insert of them', ratio: insertMs / againMs },
  ];
}

/** The verdict on a batch with a reading a minute from each of eight probes, for a quarter, half and a whole year. */
export async function seriesFigures(stand: Stand, world: World): Promise<Figure[]> {
  const api = clientOf(stand.apiPort, 1);
  const client = new pg.Client({ connectionString: stand.databaseUrl });
  await client.connect();
  const figures: Figure[] = [];
  for (const days of DAYS) {
    const pile = await makePile(api, world, `Y${days}`, days);
    const probes = await fill(client, pile, days);
    figures.push(...(await verdictFigures({ api, client, stand, world, pile, probes }, days)));
  }
  await Promise.all([api.close(), client.end()]);
  return figures;
}

interface Measured {
  api: Client;
  client: pg.Client;
  stand: Stand;
  world: World;
  pile: Pile;
  probes: number[];
}

async function verdictFigures(
  { api, client, stand, world, pile, probes }: Measured,
  days: number,
): Promise<Figure[]> {
  const ask = (rule: string) => async () => {
    const answer = await api.get(`/api/batches/${pile.batchId}/process?rule=${rule}`, world.token);
    if (answer.status !== 200) throw new Error(`answered ${answer.status}`);
  };
  const rows =
    `SELECT probe_id, at, temperature_deci_c FROM logger_reading WHERE probe_id = ANY ('{${probes.join()}}') ` +
    'ORDER BY probe_id, at';
  const read = async () => {
    let bytes = 0;
    for await (const part of client.query(copy.to(`COPY (${rows}) TO STDOUT`)))
      bytes += (part as Buffer).length;
    if (bytes < 1000) throw new Error('nothing was read');
  };
  const advise = async () => {
    const answer = await api.get(`/api/batches/${pile.batchId}/advice`, world.token);
    if (answer.status !== 200) throw new Error(`answered ${answer.status}`);
  };
  await read();
  const [adviceMs, beforeMs] = await sideBySide(
    5,
    () => milliseconds(advise),
    () => milliseconds(read),
  );
  const idleMb = await resetPeakMb(stand.apiPid);
  const [verdictMs, readMs] = await ratioOf(RULES.map(ask), read);
  const peakMb = await peakOf(stand.apiPid);
  const again: number[] = [];
  for (const rule of RULES) again.push(await milliseconds(ask(rule)));
  const what = `verdict on ${((days * 1440 * PROBES) / 1e6).toFixed(1)} million readings`;
  return [
    {
      what,
      value: verdictMs,
      unit: 'ms',
      baseline: 'COPY of those rows to a client',
      ratio: verdictMs / readMs,
    },
    { what: `${what}, memory above idle`, value: peakMb - idleMb, unit: 'MB' },
    {
      what: `${what}, read on`,
      value: median(again),
      unit: 'ms',
      baseline: 'the first time',
      ratio: median(again) / verdictMs,
    },
    {
      what: `advice on ${((days * 1440 * PROBES) / 1e6).toFixed(1)} million readings`,
      value: adviceMs,
      unit: 'ms',
      baseline: 'COPY of those rows to a client',
      ratio: adviceMs / beforeMs,
    },
  ];
}

async function ratioOf(asks: (() => Promise<void>)[], read: () => Promise<void>): Promise<[number, number]> {
  const next = asks.values();
  return sideBySide(
    asks.length,
    () => milliseconds(next.next().value ?? (() => Promise.reject(new Error('no more rules')))),
    () => milliseconds(read),
  );
}

async function makePile(api: Client, world: World, bay: string, days: number): Promise<Pile> {
  const from = new Date(Math.floor(Date.now() / DAY_MS) * DAY_MS - days * DAY_MS);
  const occurredAt = from.toISOString();
  await made(api, world.token, `/sites/${world.yardId}/bays`, { code: bay });
  const begun = { siteId: world.yardId, bay, method: 'static-aerated', occurredAt };
  const batchId = await made(api, world.token, '/batches', begun);
  const leaves = { material: 'leaves', from: 'stock', mass: { value: 900, unit: 'kg' }, occurredAt };
  await made(api, world.token, `/batches/${batchId}/amendments`, leaves);
  const device = await api.post(
    '/api/device-keys',
    { siteId: world.yardId, code: bay, bays: [bay] },
    world.token,
  );
  const { id: deviceId, key } = device.body as { id: string; key: string };
  return { batchId, bay, key, deviceId, from };
}

/** Warm for eight days, cooler for two, and again; every probe a little different. */
async function fill(client: pg.Client, { deviceId, from }: Pile, days: number): Promise<number[]> {
  const { rows } = await client.query<{ id: number }>(
    `INSERT INTO logger_probe (target_id, position)
     SELECT t.id, 'p-' || i FROM device_target t, generate_series(1, $2::int) i WHERE t.device_id = $1 RETURNING id`,
    [deviceId, PROBES],
  );
  const probes = rows.map(({ id }) => id);
  await client.query(`INSERT INTO logger_placement SELECT id, 0, NULL, 500 FROM unnest($1::int[]) id`, [
    probes,
  ]);
  await client.query(
    `INSERT INTO logger_reading (at, probe_id, temperature_deci_c, placement)
     SELECT $1::timestamptz + m * interval '1 minute', p,
       CASE WHEN (m / 1440) % 10 < 8 THEN 560 ELSE 450 END + (hashint4(m * 31 + p) & 63), 0
     FROM generate_series(0, $2::int * 1440 - 1) m, unnest($3::int[]) p`,
    [from, days, probes],
  );
  await client.query('VACUUM ANALYZE logger_reading');
  await client.query('VACUUM ANALYZE logger_hour');
  return probes;
}

const mbOf = async (pid: number, name: string) =>
  Number(
    new RegExp(`${name}:\\s+(\\d+) kB`).exec(await readFile(`/proc/${pid}/status`, 'utf8'))?.[1] ?? NaN,
  ) / 1e3;

const peakOf = (pid: number) => mbOf(pid, 'VmHWM');

/** Forgets the peak so far; answers what is held now. */
async function resetPeakMb(pid: number): Promise<number> {
  await writeFile(`/proc/${pid}/clear_refs`, '5');
  return mbOf(pid, 'VmRSS');
}
