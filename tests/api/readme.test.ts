import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoCoordinator } from '../../prisma/demo/index.js';
import { startApi, type TestApi } from '../support/api.js';
import { made } from '../support/programme.js';

const run = promisify(execFile);

/** The conversation that the README invites to: the shell blocks, one after the other, as a reader pastes them. */
async function conversation(): Promise<string> {
  const readme = await readFile(new URL('../../README.md', import.meta.url), 'utf8');
  return [...readme.matchAll(/```sh\n([\s\S]*?)```/g)].map((block) => block[1]).join('\n');
}

/** The third conversation of docs/api.md with the functions of the second, and what it says that was answered. */
async function mixConversation(): Promise<{ script: string; answered: string[] }> {
  const guide = await readFile(new URL('../../docs/api.md', import.meta.url), 'utf8');
  const blocksOf = (text = '') => [...text.matchAll(/```sh\n([\s\S]*?)```/g)].map(([, block]) => block ?? '');
  const [, second = '', third = ''] = guide.split(/^## A (?:second|third) conversation.*$/m);
  const [functions = ''] = (blocksOf(second)[0] ?? '').split('\nTOWN=');
  const script = [functions, ...blocksOf(third)].join('\n');
  const answered =
    blocksOf(third)
      .join('')
      .match(/^# .*$/gm) ?? [];
  return { script, answered: answered.map((line) => line.slice(2)) };
}

describe('the README', () => {
  let api: TestApi;
  let folder: string;
  beforeAll(async () => {
    api = await startApi();
    folder = await mkdtemp(join(tmpdir(), 'heapwright-readme-'));
    await made(api, '/people', {
      email: demoCoordinator.email,
      password: demoCoordinator.password,
      displayName: demoCoordinator.name,
      grants: [{ role: 'coordinator' }],
    });
    await api.app.listen(0, '127.0.0.1');
  });
  afterAll(async () => {
    await rm(folder, { recursive: true, force: true });
    await api.stop();
  });

  it('holds a conversation that works line by line', async () => {
    const { port } = api.app.getHttpServer().address() as AddressInfo;
    const script = `set -euo pipefail\n${await conversation()}`;
    const { stdout } = await run('bash', ['-c', script], {
      cwd: folder,
      env: { ...process.env, HEAPWRIGHT: `http://127.0.0.1:${port}` },
      maxBuffer: 10_000_000,
    });
    expect(stdout).toContain('"status":"met"');
    expect(stdout).toContain('"code":"sedge-9"');
    expect(stdout).toContain('"advice":[');
    expect(stdout).toContain('"new":2,"known":0');
    expect(stdout).toContain('"new":0,"known":2');
    expect(stdout).toContain('"key":"no-reheating"');
    expect(stdout).toContain('"releasable":true');
    const record = JSON.parse(await readFile(join(folder, 'record.json'), 'utf8'));
    expect(record).toMatchObject({ status: 'signed', batch: { stage: 'released' } });
    // 31.2 lb gross − 2.1 lb tare − 0.4 lb pulled = 28.7 lb
    expect(record.intake).toMatchObject({ dropOffs: 1, acceptedKg: 13.018 });
    const pdf = await readFile(join(folder, 'record.pdf'));
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    expect(stdout).toContain('"lots":2');
  });

  it('is followed by a conversation on the mix that answers what the guide says', async () => {
    const { port } = api.app.getHttpServer().address() as AddressInfo;
    const { script, answered } = await mixConversation();
    const { stdout } = await run('bash', ['-c', `set -euo pipefail\n${script}`], {
      cwd: folder,
      env: { ...process.env, HEAPWRIGHT: `http://127.0.0.1:${port}` },
    });
    const anyYear = (text: string) => text.replaceAll(/SF-\d{4}-/g, 'SF-');
    expect(answered.length).toBeGreaterThan(30);
    expect(anyYear(stdout).trim().split('\n')).toEqual(answered.map(anyYear));
  });
});
