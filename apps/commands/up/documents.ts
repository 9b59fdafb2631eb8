import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Api } from './caller.js';

interface BatchLine {
  id: string;
  code: string;
  stage: string;
}

async function fetched(api: Api, token: string, path: string): Promise<{ body: unknown; bytes: Buffer }> {
  const answer = await api.call('GET', path, { as: token });
  if (answer.status !== 200) throw new Error(`GET ${path} answered ${answer.status}`);
  return answer;
}

/** The record of a signed batch as PDF, and every drop-off as CSV, written into `folder`; answers their paths. */
export async function makeDocuments(api: Api, token: string, folder: string): Promise<string[]> {
  const { body } = await fetched(api, token, '/batches?limit=200');
  const batches = (body as { items: BatchLine[] }).items;
  const signed = batches.find(({ stage }) => stage === 'released' || stage === 'emptied');
  if (!signed) throw new Error('the demo programme has no signed batch');
  const documents = [
    [`batch-${signed.code}.pdf`, `/batches/${signed.id}/record.pdf`],
    ['drop-offs.csv', '/exports/drop-offs.csv'],
  ] as const;
  await mkdir(folder, { recursive: true });
  for (const [name, path] of documents) {
    await writeFile(join(folder, name), (await fetched(api, token, path)).bytes);
  }
  return documents.map(([name]) => join(folder, name));
}
