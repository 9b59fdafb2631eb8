import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoCoordinator } from '../../prisma/demo/index.js';
import { startApi, type TestApi } from '../support/api.js';
import { made } from '../support/programme.js';

const run = promisify(execFile);
const repository = fileURLToPath(new URL('../..', import.meta.url));

/** The conversation that the README invites to: the shell blocks, one after the other, as a reader pastes them. */
async function conversation(): Promise<string> {
  const readme = await readFile(new URL('../../README.md', import.meta.url), 'utf8');
  return blocksOf(readme, 'sh').join('\n');
}

interface Conversation {
  script: string;
  /** What the guide says that was answered, line by line. */
  answered: string[];
}

/** The conversations of docs/api.md from the second on, and the program of the guide that checks a seal. */
async function guideConversations(): Promise<{
  second: Conversation;
  third: Conversation;
  fourth: Conversation;
  seal: string;
}> {
  const guide = await readFile(new URL('../../docs/api.md', import.meta.url), 'utf8');
  const [before = '', ...others] = guide.split(/^## A (?:second|third|fourth) conversation.*$/m);
  const [second = '', third = '', fourth = ''] = others.map((text) => blocksOf(text, 'sh').join('\n'));
  const [functions = ''] = second.split('\nTOWN=');
  const answered = (text: string) => (text.match(/^# .*$/gm) ?? []).map((line) => line.slice(2));
  const after = (text: string) => ({ script: `${functions}\n${text}`, answered: answered(text) });
  return {
    second: { script: second, answered: answered(second) },
    third: after(third),
    fourth: after(fourth),
    seal: blocksOf(before, 'js').at(-1) ?? '',
  };
}

function blocksOf(text: string, language: string): string[] {
  const blocks = text.matchAll(new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``, 'g'));
  return [...blocks].map(([, block]) => block ?? '');
}

/** Without what changes with the day: dates, the year of a batch's code, and seals, of which only the order is left. */
function onAnyDay(lines: string[]): string[] {
  const text = lines.join('\n');
  const seals = [...new Set(text.match(/[0-9a-f]{64}/g))];
  return seals
    .reduce((all, seal, n) => all.replaceAll(seal, `seal ${n}`), text)
    .replaceAll(/SF-\d{4}-/g, 'SF-')
    .replaceAll(/\d{1,2} [A-Z][a-z]{2} \d{4}( \d\d:\d\d)?/g, (_, time) => (time ? 'a moment' : 'a day'))
    .split('\n');
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

  const answersTo = async (script: string): Promise<string[]> => {
    const { port } = api.app.getHttpServer().address() as AddressInfo;
    const { stdout } = await run('bash', ['-c', `set -euo pipefail\n${script}`], {
      cwd: folder,
      env: { ...process.env, HEAPWRIGHT: `http://127.0.0.1:${port}` },
    });
    return onAnyDay(stdout.trim().split('\n'));
  };

  it('is followed by a conversation with mistakes in it that answers what the guide says', async () => {
    const { second, seal } = await guideConversations();
    await writeFile(join(folder, 'seal.mjs'), seal);
    await symlink(
      fileURLToPath(new URL('../../node_modules', import.meta.url)),
      join(folder, 'node_modules'),
    );
    expect(second.answered.length).toBeGreaterThan(30);
    expect(await answersTo(second.script)).toEqual(onAnyDay(second.answered));
  });

  it('is followed by a conversation on the mix that answers what the guide says', async () => {
    const { third } = await guideConversations();
    expect(third.answered.length).toBeGreaterThan(30);
    expect(await answersTo(third.script)).toEqual(onAnyDay(third.answered));
  });

  it('is followed by a conversation on a year that answers what the guide says', async () => {
    const { fourth } = await guideConversations();
    expect(fourth.answered.length).toBeGreaterThan(60);
    // The command as it is, made once: it would be made anew at every check while somebody edits a source.
    await run('npm', ['run', '--silent', 'built'], { cwd: repository });
    const { scripts } = JSON.parse(await readFile(join(repository, 'package.json'), 'utf8'));
    await writeFile(
      join(folder, 'package.json'),
      JSON.stringify({ scripts: { built: 'true', check: scripts.check } }),
    );
    await symlink(join(repository, 'dist'), join(folder, 'dist'));
    expect(await answersTo(fourth.script)).toEqual(onAnyDay(fourth.answered));
  }, 120_000);
});
