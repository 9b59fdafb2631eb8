import { createHash } from 'node:crypto';
import { readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { root, run, timed } from './run.mjs';

/** What is made here, from what, and by which script of package.json. */
export const client = {
  what: 'making the database client',
  script: 'generate',
  folder: 'libs/database/generated',
  sources: ['prisma/schema', 'prisma.config.ts', 'package-lock.json'],
};
export const build = {
  what: 'building',
  script: 'build',
  folder: 'dist',
  sources: [
    'apps',
    'libs',
    'prisma',
    'tests/load',
    'tests/unit/documents',
    'package-lock.json',
    'package.json',
    'tsconfig.json',
    'tsconfig.build.json',
  ],
};

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
  else if (path !== client.folder) {
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

/** The mark of what a product was made from lies in the product, and goes with it. */
const markOf = ({ folder }) => join(root, folder, '.made-from');

/** From nothing: a file whose source is gone must not stay. */
export async function makeAnew(product) {
  const made = await fingerprint(product.sources);
  await rm(join(root, product.folder), { recursive: true, force: true });
  await run('npm', ['run', '--silent', product.script]);
  await writeFile(markOf(product), made);
}

/** Makes it only when what it is made from has changed. */
export async function ensureMade(product, out = process.stdout) {
  const mark = await readFile(markOf(product), 'utf8').catch(() => undefined);
  if (mark === (await fingerprint(product.sources))) return;
  await timed(product.what, () => makeAnew(product), out);
}
