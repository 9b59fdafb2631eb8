import { existsSync } from 'node:fs';
import { readFile, readlink } from 'node:fs/promises';
import { join } from 'node:path';

/**
 * A fast shutdown that comes while PostgreSQL recovers from a crash may never end (seen with 18.4). After this
 * long it is told to go at once; what was committed is then recovered at the next start.
 */
export const PATIENCE_MS = 10_000;
export const AT_ONCE = 'SIGQUIT';

const STEP_MS = 100;
const LONGEST_WAIT_MS = 30_000;

/** True while process `pid` is a PostgreSQL of this very data folder; another process may have got its number. */
async function isServerOf(pid: number, databaseDir: string): Promise<boolean> {
  try {
    const commandLine = await readFile(`/proc/${pid}/cmdline`, 'utf8');
    return commandLine.includes('postgres') && commandLine.includes(databaseDir);
  } catch {
    return false;
  }
}

/** The Node process that started this server, while it lives; an orphan belongs to the system or to ourselves. */
async function ownerOf(pid: number): Promise<number | undefined> {
  try {
    const status = await readFile(`/proc/${pid}/status`, 'utf8');
    const parent = Number(/^PPid:\s+(\d+)$/m.exec(status)?.[1]);
    const program = await readlink(`/proc/${parent}/exe`);
    return program === process.execPath && parent !== process.pid ? parent : undefined;
  } catch {
    return undefined;
  }
}

/**
 * A killed parent leaves its PostgreSQL running: it is asked to shut down (SIGINT: a fast, clean shutdown) and
 * waited for. Where the parent lives, a second run takes over: the first is asked to end, and takes its
 * PostgreSQL with it. A stale postmaster.pid needs nothing: PostgreSQL clears it on its own.
 *
 * Answers what was done, if anything.
 */
export async function stopLeftover(databaseDir: string): Promise<string | undefined> {
  const pidFile = join(databaseDir, 'postmaster.pid');
  if (!existsSync(pidFile)) return undefined;
  const pid = Number.parseInt(await readFile(pidFile, 'utf8'), 10);
  if (!Number.isInteger(pid) || !(await isServerOf(pid, databaseDir))) return undefined;
  const owner = await ownerOf(pid);
  if (owner) process.kill(owner, 'SIGTERM');
  else process.kill(pid, 'SIGINT');
  for (let waitedMs = 0; waitedMs < LONGEST_WAIT_MS; waitedMs += STEP_MS) {
    if (!(await isServerOf(pid, databaseDir))) {
      return owner
        ? `ended the run that was using this folder (process ${owner})`
        : 'stopped a PostgreSQL that an earlier run had left behind';
    }
    if (waitedMs === PATIENCE_MS) process.kill(pid, AT_ONCE);
    await new Promise((done) => setTimeout(done, STEP_MS));
  }
  throw new Error(`a PostgreSQL of ${databaseDir} (process ${pid}) is still running and does not stop`);
}
