import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const library = new URL('../../dist/libs/database/index.js', import.meta.url);

const command = `
  const { startEmbedded } = await import(${JSON.stringify(library.href)});
  const server = await startEmbedded({ folder: process.argv[1], throwAway: true });
  await server.stop();
  process.exitCode = 3;
`;

it('leaves the exit code of a command that had a PostgreSQL of its own as it was set', async () => {
  if (!existsSync(library)) throw new Error('this test needs the build: npm run build');
  const folder = await mkdtemp(join(tmpdir(), 'heapwright-exit-'));
  try {
    expect(spawnSync(process.execPath, ['--input-type=module', '-e', command, folder]).status).toBe(3);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
});
