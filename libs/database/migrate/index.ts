import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { withSchemaEngine } from './engine.js';

/** Where the schema and its migrations lie. */
export interface MigrationFolder {
  /** Folder that holds `schema/` and `migrations/`. */
  root: string;
}

const LOCK_FILE = 'migration_lock.toml';

async function schemaFiles(root: string): Promise<[string, string][]> {
  const folder = join(root, 'schema');
  const names = (await readdir(folder)).filter((name) => name.endsWith('.prisma')).sort();
  return Promise.all(
    names.map(async (name): Promise<[string, string]> => [
      join(folder, name),
      await readFile(join(folder, name), 'utf8'),
    ]),
  );
}

async function migrationsList(root: string) {
  const baseDir = join(root, 'migrations');
  const names = (await readdir(baseDir)).filter((name) => name !== LOCK_FILE).sort();
  const migrationDirectories = await Promise.all(
    names.map(async (path) => ({
      path,
      migrationFile: {
        path: 'migration.sql',
        content: { tag: 'ok' as const, value: await readFile(join(baseDir, path, 'migration.sql'), 'utf8') },
      },
    })),
  );
  const lockfile = { path: LOCK_FILE, content: await readFile(join(baseDir, LOCK_FILE), 'utf8') };
  return { baseDir, lockfile, shadowDbInitScript: '', migrationDirectories };
}

const filters = { externalTables: [], externalEnums: [] };

/**
 * Applies what has not been applied, in order, and answers the names. A migration that fails leaves nothing
 * behind, is recorded as failed, and stops the ones after it.
 */
export async function applyMigrations(url: string, { root }: MigrationFolder): Promise<string[]> {
  const list = await migrationsList(root);
  return withSchemaEngine(url, await schemaFiles(root), async (engine) => {
    const { appliedMigrationNames } = await engine.applyMigrations({ migrationsList: list, filters });
    return appliedMigrationNames;
  });
}

/** SQL that would bring a database made by the migrations to the schema; empty when they agree. */
export async function driftSql(url: string, { root }: MigrationFolder): Promise<string> {
  const files = await schemaFiles(root);
  const list = await migrationsList(root);
  return withSchemaEngine(url, files, async (engine) => {
    const { exitCode, stdout } = await engine.diff({
      from: { tag: 'migrations', ...list },
      to: { tag: 'schemaDatamodel', files: files.map(([path, content]) => ({ path, content })) },
      script: true,
      exitCode: true,
      filters,
    });
    return exitCode === 2 ? (stdout ?? '') : '';
  });
}

/** Writes the next migration from what the schema has and the migrations lack. */
export async function createMigration(
  url: string,
  { root }: MigrationFolder,
  name: string,
  stamp: string,
): Promise<string> {
  const folder = join(root, 'migrations', `${stamp}_${name}`);
  const sql = await driftSql(url, { root });
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, 'migration.sql'), sql);
  return folder;
}
