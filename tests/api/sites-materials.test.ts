import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startingMaterials } from '#libs/materials';
import { createApp } from '../../apps/api/app.js';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { freshDatabase } from '../support/database.js';
import { makePersona } from '../support/programme.js';

describe('materials', () => {
  let api: TestApi;
  beforeAll(async () => {
    api = await startApi();
  });
  afterAll(() => api.stop());

  const post = (body: object) => api.call('POST', '/materials', { as: api.coordinator, body });
  const patch = (code: string, version: number, body: object) =>
    api.call('PATCH', `/materials/${code}`, {
      as: api.coordinator,
      body,
      headers: { 'if-match': `"${version}"` },
    });

  it('starts with the list of the library, figure for figure', async () => {
    const { body } = await api.call('GET', '/materials?limit=200', { as: api.coordinator });
    const expected = startingMaterials
      .map((material) => ({ caution: null, ...material, retired: false, version: 1 }))
      .sort((a, b) => (a.code < b.code ? -1 : 1));
    expect(body.items).toEqual(expected);
    expect(body.next).toBeNull();
  });

  it('adds a material of the programme’s own, whose figures are its own word', async () => {
    const answer = await post({
      ...{ code: 'brewers-grain', name: 'Brewer’s grain', class: 'nitrogen', moisturePercent: 78.5 },
      source: 'Weighed at the hub, 12 buckets, May 2026',
    });
    expect(answer.status).toBe(201);
    expect(answer.body).toMatchObject({
      ...{ code: 'brewers-grain', moisturePercent: 78.5, carbonToNitrogen: null, bulkDensityKgM3: null },
      ...{ verification: 'local', retired: false, version: 1 },
    });
    const again = await post({ code: 'leaves', name: 'Leaves', class: 'carbon', source: 'none' });
    expect(again.body.type).toBe('urn:heapwright:problem:taken');
  });

  it('changes a figure only together with where it comes from, and then as its own word', async () => {
    const silent = await patch('food-scraps', 1, { bulkDensityKgM3: 500 });
    expect(silent.status).toBe(422);
    expect(silent.body.errors[0].pointer).toBe('/source');
    const source = 'Weighed at the hub, 40 totes';
    const changed = await patch('food-scraps', 1, { bulkDensityKgM3: 500, source });
    expect(changed.body).toMatchObject({ bulkDensityKgM3: 500, source, verification: 'local', version: 2 });
    expect((await patch('food-scraps', 1, { name: 'Scraps' })).status).toBe(412);
    const renamed = await patch('leaves', 1, { name: 'Leaves of any tree' });
    const before = startingMaterials.find(({ code }) => code === 'leaves');
    expect(renamed.body).toMatchObject({
      name: 'Leaves of any tree',
      verification: before!.verification,
      source: before!.source,
    });
  });

  it('retires a material, and brings it back', async () => {
    const retired = await patch('wood-ash', 1, { retired: true });
    expect(retired.body).toMatchObject({ retired: true, version: 2 });
    const back = await patch('wood-ash', 2, { retired: false });
    expect(back.body).toMatchObject({ retired: false, version: 3 });
    const details = (await auditOf(api, 'material.changed')).filter(
      ({ subjectId }) => subjectId === 'wood-ash',
    );
    expect(details.map(({ detail }) => detail)).toEqual([
      { retired: { from: false, to: true } },
      { retired: { from: true, to: false } },
    ]);
  });

  it.each([
    [{ code: 'Food scraps' }, '/code'],
    [{ class: 'green' }, '/class'],
    [{ nitrogenPercentDry: 101 }, '/nitrogenPercentDry'],
    [{ carbonToNitrogen: 0 }, '/carbonToNitrogen'],
    [{ moisturePercent: '70' }, '/moisturePercent'],
    [{ source: '' }, '/source'],
    [{ verification: 'verified' }, '/verification'],
  ])('refuses %j at its place', async (wrong, pointer) => {
    const answer = await post({ code: 'nope', name: 'Nope', class: 'carbon', source: 'none', ...wrong });
    expect(answer.status).toBe(422);
    expect(answer.body.errors.map((fault: { pointer: string }) => fault.pointer)).toEqual([pointer]);
    expect((await api.call('GET', '/materials/nope', { as: api.coordinator })).status).toBe(404);
  });

  it.each(['no-such', '%00', 'x'.repeat(90)])('knows no material %s', async (code) => {
    const { status } = await api.call('GET', `/materials/${code}`, { as: api.coordinator });
    expect([404, 422]).toContain(status);
  });

  it('lets managers read and not change', async () => {
    const { body: town } = await api.call('POST', '/jurisdictions', {
      as: api.coordinator,
      body: { name: 'Town of Lark Hollow', reportingYearStart: '07-01' },
    });
    const { body: site } = await api.call('POST', '/sites', {
      as: api.coordinator,
      body: {
        ...{ code: 'QS', name: 'Quill Street hub', takesDropOffs: true, runsBatches: false },
        ...{ timeZone: 'America/Denver', jurisdictionId: town.id },
      },
    });
    const manager = await makePersona(api, 'Maud Ferrier', [{ role: 'manager', siteId: site.id }]);
    expect((await api.call('GET', '/materials/leaves', { as: manager.token })).status).toBe(200);
    const options = { as: manager.token, body: { retired: true }, headers: { 'if-match': '"1"' } };
    expect((await api.call('PATCH', '/materials/leaves', options)).status).toBe(403);
    expect((await api.call('PATCH', '/materials/leaves', { body: {} })).status).toBe(401);
  });
});

describe('the starting list', () => {
  it('is loaded once, however many processes start at one moment, and never again', async () => {
    const database = await freshDatabase();
    const settings = {
      ...{ databaseUrl: database.url, port: 0, host: '127.0.0.1', poolSize: 2 },
      ...{
        firstEmail: '',
        firstName: '',
        firstPassword: '',
        trustedProxies: ['loopback'],
        programme: 'Lark Hollow Compost',
      },
    };
    const apps = await Promise.all([1, 2, 3].map(() => createApp(settings, ['error'])));
    apps.push(await createApp(settings, ['error']));
    const [app] = apps;
    const lines = await auditOf({ app: app! }, 'materials.loaded');
    await Promise.all(apps.map((each) => each.close()));
    await database.drop();
    expect(lines).toMatchObject([{ personId: null, detail: { count: startingMaterials.length } }]);
  });
});
