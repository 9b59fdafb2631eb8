import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';

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

/**
 * A killed parent leaves its PostgreSQL running. It is asked to shut down (SIGINT: a fast, clean shutdown) and
 * waited for. A stale postmaster.pid needs nothing: PostgreSQL clears it on its own.
 */
export async function stopLeftover(databaseDir: string): Promise<boolean> {
  const pidFile = join(databaseDir, 'postmaster.pid');
  if (!existsSync(pidFile)) return false;
  const pid = Number.parseInt(await readFile(pidFile, 'utf8'), 10);
  if (!Number.isInteger(pid) || !(await isServerOf(pid, databaseDir))) return false;
  process.kill(pid, 'SIGINT');
  for (let waitedMs = 0; waitedMs < LONGEST_WAIT_MS; waitedMs += STEP_MS) {
    if (!(await isServerOf(pid, databaseDir))) return true;
    await new Promise((done) => setTimeout(done, STEP_MS));
  }
  throw new Error(`a PostgreSQL of ${databaseDir} (process ${pid}) is still running and does not stop`);
}
