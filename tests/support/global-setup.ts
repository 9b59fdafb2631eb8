import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { TestProject } from 'vitest/node';
// By path: what runs before the workers does not know the `source` condition of `#libs`.
import { applyMigrations, createDatabase, startEmbedded } from '../../libs/database/index.js';
import { startContainer } from './container.js';

declare module 'vitest' {
  interface ProvidedContext {
    /** Maintenance database of the run's one PostgreSQL. */
    adminUrl: string;
    /** Migrated and empty; every test file works on a copy. */
    template: string;
  }
}

const root = fileURLToPath(new URL('../../prisma', import.meta.url));
const TEMPLATE = 'heapwright_template';

/** One PostgreSQL a run: embedded, or a container where HEAPWRIGHT_TEST_SERVER=container. Migrated once. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const server =
    process.env['HEAPWRIGHT_TEST_SERVER'] === 'container' ? await startContainer() : await embedded();
  await createDatabase(server.adminUrl, TEMPLATE);
  await applyMigrations(server.urlOf(TEMPLATE), { root });
  project.provide('adminUrl', server.adminUrl);
  project.provide('template', TEMPLATE);
  return () => server.stop();
}

async function embedded() {
  const folder = await mkdtemp(join(tmpdir(), 'heapwright-test-'));
  const server = await startEmbedded({ folder, throwAway: true });
  return {
    ...server,
    async stop() {
      await server.stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
