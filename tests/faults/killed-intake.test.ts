import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Client, clientOf, freePort } from '../load/stand.js';
import { lotOf, makeWorld, type World } from '../load/world.js';
import { freshDatabase, type TestDatabase } from '../support/database.js';

const main = fileURLToPath(new URL('../../dist/apps/api/main.js', import.meta.url));
const first = { email: 'first@larkhollow.example', password: 'a long first password' };
const LOTS = 1_000;
const IN_FLIGHT = 10;
const KILL_AFTER = 300;

describe('the API killed in the middle of a thousand drop-offs', () => {
  let home: TestDatabase;
  let port: number;
  let api: ChildProcess;
  let client: Client;
  let world: World;
  let lots: { id: string }[];
  const acknowledged = new Set<string>();

  async function start(): Promise<void> {
    api = spawn(process.execPath, [main], {
      env: {
        ...process.env,
        DATABASE_URL: home.url,
        PORT: String(port),
        HEAPWRIGHT_FIRST_EMAIL: first.email,
        HEAPWRIGHT_FIRST_PASSWORD: first.password,
      },
      stdio: 'ignore',
    });
    for (let attempt = 0; attempt < 100; attempt += 1) {
      const ready = await fetch(`http://127.0.0.1:${port}/api/health/ready`).then(
        (answer) => answer.ok,
        () => false,
      );
      if (ready) return;
      await new Promise((done) => setTimeout(done, 100));
    }
    throw new Error('the API did not start');
  }

  /** Posts every lot, a few at a time; `seen` is told what was answered, or 0 where the connection broke. */
  async function postAll(seen: (id: string, status: number) => void): Promise<void> {
    let next = 0;
    const worker = async () => {
      for (let lot = lots[next++]; lot; lot = lots[next++]) {
        const status = await client.post('/api/drop-offs', lot, world.token).then(
          (answer) => answer.status,
          () => 0,
        );
        seen(lot.id, status);
      }
    };
    await Promise.all(Array.from({ length: IN_FLIGHT }, worker));
  }

  async function storedIds(): Promise<string[]> {
    const database = new pg.Client({ connectionString: home.url });
    await database.connect();
    const { rows } = await database.query<{ id: string }>('SELECT drop_off_id AS id FROM drop_off_revision');
    await database.end();
    return rows.map(({ id }) => id);
  }

  beforeAll(async () => {
    if (!existsSync(main)) throw new Error('this test needs the build: npm run build');
    home = await freshDatabase();
    port = await freePort();
    await start();
    client = clientOf(port, IN_FLIGHT);
    world = await makeWorld(client, first);
    const occurredAt = new Date().toISOString();
    lots = Array.from({ length: LOTS }, (_, index) => lotOf(world, index, occurredAt));
  });
  afterAll(async () => {
    await client.close();
    api.kill('SIGKILL');
    await home.drop();
  });

  it('keeps everything it acknowledged', async () => {
    await postAll((id, status) => {
      if (status === 201) acknowledged.add(id);
      if (acknowledged.size === KILL_AFTER) api.kill('SIGKILL');
    });
    expect(acknowledged.size).toBeGreaterThanOrEqual(KILL_AFTER);
    expect(acknowledged.size).toBeLessThan(LOTS);
    await start();
    const stored = new Set(await storedIds());
    expect([...acknowledged].filter((id) => !stored.has(id))).toEqual([]);
  });

  it('doubles nothing when all of them are sent again', async () => {
    const statuses = new Map<string, number>();
    await postAll((id, status) => void statuses.set(id, status));
    expect(new Set(statuses.values())).toEqual(new Set([200, 201]));
    for (const id of acknowledged) expect(statuses.get(id)).toBe(200);
    const stored = await storedIds();
    expect(stored).toHaveLength(LOTS);
    expect(new Set(stored).size).toBe(LOTS);
  });
});
