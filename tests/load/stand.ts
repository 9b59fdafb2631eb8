import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Pool } from 'undici';
import { applyMigrations, createDatabase, startEmbedded } from '#libs/database';

const root = fileURLToPath(new URL('../../..', import.meta.url));

export interface Client {
  post(path: string, body: unknown, token?: string): Promise<{ status: number; body: unknown }>;
  get(path: string, token: string): Promise<{ status: number; bytes: number }>;
  close(): Promise<void>;
}

/** A loopback client with as many connections as there may be requests in flight. */
export function clientOf(port: number, connections: number): Client {
  const pool = new Pool(`http://127.0.0.1:${port}`, { connections });
  const headersOf = (token?: string) => ({
    'content-type': 'application/json',
    ...(token ? { authorization: `Bearer ${token}` } : {}),
  });
  return {
    async post(path, body, token) {
      const answer = await pool.request({
        method: 'POST',
        path,
        headers: headersOf(token),
        body: JSON.stringify(body),
      });
      return { status: answer.statusCode, body: await answer.body.json() };
    },
    async get(path, token) {
      const answer = await pool.request({
        method: 'GET',
        path,
        headers: { authorization: `Bearer ${token}` },
      });
      return { status: answer.statusCode, bytes: (await answer.body.arrayBuffer()).byteLength };
    },
    close: () => pool.close(),
  };
}

export async function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as { port: number };
      probe.close(() => resolve(port));
    });
  });
}

async function answering(port: number, path: string): Promise<void> {
  for (let attempt = 0; attempt < 150; attempt += 1) {
    const up = await fetch(`http://127.0.0.1:${port}${path}`).then(
      (answer) => answer.ok,
      () => false,
    );
    if (up) return;
    await new Promise((done) => setTimeout(done, 100));
  }
  throw new Error(`nothing answers on port ${port}`);
}

async function startProcess(script: string, port: number, health: string, env: Record<string, string>) {
  const child = spawn(process.execPath, [join(root, script)], {
    env: { ...process.env, PORT: String(port), ...env },
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  await answering(port, health);
  return child;
}

const gone = (child: ChildProcess) =>
  new Promise<void>((resolve) => {
    child.once('exit', () => resolve());
    child.kill('SIGTERM');
  });

export interface Stand {
  databaseUrl: string;
  apiPort: number;
  /** Process of the API. */
  apiPid: number;
  barePort: number;
  first: { email: string; password: string };
  stop(): Promise<void>;
}

/**
 * A durable PostgreSQL of its own, the API and a bare Fastify before it, each in a process of its own.
 * `connections` is what each of them may hold.
 */
export async function buildStand(connections: number): Promise<Stand> {
  const folder = await mkdtemp(join(tmpdir(), 'heapwright-bench-'));
  const server = await startEmbedded({ folder });
  await createDatabase(server.adminUrl, 'bench');
  const databaseUrl = server.urlOf('bench');
  await applyMigrations(databaseUrl, { root: join(root, 'prisma') });
  const first = { email: 'bench@thistledown.example', password: 'a bench in the orchard' };
  const [apiPort, barePort] = [await freePort(), await freePort()];
  const shared = { DATABASE_URL: databaseUrl, HEAPWRIGHT_POOL: String(connections), NODE_ENV: 'production' };
  const api = await startProcess('dist/apps/api/main.js', apiPort, '/api/health/ready', {
    ...shared,
    HEAPWRIGHT_FIRST_EMAIL: first.email,
    HEAPWRIGHT_FIRST_PASSWORD: first.password,
  });
  const bare = await startProcess('dist/tests/load/bare-fastify.js', barePort, '/', shared);
  return {
    databaseUrl,
    apiPort,
    apiPid: api.pid ?? 0,
    barePort,
    first,
    async stop() {
      await gone(api);
      await gone(bare);
      await server.stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
