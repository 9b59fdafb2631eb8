import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { v7 } from 'uuid';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';

const g = (value: number) => ({ value, unit: 'g' });

describe('a hub without a scale', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterAll(() => api.stop());

  const post = (path: string, body: unknown) => api.call('POST', path, { as: api.coordinator, body });
  const get = (path: string) => api.call('GET', path, { as: api.coordinator });
  const refusal = ({ status, body }: any) => [
    status,
    body.type.replace('urn:heapwright:problem:', ''),
    body.errors.map(({ pointer }: { pointer: string }) => pointer),
  ];

  it('counts lots in full containers of known volume', async () => {
    const { bucket } = programme.containers;
    const entry = {
      ...{ siteId: programme.hub1.id, material: 'food-scraps', depositor: 'school' },
      containers: { containerId: bucket.id, count: 2.5 },
    };
    const answer = await post('/drop-offs', entry);
    expect(answer.status).toBe(201);
    // 5 gal = 18 927.058 92 mL, kept as 18 927: NIST Handbook 44, Appendix C.
    expect(answer.body).toMatchObject({
      ...{ basis: 'volume', volumeL: 47.318, containerId: bucket.id, grossKg: null, warnings: [] },
      entered: { containers: entry.containers },
    });
    const { typical } = (await get('/materials/food-scraps')).body.bulkDensityKgM3;
    expect(answer.body.netKg).toBeCloseTo((47.318 * typical) / 1000, 2);
    const flat = await made(api, '/containers', { siteId: programme.hub1.id, code: 'F-1', tare: g(900) });
    const { tote } = programme.containers;
    const cases: [object, string][] = [
      [{ containers: { containerId: flat.id, count: 1 } }, '/containers/containerId'],
      [{ containers: { containerId: tote.id, count: 1 } }, '/containers/containerId'],
      [{ containers: { containerId: v7(), count: 1 } }, '/containers/containerId'],
      [{ containers: { containerId: bucket.id, count: 0 } }, '/containers'],
      [{ weight: { net: g(100) } }, '/containers'],
      [{ volume: { value: 5, unit: 'L' } }, '/volume'],
    ];
    for (const [changes, pointer] of cases) {
      expect(refusal(await post('/drop-offs', { ...entry, ...changes }))).toEqual([
        422,
        'invalid',
        [pointer],
      ]);
    }
    // A bucket that is measured anew since does not change a lot of the day.
    const read = await get(`/containers/${bucket.id}`);
    const changed = await api.call('PATCH', `/containers/${bucket.id}`, {
      as: api.coordinator,
      body: { volume: { value: 6, unit: 'gal' } },
      headers: { 'if-match': String(read.headers['etag']) },
    });
    expect(changed.status).toBe(200);
    const { occurredAt, jurisdictionId } = answer.body;
    const stated = {
      ...entry,
      siteId: undefined,
      occurredAt,
      jurisdictionId,
      rejects: [],
      reason: 'The wrong count',
    };
    const corrected = await post(`/drop-offs/${answer.body.id}/corrections`, {
      ...stated,
      containers: { ...entry.containers, count: 5 },
    });
    expect(corrected.body.volumeL).toBeCloseTo(94.636, 2);
  });
});
