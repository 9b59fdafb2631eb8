import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { made, makePersona, makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { bringLoads, issueBody } from '../support/reports.js';
import { type Route, routesOf } from '../support/routes.js';

const FILES = ['', '.json', '.csv', '.pdf', '/rows.csv'];

describe('a municipal reader', () => {
  let api: TestApi;
  let programme: Programme;
  let reader: string;
  /** Of their own jurisdiction, and of the other. */
  let own: string;
  let foreign: string;

  const get = (path: string, as = reader) => api.call('GET', path, { as });
  const issue = async (jurisdictionId: string): Promise<string> => {
    const body = { ...issueBody(programme), yearOf: '2025-08-01', jurisdictionId };
    return (await made<{ id: string }>(api, '/diversion-reports', body, programme.people.coordinator.token))
      .id;
  };

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    reader = programme.people.municipalReader.token;
    await bringLoads(api, programme);
    own = await issue(programme.jurisdictions.larkHollow.id);
    foreign = await issue(programme.jurisdictions.thistleFord.id);
  });
  afterAll(() => api.stop());

  it('reads what was issued to the own jurisdiction, in every form', async () => {
    for (const file of FILES) {
      const answer = await get(`/diversion-reports/${own}${file}`);
      expect([file, answer.status, answer.bytes.length > 100]).toEqual([file, 200, true]);
    }
    const { items } = (await get('/diversion-reports')).body;
    expect(items.map(({ id }: { id: string }) => id)).toEqual([own]);
  });

  it('reads nothing of another, not even that it is there', async () => {
    for (const file of FILES) {
      const answer = await get(`/diversion-reports/${foreign}${file}`);
      expect([file, answer.status, answer.body.type]).toEqual([
        ...[file, 403, 'urn:heapwright:problem:other-jurisdiction'],
      ]);
    }
    const asked = await get(`/diversion-reports?jurisdictionId=${programme.jurisdictions.thistleFord.id}`);
    expect([asked.status, asked.body.items]).toEqual([200, []]);
    expect((await get(`/diversion-reports/${v7()}.json`)).status).toBe(404);
  });

  it('gets 403 on every other route that asks for a role, and issues nothing', async () => {
    const fill = ({ path }: Route) => path.replaceAll(/:\w+/g, () => own);
    let tried = 0;
    for (const route of routesOf(api.app)) {
      if (route.rule?.kind !== 'role' && route.rule?.kind !== 'device') continue;
      const body = route.method === 'GET' || route.method === 'DELETE' ? {} : { body: {} };
      const answer = await api.call(route.method, fill(route), { as: reader, ...body });
      expect([answer.status, answer.body.type], `${route.method} ${route.path}`).toEqual([
        ...[403, 'urn:heapwright:problem:not-allowed'],
      ]);
      tried += 1;
    }
    expect(tried).toBeGreaterThan(80);
    const again = await api.call('POST', `/diversion-reports/${own}/versions`, {
      ...{ as: reader, body: { reason: 'We would like another', password: PASSWORD } },
    });
    expect(again.status).toBe(403);
  });

  it('is the only one besides the coordinator who reads reports', async () => {
    const { volunteer, operator, manager } = programme.people;
    for (const { token } of [volunteer, operator, manager]) {
      for (const path of ['/diversion-reports', ...FILES.map((file) => `/diversion-reports/${own}${file}`)]) {
        const answer = await get(path, token);
        expect([path, answer.status, answer.body.type]).toEqual([
          path,
          403,
          'urn:heapwright:problem:not-allowed',
        ]);
      }
    }
  });

  it('of two jurisdictions reads those of both', async () => {
    const { larkHollow, thistleFord } = programme.jurisdictions;
    const grants = [larkHollow, thistleFord].map(({ id }) => ({
      role: 'municipal-reader',
      jurisdictionId: id,
    }));
    const both = await makePersona(api, 'Ida Fenn', grants);
    expect((await get('/diversion-reports', both.token)).body.items).toHaveLength(2);
    expect((await get(`/diversion-reports/${foreign}.json`, both.token)).status).toBe(200);
  });
});
