import { existsSync, readFileSync, statSync } from 'node:fs';
import { delimiter, dirname, join, resolve } from 'node:path';
import { Failure, root, run, timed } from './run.mjs';

export const isRoot = process.getuid?.() === 0;

/** Refuses a Node older than package.json asks for, which would fail later and say less. */
export function checkNode() {
  const { engines } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const [major, minor] = process.versions.node.split('.').map(Number);
  const fits = engines.node.split('||').some((range) => {
    const [wantedMajor, wantedMinor = 0] = range.match(/\d+/g).map(Number);
    const atLeast = major === wantedMajor && minor >= wantedMinor;
    return atLeast || (range.includes('>=') && major > wantedMajor);
  });
  if (!fits) throw new Failure(`Node ${engines.node} is needed; this is ${process.versions.node}.`);
}

/** The highest folder above `path` that other users may not pass, if there is one. */
function barredAt(path) {
  const above = dirname(path) === path ? undefined : barredAt(dirname(path));
  if (above) return above;
  return existsSync(path) && (statSync(path).mode & 0o001) === 0 ? path : undefined;
}

/**
 * PostgreSQL refuses to run as root, so that root starts it as the user `postgres`: that user must be able to
 * reach the program (in node_modules) and the data. Found here, before minutes of installing.
 */
export function checkReach(dataFolder) {
  if (!isRoot) return;
  const barred = barredAt(dirname(resolve(root, dataFolder))) ?? barredAt(resolve(root));
  if (!barred) return;
  throw new Failure(
    `As root, PostgreSQL runs as the user "postgres", and that user may not pass ${barred}.\n` +
      `Either let others pass it (chmod o+x ${barred}), or put the project and HEAPWRIGHT_DATA where they may\n` +
      '(/opt or /srv, say), or run this as an ordinary user, or name a PostgreSQL of yours in DATABASE_URL.',
  );
}

/** What the tests use besides npm's packages: a program, and the Debian package that holds it. */
const testPrograms = [
  ['qpdf', 'qpdf'],
  ['pdftotext', 'poppler-utils'],
  ['pdffonts', 'poppler-utils'],
  ['pdftoppm', 'poppler-utils'],
  ['chromium', 'chromium'],
];

const onPath = (program) =>
  (process.env.PATH ?? '').split(delimiter).some((folder) => existsSync(join(folder, program)));

/** Installs them where we are root on Debian; elsewhere says exactly what to install. */
export async function ensureTestPrograms() {
  const missing = testPrograms.filter(([program]) => !onPath(program));
  if (missing.length === 0) return;
  const packages = [...new Set(missing.map(([, name]) => name))];
  const install = ['install', '--yes', '--no-install-recommends', ...packages];
  if (!isRoot || !onPath('apt-get')) {
    const programs = missing.map(([program]) => program).join(', ');
    throw new Failure(
      `The tests need ${programs}. Install them and run this again; on Debian or Ubuntu:\n` +
        `  sudo apt-get update && sudo apt-get ${install.join(' ')}`,
    );
  }
  await timed(`installing Debian packages (${packages.join(' ')})`, async () => {
    const env = { DEBIAN_FRONTEND: 'noninteractive' };
    await run('apt-get', ['update', '--quiet'], { env });
    await run('apt-get', ['--quiet', ...install], { env });
  });
}
