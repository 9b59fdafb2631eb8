import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { root, run, timed } from './run.mjs';

const GENERATED = 'libs/database/generated';
const schemaSources = ['prisma/schema', 'prisma.config.ts', 'package-lock.json'];
const sources = ['apps', 'libs', 'prisma', 'package.json', 'package-lock.json'];

const packagesOf = async (file) => JSON.parse(await readFile(join(root, file), 'utf8')).packages;

/** True when every package of the lock file lies there in that version; those of other platforms need not. */
async function isInstalled() {
  try {
    const locked = await packagesOf('package-lock.json');
    const installed = await packagesOf('node_modules/.package-lock.json');
    return Object.entries(locked).every(([path, { version, optional }]) => {
      if (path === '') return true;
      return installed[path] ? installed[path].version === version : optional === true;
    });
  } catch {
    return false;
  }
}

/** `npm ci`, only where something is missing or the lock file has changed since. */
export async function ensureInstalled() {
  if (await isInstalled()) return;
  await timed('installing packages (npm ci, half a minute or so)', () => run('npm', ['ci', '--include=dev']));
}

async function* filesUnder(path) {
  const children = await readdir(join(root, path), { withFileTypes: true }).catch(() => undefined);
  if (!children) yield path;
  else if (path !== GENERATED) {
    for (const { name } of children) yield* filesUnder(`${path}/${name}`);
  }
}

/** One digest of these files and folders. By content: a clone or a checkout touches every date. */
async function fingerprint(paths) {
  const hash = createHash('sha256');
  for (const path of paths) {
    for await (const file of filesUnder(path))
      hash.update(`${file}\0`).update(await readFile(join(root, file)));
  }
  return hash.digest('hex');
}

/** Makes `folder` unless it was made from these very sources; the mark lies in the product, and goes with it. */
async function ensureMade(what, folder, paths, work) {
  const mark = join(root, folder, '.made-from');
  const wanted = await fingerprint(paths);
  if (existsSync(mark) && (await readFile(mark, 'utf8')) === wanted) return;
  await timed(what, work);
  await writeFile(mark, wanted);
}

/** The database client and `dist/`, made again only when what they are made from has changed. */
export async function ensureBuilt() {
  await ensureMade('making the database client', GENERATED, schemaSources, () =>
    run('npm', ['run', '--silent', 'generate']),
  );
  const built = [...sources, 'tsconfig.json', 'tsconfig.build.json'];
  await ensureMade('building', 'dist', built, () => run('npm', ['run', '--silent', 'build']));
}
