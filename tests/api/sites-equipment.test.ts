import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { v7 } from 'uuid';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';

const NOBODY = '01900000-0000-7000-8000-000000000000';
const DAY_MS = 86_400_000;

describe('containers and instruments', () => {
  let api: TestApi;
  let programme: Programme;
  let manager: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    manager = programme.people.manager.token;
  });
  afterAll(() => api.stop());

  const post = (path: string, body: object, as = manager) => api.call('POST', path, { as, body });
  const patch = (path: string, version: number, body: object, as = manager) =>
    api.call('PATCH', path, { as, body, headers: { 'if-match': `"${version}"` } });
  const ago = (days: number) => new Date(Date.now() - days * DAY_MS).toISOString();

  it('keeps the tare in grams and as it was typed', async () => {
    const { bucket } = programme.containers;
    const read = await api.call('GET', `/containers/${bucket.id}`, { as: programme.people.volunteer.token });
    // 2.1 lb of 453.59237 g and 5 gal of 3.785411784 L, NIST Handbook 44, Appendix C.
    expect(read.body).toMatchObject({
      ...{ tareKg: 0.953, volumeL: 18.927, retired: false, version: 1 },
      entered: { tare: { value: 2.1, unit: 'lb' }, volume: { value: 5, unit: 'gal' } },
    });
  });

  it('changes and retires a container, and tells the old tare in the audit trail', async () => {
    const container = { siteId: programme.hub1.id, code: 'B-08', tare: { value: 1, unit: 'kg' } };
    const added = await post('/containers', container);
    expect(added.status).toBe(201);
    const path = `/containers/${added.body.id as string}`;
    const changed = await patch(path, 1, { tare: { value: 1100, unit: 'g' }, retired: true });
    expect(changed.body).toMatchObject({ tareKg: 1.1, retired: true, volumeL: null, version: 2 });
    expect(changed.body.entered).toEqual({ tare: { value: 1100, unit: 'g' } });
    expect((await patch(path, 1, { retired: false })).status).toBe(412);
    expect((await api.call('PATCH', path, { as: manager, body: {} })).status).toBe(428);
    const [line] = await auditOf(api, 'container.changed');
    expect(line).toMatchObject({
      ...{ personId: programme.people.manager.id, siteId: programme.hub1.id },
      detail: { tareKg: { from: 1, to: 1.1 }, retired: { from: false, to: true } },
    });
    expect((await post('/containers', container)).body.type).toBe('urn:heapwright:problem:taken');
  });

  it.each(['/containers', '/instruments'])('lets only a manager of the site add to %s', async (path) => {
    const { volunteer, operator, otherManager } = programme.people;
    const body = { siteId: programme.hub1.id };
    expect((await api.call('POST', path, { body })).status).toBe(401);
    expect((await post(path, body, volunteer.token)).body.type).toBe('urn:heapwright:problem:not-allowed');
    expect((await post(path, body, operator.token)).body.type).toBe('urn:heapwright:problem:not-allowed');
    expect((await post(path, body, otherManager.token)).body.type).toBe('urn:heapwright:problem:other-site');
    expect((await post(path, { siteId: 'here' })).status).toBe(422);
  });

  it.each(['/containers', '/instruments'])('lists of %s what is at one’s own sites', async (path) => {
    const sitesSeen = async (token: string, query = '') => {
      const { body } = await api.call('GET', `${path}?limit=200${query}`, { as: token });
      return [...new Set((body.items as { siteId: string }[]).map((thing) => thing.siteId))].sort();
    };
    const { hub1, yard1 } = programme;
    const { volunteer, operator, otherManager } = programme.people;
    expect(await sitesSeen(volunteer.token)).toEqual([hub1.id]);
    expect(await sitesSeen(operator.token)).toEqual([yard1.id]);
    expect(await sitesSeen(otherManager.token)).toEqual([]);
    expect(await sitesSeen(api.coordinator)).toEqual([hub1.id, yard1.id].sort());
    expect(await sitesSeen(api.coordinator, `&siteId=${yard1.id}`)).toEqual([yard1.id]);
    expect(await sitesSeen(volunteer.token, `&siteId=${yard1.id}`)).toEqual([]);
  });

  it.each(['/containers', '/instruments'])('pages %s by site and code', async (path) => {
    const all = await api.call('GET', `${path}?limit=200`, { as: api.coordinator });
    const first = await api.call('GET', `${path}?limit=1`, { as: api.coordinator });
    const rest = await api.call('GET', `${path}?limit=200&cursor=${first.body.next as string}`, {
      as: api.coordinator,
    });
    expect([...first.body.items, ...rest.body.items]).toEqual(all.body.items);
    expect(rest.body.items.length).toBe(all.body.items.length - 1);
  });

  it('shows a thing of another site to nobody from elsewhere', async () => {
    for (const path of [
      `/containers/${programme.containers.bucket.id}`,
      `/instruments/${programme.instruments.scale.id}`,
      `/instruments/${programme.instruments.scale.id}/verifications`,
    ]) {
      expect((await api.call('GET', path)).status).toBe(401);
      const answer = await api.call('GET', path, { as: programme.people.operator.token });
      expect(answer.body.type).toBe('urn:heapwright:problem:other-site');
      expect((await api.call('GET', path.replace(/[0-9a-f-]{36}/, NOBODY), { as: manager })).status).toBe(
        404,
      );
    }
  });

  it.each([
    ['/containers', { siteId: NOBODY, code: 'X', tare: { value: 1, unit: 'kg' } }, '/siteId'],
    ['/containers', { code: 'X', tare: { value: -1, unit: 'kg' } }, '/tare/value'],
    ['/containers', { code: 'X' }, '/tare'],
    [
      '/containers',
      { code: 'X', tare: { value: 1, unit: 'kg' }, volume: { value: 0, unit: 'L' } },
      '/volume',
    ],
    ['/containers', { code: ' X', tare: { value: 1, unit: 'kg' } }, '/code'],
    ['/instruments', { siteId: NOBODY, code: 'X', kind: 'scale' }, '/siteId'],
    ['/instruments', { code: 'X', kind: 'clock' }, '/kind'],
    ['/instruments', { code: 'X', kind: 'scale', resolution: { value: 1, unit: 'F' } }, '/resolution'],
    ['/instruments', { code: 'X', kind: 'thermometer', division: { value: 1, unit: 'g' } }, '/division'],
    ['/instruments', { code: 'X', kind: 'scale', division: { value: 0, unit: 'g' } }, '/division'],
    [
      '/instruments',
      { code: 'X', kind: 'thermometer', resolution: { value: 0.01, unit: 'F' } },
      '/resolution',
    ],
    ['/instruments', { code: 'X', kind: 'scale', verifyEveryDays: 0 }, '/verifyEveryDays'],
  ])('%s refuses %j', async (path, wrong, pointer) => {
    const answer = await post(path, { siteId: programme.hub1.id, ...wrong }, api.coordinator);
    expect(answer.status).toBe(422);
    expect(answer.body.errors.map((fault: { pointer: string }) => fault.pointer)).toEqual([pointer]);
  });

  it('keeps the division and the resolution in metric, and as they were typed', async () => {
    const { scale, thermometer } = programme.instruments;
    const read = (id: string) => api.call('GET', `/instruments/${id}`, { as: manager });
    expect((await read(scale.id)).body).toMatchObject({
      ...{ kind: 'scale', divisionG: 45.35924, resolutionC: null },
      entered: { division: { value: 0.1, unit: 'lb' } },
    });
    // A step of 1 °F is 5/9 °C, kept in tenths.
    expect((await read(thermometer.id)).body).toMatchObject({
      ...{ kind: 'thermometer', divisionG: null, resolutionC: 0.6, verifyEveryDays: null },
      ...{ verificationDueOn: null, verificationOverdue: false, lastVerification: null },
    });
  });

  it('says when a scale is to be verified, by its log', async () => {
    const { id } = await made<{ id: string }>(api, '/instruments', {
      ...{ siteId: programme.hub1.id, code: 'S-2', kind: 'scale', verifyEveryDays: 90 },
    });
    const state = async () => {
      const { body } = await api.call('GET', `/instruments/${id}`, { as: manager });
      return [body.verificationDueOn, body.verificationOverdue] as unknown[];
    };
    const verify = (occurredAt: string, passed = true) =>
      post(`/instruments/${id}/verifications`, { occurredAt, passed, reference: '10 kg test mass' });
    const dayIn = (ms: number) => new Date(ms).toLocaleDateString('sv-SE', { timeZone: 'America/Denver' });

    expect(await state()).toEqual([null, true]);
    expect((await verify(ago(120))).status).toBe(201);
    expect((await state())[1]).toBe(true);
    await verify(ago(10));
    const [dueOn, overdue] = await state();
    expect(overdue).toBe(false);
    expect(Date.parse(String(dueOn)) - Date.parse(dayIn(Date.now() - 10 * DAY_MS))).toBe(90 * DAY_MS);
    await verify(ago(100), false);
    expect(await state()).toEqual([dueOn, false]);
    await verify(ago(1), false);
    expect(await state()).toEqual([dayIn(Date.now() - DAY_MS), true]);
    const retired = await patch(`/instruments/${id}`, 1, { retired: true });
    expect(retired.body.verificationOverdue).toBe(false);
  });

  it('adds a verification once, however often it is sent', async () => {
    const path = `/instruments/${programme.instruments.scale.id}/verifications`;
    const body = { id: v7(), occurredAt: ago(2), passed: true, reference: '10 kg test mass, shown 10.0' };
    const together = await Promise.all([post(path, body), post(path, body), post(path, body)]);
    expect(together.map((answer) => answer.status).sort()).toEqual([200, 200, 201]);
    expect(new Set(together.map((answer) => answer.text)).size).toBe(1);
    for (const other of [
      { passed: false },
      { reference: 'another' },
      { note: 'more' },
      { occurredAt: ago(3) },
    ]) {
      const answer = await post(path, { ...body, ...other });
      expect(answer.body.type).toBe('urn:heapwright:problem:other-body');
    }
    const elsewhere = `/instruments/${programme.instruments.thermometer.id}/verifications`;
    expect((await post(elsewhere, body)).status).toBe(409);
    const log = await api.call('GET', path, { as: programme.people.volunteer.token });
    expect(log.body.items).toHaveLength(1);
    expect(log.body.items[0]).toMatchObject({
      ...{ id: body.id, passed: true, note: null, recordedBy: programme.people.manager.id },
    });
    const lines = (await auditOf(api, 'instrument.verified')).filter(
      ({ detail }) => detail['verificationId'] === body.id,
    );
    expect(lines).toHaveLength(1);
  });

  it('takes a verification sent again without a time of its own', async () => {
    const path = `/instruments/${programme.instruments.thermometer.id}/verifications`;
    const body = { id: v7(), passed: true, reference: 'ice water, shown 32 °F' };
    expect((await post(path, body)).status).toBe(201);
    expect((await post(path, body)).status).toBe(200);
  });

  it('lists the log newest first, by pages', async () => {
    const { id } = await made<{ id: string }>(api, '/instruments', {
      ...{ siteId: programme.yard1.id, code: 'P-2', kind: 'thermometer' },
    });
    const path = `/instruments/${id}/verifications`;
    const sameTime = ago(5);
    for (const occurredAt of [ago(9), sameTime, sameTime, ago(1)]) {
      await post(path, { occurredAt, passed: true, reference: 'boiling water' });
    }
    const all = await api.call('GET', path, { as: manager });
    const times = all.body.items.map((line: { occurredAt: string }) => line.occurredAt);
    expect(times).toEqual([...times].sort().reverse());
    const first = await api.call('GET', `${path}?limit=2`, { as: manager });
    const rest = await api.call('GET', `${path}?limit=2&cursor=${first.body.next as string}`, {
      as: manager,
    });
    expect([...first.body.items, ...rest.body.items]).toEqual(all.body.items);
    expect(rest.body.next).toBeNull();
    const forged = Buffer.from(JSON.stringify(['2026-02-31T00:00:00Z', 'x'])).toString('base64url');
    expect((await api.call('GET', `${path}?cursor=${forged}`, { as: manager })).status).toBe(422);
  });

  it('lets no operator verify, and nothing happen in the future', async () => {
    const path = `/instruments/${programme.instruments.thermometer.id}/verifications`;
    const body = { passed: true, reference: 'boiling water' };
    expect((await post(path, body, programme.people.operator.token)).status).toBe(403);
    const ahead = await post(path, { ...body, occurredAt: ago(-1) });
    expect(ahead.body.errors[0].pointer).toBe('/occurredAt');
  });
});
