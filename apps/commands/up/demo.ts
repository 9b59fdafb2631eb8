import { existsSync } from 'node:fs';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { demoCoordinator, demoProgramme, type DemoSummary, loadDemo } from '../../../prisma/demo/index.js';
import { createApp } from '../../api/app.js';
import type { Settings } from '../../api/http/settings.js';
import { type Api, apiAt } from './caller.js';
import { makeDocuments } from './documents.js';
import type { Shutdown } from './shutdown.js';

/** What a person needs to know of the demo programme, and where its documents were put. */
export interface Welcome {
  programme: string;
  signIns: DemoSummary['signIns'];
  documents: string[];
}

const FILE = 'demo.json';

/** The first coordinator that the environment names joins the demo's own, so that neither is locked out. */
async function addNamedCoordinator(api: Api, token: string, settings: Settings): Promise<void> {
  const { firstEmail: email, firstPassword: password } = settings;
  if (!email || !password) return;
  const person = { email, displayName: email, password, grants: [{ role: 'coordinator' }] };
  const answer = await api.call('POST', '/people', { as: token, body: person });
  if (answer.status !== 201)
    throw new Error(`the first coordinator was refused: ${JSON.stringify(answer.body)}`);
}

/** Lives the demo programme through an API on a port that nobody is told, before the real one is opened. */
export async function fillWithDemo(
  settings: Settings,
  folder: string,
  shutdown: Shutdown,
  say: (line: string) => void,
): Promise<void> {
  say('  loading the demo programme');
  const { email, name, password } = demoCoordinator;
  const programme = process.env['HEAPWRIGHT_PROGRAMME'] ?? demoProgramme;
  const first = { firstEmail: email, firstName: name, firstPassword: password };
  const app = await createApp({ ...settings, ...first, programme }, ['error', 'warn']);
  let closing: Promise<void> | undefined;
  const close = () => (closing ??= app.close());
  shutdown.add(close);
  try {
    await app.listen(0, '127.0.0.1');
    const api = apiAt(await app.getUrl());
    const { signIns } = await loadDemo(api, Date.now(), say);
    const session = await api.call('POST', '/sessions', { body: { email, password } });
    const { token } = session.body as { token: string };
    await addNamedCoordinator(api, token, settings);
    const documents = await makeDocuments(api, token, join(folder, 'documents'));
    await mkdir(folder, { recursive: true });
    await writeFile(join(folder, FILE), JSON.stringify({ programme, signIns, documents }, undefined, 2));
  } finally {
    await close();
  }
}

/** What the demo left to be told at every start; undefined where none was loaded from this folder. */
export async function welcomeOf(folder: string): Promise<Welcome | undefined> {
  const file = join(folder, FILE);
  return existsSync(file) ? (JSON.parse(await readFile(file, 'utf8')) as Welcome) : undefined;
}
