import { fileURLToPath } from 'node:url';
import {
  applyMigrations,
  createDatabase,
  databaseExists,
  dropDatabase,
  replaceDatabase,
  startEmbedded,
} from '#libs/database';
import { isEmpty } from './programme.records.js';
import type { Shutdown } from './shutdown.js';

const root = fileURLToPath(new URL('../../../../prisma', import.meta.url));
const NAME = 'heapwright';
const DRAFT = 'heapwright_draft';

type Say = (line: string) => void;

/** Fills a migrated, empty database; undefined where nothing is to be loaded. */
export type Fill = ((databaseUrl: string) => Promise<void>) | undefined;

async function migrate(databaseUrl: string, say: Say): Promise<void> {
  const applied = await applyMigrations(databaseUrl, { root });
  if (applied.length > 0) say(`  applied ${applied.length} migration${applied.length > 1 ? 's' : ''}`);
}

/** A PostgreSQL of the owner's: brought up to date, never replaced. */
export async function openOwn(databaseUrl: string, fill: Fill, say: Say): Promise<string> {
  say('  using the PostgreSQL named in DATABASE_URL; nothing embedded is started');
  await migrate(databaseUrl, say);
  if (fill && (await isEmpty(databaseUrl))) await fill(databaseUrl);
  return databaseUrl;
}

/**
 * PostgreSQL of our own in `folder`. A programme that is filled first is filled as a draft and then takes its
 * name: one that was interrupted half-way is begun again, and never shown.
 */
export async function openEmbedded(
  folder: string,
  fill: Fill,
  shutdown: Shutdown,
  say: Say,
): Promise<string> {
  say(`  starting PostgreSQL in ${folder}`);
  const server = await startEmbedded({ folder, say: (line) => say(`  ${line}`) });
  shutdown.add(() => server.stop());
  shutdown.takeSignals();
  void server.lost.then(() =>
    shutdown.run(
      1,
      'PostgreSQL stopped without being asked to, so this stops too. Every acknowledged record is in its ' +
        'folder: start again with `npm run up`.',
    ),
  );
  const url = server.urlOf(NAME);
  const exists = await databaseExists(server.adminUrl, NAME);
  if (exists) await migrate(url, say);
  if (!exists || (fill && (await isEmpty(url)))) {
    await dropDatabase(server.adminUrl, DRAFT);
    await createDatabase(server.adminUrl, DRAFT);
    await migrate(server.urlOf(DRAFT), say);
    await fill?.(server.urlOf(DRAFT));
    await replaceDatabase(server.adminUrl, DRAFT, NAME);
  }
  return url;
}
