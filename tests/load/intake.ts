import pg from 'pg';
import copy from 'pg-copy-streams';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { v7 } from 'uuid';
import { type Figure, milliseconds, perSecond, sideBySide } from './measure.js';
import { type Client, clientOf, type Stand } from './stand.js';
import { lotOf, type World } from './world.js';

const ROUNDS = 3;
const LOTS = 2_000;
const WARM_UP = 300;
const BULK = 500;

function expectStatus(actual: number, expected: number): void {
  if (actual !== expected) throw new Error(`answered ${actual}, not ${expected}`);
}

/** Single lots over HTTP, against a bare loop of inserts and against bare Fastify with one insert. */
export async function intakeFigures(stand: Stand, world: World, connections: number): Promise<Figure[]> {
  const api = clientOf(stand.apiPort, connections);
  const bare = clientOf(stand.barePort, connections);
  const pool = new pg.Pool({ connectionString: stand.databaseUrl, max: connections });
  const occurredAt = new Date().toISOString();
  const post = async (index: number) => {
    const { status } = await api.post('/api/drop-offs', lotOf(world, index, occurredAt), world.token);
    expectStatus(status, 201);
  };
  const postBare = async (index: number) => {
    expectStatus((await bare.post('/lots', lotOf(world, index, occurredAt))).status, 201);
  };
  const insert = async (index: number) => {
    const body = lotOf(world, index, occurredAt);
    const text = 'INSERT INTO bare_lot (id, body) VALUES ($1, $2)';
    await pool.query({ name: 'bare-insert', text, values: [body.id, body] });
  };
  for (const one of [post, postBare, insert]) await perSecond(WARM_UP, connections, one);
  const [intake, inserts] = await sideBySide(
    ROUNDS,
    () => perSecond(LOTS, connections, post),
    () => perSecond(LOTS, connections, insert),
  );
  const [again, fastify] = await sideBySide(
    ROUNDS,
    () => perSecond(LOTS, connections, post),
    () => perSecond(LOTS, connections, postBare),
  );
  await Promise.all([api.close(), bare.close(), pool.end()]);
  const what = `one drop-off over HTTP, ${connections} connections`;
  return [
    { what, value: intake, unit: 'lots/s', baseline: 'bare PostgreSQL insert loop', ratio: intake / inserts },
    {
      what,
      value: again,
      unit: 'lots/s',
      baseline: 'bare Fastify with one prepared insert',
      ratio: again / fastify,
    },
  ];
}

/** 500 lots in one request, against COPY of as many rows of the same columns into a table without indexes. */
export async function bulkFigures(stand: Stand, world: World): Promise<Figure[]> {
  const api = clientOf(stand.apiPort, 1);
  const client = new pg.Client({ connectionString: stand.databaseUrl });
  await client.connect();
  await client.query('CREATE TABLE bare_revision (LIKE drop_off_revision)');
  const occurredAt = new Date().toISOString();
  const bulk = () => bulkPost(api, world, occurredAt);
  const copyRows = () => copyBulk(client, world, occurredAt);
  await bulk();
  await copyRows();
  const [bulkMs, copyMs] = await sideBySide(
    9,
    () => milliseconds(bulk),
    () => milliseconds(copyRows),
  );
  await Promise.all([api.close(), client.end()]);
  return [
    {
      what: `${BULK} drop-offs in one request`,
      value: BULK / (bulkMs / 1000),
      unit: 'lots/s',
      baseline: 'COPY of the same rows',
      ratio: copyMs / bulkMs,
    },
  ];
}

async function bulkPost(api: Client, world: World, occurredAt: string): Promise<void> {
  const items = Array.from({ length: BULK }, (_, index) => lotOf(world, index, occurredAt));
  const answer = await api.post('/api/drop-offs/bulk', { items }, world.token);
  const results = (answer.body as { items: { status: number }[] }).items;
  if (results.some(({ status }) => status !== 201)) throw new Error('a lot of the bulk was refused');
}

async function copyBulk(client: pg.Client, world: World, occurredAt: string): Promise<void> {
  const columns =
    'drop_off_id, revision, site_id, occurred_at, material_code, jurisdiction_id, depositor, basis, gross_g, ' +
    'tare_g, net_g, rejected_g, accepted_g, container_id, entered, warnings, voided, recorded_at, recorded_by';
  const row = (index: number) => {
    const lot = lotOf(world, index, occurredAt);
    const entered = JSON.stringify(lot).replaceAll('\\', '\\\\');
    return (
      `${lot.id}\t1\t${world.siteId}\t${occurredAt}\tfood-scraps\t${world.jurisdictionId}\thousehold\tscale\t` +
      `${5000 + index}\t998\t${4002 + index}\t0\t${4002 + index}\t${world.containerId}\t${entered}\t[]\tf\t` +
      `${occurredAt}\t${v7()}\n`
    );
  };
  const rows = Array.from({ length: BULK }, (_, index) => row(index));
  await pipeline(Readable.from(rows), client.query(copy.from(`COPY bare_revision (${columns}) FROM STDIN`)));
}
