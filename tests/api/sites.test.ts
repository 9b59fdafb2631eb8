import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { makeProgramme, type Programme } from '../support/programme.js';

const NOBODY = '01900000-0000-7000-8000-000000000000';

describe('jurisdictions and sites', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterAll(() => api.stop());

  const post = (path: string, body: object, as = api.coordinator) => api.call('POST', path, { as, body });
  const patch = (path: string, version: number, body: object, as = api.coordinator) =>
    api.call('PATCH', path, { as, body, headers: { 'if-match': `"${version}"` } });
  const newSite = (body: object) => ({
    ...{ code: 'SR', name: 'Sorrel Row hub', takesDropOffs: true, runsBatches: false },
    ...{ timeZone: 'America/Denver', jurisdictionId: programme.jurisdictions.larkHollow.id },
    ...body,
  });
  const pointersOf = (answer: { body: { errors: { pointer: string }[] } }) =>
    answer.body.errors.map((fault) => fault.pointer).sort();

  it.each(['/jurisdictions', '/sites', '/materials', '/permits', '/containers', '/instruments'])(
    'lets nobody list %s without a session, nor a municipal reader',
    async (path) => {
      expect((await api.call('GET', path)).status).toBe(401);
      expect((await api.call('GET', path, { as: programme.people.municipalReader.token })).status).toBe(403);
    },
  );

  it.each(['/jurisdictions', '/sites', '/materials', '/permits'])(
    'lets no manager add to %s',
    async (path) => {
      expect((await api.call('POST', path, { body: {} })).status).toBe(401);
      const answer = await post(path, {}, programme.people.manager.token);
      expect(answer.body.type).toBe('urn:heapwright:problem:not-allowed');
    },
  );

  it.each(['/jurisdictions', '/sites', '/materials', '/permits', '/containers', '/instruments'])(
    'answers a cursor of %s that it did not make as bad input',
    async (path) => {
      for (const key of [['x'], ['x', 'y'], ['\u0000'], ['\u0000', '2026-01-01'], [NOBODY, '2026-02-31']]) {
        const cursor = Buffer.from(JSON.stringify(key)).toString('base64url');
        const { status } = await api.call('GET', `${path}?cursor=${cursor}`, { as: api.coordinator });
        expect([200, 422], `${path} ${JSON.stringify(key)}`).toContain(status);
      }
    },
  );

  it('pages the sites by code, without losing or repeating one', async () => {
    const first = await api.call('GET', '/sites?limit=3', { as: api.coordinator });
    const rest = await api.call('GET', `/sites?limit=3&cursor=${first.body.next as string}`, {
      as: api.coordinator,
    });
    const codes = [...first.body.items, ...rest.body.items].map((site: { code: string }) => site.code);
    expect(codes).toEqual(['MB', 'OC', 'QS', 'WG']);
    expect(rest.body.next).toBeNull();
  });

  it('shows the sites of one’s own roles, and no others', async () => {
    const { hub1, hub2, people } = programme;
    const codes = async (as: string) =>
      (await api.call('GET', '/sites', { as })).body.items.map((site: { code: string }) => site.code);
    expect(await codes(people.volunteer.token)).toEqual(['QS']);
    expect(await codes(people.manager.token)).toEqual(['MB', 'QS']);
    const one = (id: string) => api.call('GET', `/sites/${id}`, { as: people.volunteer.token });
    expect((await one(hub1.id)).body.code).toBe('QS');
    expect((await one(hub1.id.toUpperCase())).body.code).toBe('QS');
    const foreign = await one(hub2.id);
    expect([foreign.status, foreign.body.type]).toEqual([403, 'urn:heapwright:problem:other-site']);
    expect((await one('seven')).status).toBe(404);
    expect((await api.call('GET', `/sites/${NOBODY}`, { as: api.coordinator })).status).toBe(404);
  });

  it('adds and changes a jurisdiction against the version that was read', async () => {
    const body = { name: 'Village of Sorrel Row', reportingYearStart: '02-28' };
    const added = await post('/jurisdictions', body);
    expect(added.status).toBe(201);
    expect(added.body).toMatchObject({ ...body, version: 1 });
    expect((await post('/jurisdictions', body)).body.type).toBe('urn:heapwright:problem:taken');

    const path = `/jurisdictions/${added.body.id as string}`;
    const unconditional = await api.call('PATCH', path, { as: api.coordinator, body });
    expect(unconditional.status).toBe(428);
    expect((await patch(path, 2, { name: 'Sorrel Row' })).status).toBe(412);
    const changed = await patch(path, 1, { reportingYearStart: '10-01' });
    expect(changed.body).toMatchObject({ name: body.name, reportingYearStart: '10-01', version: 2 });
    expect(changed.headers.etag).toBe('"2"');
    expect((await patch(path, 1, { name: 'Too late' })).status).toBe(412);
    expect((await patch(`/jurisdictions/${NOBODY}`, 1, {})).status).toBe(404);

    const [line] = await auditOf(api, 'jurisdiction.changed');
    expect(line?.detail).toEqual({ reportingYearStart: { from: '02-28', to: '10-01' } });
  });

  it.each(['02-29', '02-30', '04-31', '13-01', '7-1', '00-10'])(
    'begins no reporting year on %s',
    async (reportingYearStart) => {
      const answer = await post('/jurisdictions', { name: 'Nowhere', reportingYearStart });
      expect(answer.status).toBe(422);
      expect(pointersOf(answer)).toEqual(['/reportingYearStart']);
    },
  );

  it('keeps bays in ground order, with what was typed, and adds one after the last', async () => {
    const bays = [{ code: 'C9', capacity: { value: 3, unit: 'yd3' } }, { code: 'C1' }];
    const added = await post('/sites', newSite({ code: 'CY', runsBatches: true, bays }));
    expect(added.status).toBe(201);
    // 3 yd³ of 764.554857984 L, NIST Handbook 44, Appendix C.
    expect(added.body.bays[0]).toMatchObject({
      code: 'C9',
      capacityL: 2293.665,
      entered: { capacity: { value: 3, unit: 'yd3' } },
    });
    expect(added.body.bays[1]).toMatchObject({ code: 'C1', capacityL: null, entered: {} });

    const path = `/sites/${added.body.id as string}`;
    const more = await post(`${path}/bays`, { code: 'C5' });
    expect(more.status).toBe(201);
    const read = await api.call('GET', path, { as: api.coordinator });
    expect(read.body.bays.map((bay: { code: string }) => bay.code)).toEqual(['C9', 'C1', 'C5']);
    expect(read.headers.etag).toBe(more.headers.etag);
    expect((await post(`${path}/bays`, { code: 'C1' })).body.type).toBe('urn:heapwright:problem:taken');
    expect((await post(`/sites/${NOBODY}/bays`, { code: 'C1' })).status).toBe(404);
    expect((await post(`${path}/bays`, { code: 'C2' }, programme.people.manager.token)).status).toBe(403);
  });

  it('gives bays that are added at one moment different places', async () => {
    const { id } = (await post('/sites', newSite({ code: 'CC', runsBatches: true }))).body as { id: string };
    const codes = ['Z', 'Y', 'X', 'W'];
    const answers = await Promise.all(codes.map((code) => post(`/sites/${id}/bays`, { code })));
    expect(answers.map((answer) => answer.status)).toEqual([201, 201, 201, 201]);
    const read = await api.call('GET', `/sites/${id}`, { as: api.coordinator });
    expect(read.body.bays.map((bay: { code: string }) => bay.code).sort()).toEqual([...codes].sort());
    expect(read.body.version).toBe(5);
  });

  it('changes a site, and clears its first day', async () => {
    const { id } = (await post('/sites', newSite({ openedOn: '2026-02-28' }))).body as { id: string };
    const changed = await patch(`/sites/${id}`, 1, {
      ...{ name: 'Sorrel Row', runsBatches: true, takesDropOffs: false },
      ...{ openedOn: null, timeZone: 'Europe/Lisbon' },
    });
    expect(changed.body).toMatchObject({
      ...{ name: 'Sorrel Row', runsBatches: true, takesDropOffs: false },
      ...{ openedOn: null, timeZone: 'Europe/Lisbon', version: 2 },
    });
    const idle = await patch(`/sites/${id}`, 2, { runsBatches: false });
    expect(idle.status).toBe(422);
    const unchanged = await api.call('GET', `/sites/${id}`, { as: api.coordinator });
    expect(unchanged.body.version).toBe(2);
  });

  it.each([
    [{ timeZone: 'America/Larkhollow' }, '/timeZone'],
    [{ timeZone: 'america/denver' }, '/timeZone'],
    [{ timeZone: '+05:00' }, '/timeZone'],
    [{ jurisdictionId: NOBODY }, '/jurisdictionId'],
    [{ takesDropOffs: false }, '/takesDropOffs'],
    [{ openedOn: '2026-02-30' }, '/openedOn'],
    [{ openedOn: null }, '/openedOn'],
    [{ code: 'qs' }, '/code'],
    [{ bays: [{ code: 'A' }, { code: 'A' }] }, '/bays/1/code'],
    [{ bays: [{ code: 'A', capacity: { value: 0, unit: 'L' } }] }, '/bays/0/capacity'],
    [{ bays: [{ code: 'A', capacity: { value: 201, unit: 'm3' } }] }, '/bays/0/capacity'],
    [{ hat: 1 }, '/hat'],
  ])('refuses %j at its place, and keeps nothing', async (wrong, pointer) => {
    const answer = await post('/sites', newSite({ code: 'NOPE', ...wrong }));
    expect(answer.status).toBe(422);
    expect(pointersOf(answer)).toEqual([pointer]);
    const list = await api.call('GET', '/sites?limit=200', { as: api.coordinator });
    expect(list.body.items.map((site: { code: string }) => site.code)).not.toContain('NOPE');
  });

  it.each(['UTC', 'Asia/Kolkata', 'America/Denver', 'Pacific/Auckland'])(
    'knows the zone %s',
    async (timeZone) => {
      const code = timeZone.replace(/[^A-Z]/g, '');
      expect((await post('/sites', newSite({ code, timeZone }))).status).toBe(201);
    },
  );

  it('refuses a second site of the same code', async () => {
    const answer = await post('/sites', newSite({ code: 'QS' }));
    expect(answer.status).toBe(409);
  });
});
