import { readFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { AccessRule } from '../../apps/api/http/access/access.js';
import { problems } from '../../apps/api/http/problems/catalogue.js';
import { dropOffColumns } from '../../apps/api/records/drop-off-columns.js';
import { startApi, type TestApi } from '../support/api.js';
import { routesOf } from '../support/routes.js';

const guide = () => readFile(new URL('../../docs/api.md', import.meta.url), 'utf8');

/** The cells of every line of a table, code marks taken off. */
async function rowsOfGuide(): Promise<string[][]> {
  const lines = (await guide()).split('\n').filter((line) => line.startsWith('|'));
  return lines.map((line) => {
    const cells = line.split('|').slice(1, -1);
    return cells.map((cell) => cell.trim().replaceAll('`', ''));
  });
}

function roleAndPlace(rule: AccessRule | undefined): string[] {
  if (rule?.kind === 'public') return ['anybody', '–'];
  if (rule?.kind === 'device') return ['device', 'own bays and batches'];
  if (rule?.kind === 'reader') return ['municipal-reader', 'own jurisdiction'];
  if (rule?.kind !== 'role') return ['signed in', '–'];
  const { role, scope } = rule;
  if (scope.at === 'programme') return [role, 'whole programme'];
  if (scope.at === 'own-sites') return [role, 'own sites'];
  return [role, scope.at === 'site' ? `site ${scope.field} of the ${scope.in}` : `site of the ${scope.kind}`];
}

describe('the contract', () => {
  let api: TestApi;
  beforeAll(async () => {
    api = await startApi();
  });
  afterAll(() => api.stop());

  it('refers only to shapes that it holds', async () => {
    const { payload } = await api.app.inject({ url: '/api/openapi.json' });
    const { schemas } = (JSON.parse(payload) as { components: { schemas: object } }).components;
    const referred = [...payload.matchAll(/"#\/components\/schemas\/([^"]*)"/g)].map(([, name]) => name);
    expect(referred.length).toBeGreaterThan(100);
    expect(referred.filter((name) => !Object.hasOwn(schemas, name ?? ''))).toEqual([]);
  });

  it('is told by the guide as it is: every route with its role, every code, every column', async () => {
    const rows = await rowsOfGuide();
    const told = rows.filter(([, path]) => path?.startsWith('/')).map((row) => row.slice(0, 4).join(' '));
    const routes = routesOf(api.app).map(({ method, path, rule }) =>
      [method, path, ...roleAndPlace(rule)].join(' '),
    );
    expect(told.sort()).toEqual(routes.sort());

    const codes = rows.filter(([, status]) => /^[45]\d\d$/.test(status ?? ''));
    expect(codes).toEqual(
      Object.entries(problems).map(([code, [status, title]]) => [code, String(status), title]),
    );

    const listed = /Columns, in order:\s+([^.]*)\./.exec(await guide())?.[1]?.split(/,\s+/);
    expect(listed).toEqual(dropOffColumns.map(({ title }) => `\`${title}\``));
  });
});
