import { v7 } from 'uuid';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { codesOf, intakeRows, lotBody, pointersOf } from '../support/intake.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';

const lb = (value: number) => ({ value, unit: 'lb' });
const ago = (minutes: number) => new Date(Date.now() - minutes * 60_000).toISOString();

describe('shifts', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterAll(() => api.stop());

  const volunteer = () => programme.people.volunteer.token;
  const open = (body: object = {}, as = volunteer()) =>
    api.call('POST', '/shifts', {
      as,
      body: { id: v7(), siteId: programme.hub1.id, occurredAt: ago(90), ...body },
    });
  const close = (id: string, body: object, as = volunteer()) =>
    api.call('POST', `/shifts/${id}/close`, { as, body });
  const get = (id: string, as = volunteer()) => api.call('GET', `/shifts/${id}`, { as });
  const record = (changes: object) =>
    api.call('POST', '/drop-offs', {
      as: volunteer(),
      body: lotBody(programme, { occurredAt: ago(60), ...changes }),
    });

  afterEach(async () => {
    const { body } = await api.call('GET', '/shifts?open=true', { as: api.coordinator });
    for (const { id } of body.items) await close(id, { countedLots: 0 }, api.coordinator);
  });

  it('tells at opening what to see to under the permit, and nothing where there is room', async () => {
    const { hub2, permits } = programme;
    const id = v7();
    const first = await open({ id });
    expect([first.status, first.body.warnings]).toEqual([201, []]);
    await record({ shiftId: id, weight: { net: { value: 17, unit: 'kg' } } });
    await api.call('PATCH', `/permits/${permits.hub1.id}`, {
      ...{ as: api.coordinator, headers: { 'if-match': '"1"' } },
      body: { yearlyMassMax: { value: 20, unit: 'kg' } },
    });
    await close(id, { countedLots: 1 });
    const { body } = await open();
    expect(body.warnings).toEqual([
      { about: 'yearly-mass', text: '85 % is used: 17 kg of the 20 kg that the permit allows in a year.' },
    ]);
    expect((await get(body.id)).body).not.toHaveProperty('warnings');
    await api.call('PATCH', `/permits/${permits.hub1.id}`, {
      ...{ as: api.coordinator, headers: { 'if-match': '"2"' } },
      body: { yearlyMassMax: null },
    });
    const elsewhere = await open({ siteId: hub2.id }, api.coordinator);
    expect(elsewhere.body.warnings).toMatchObject([{ about: 'no-permit' }]);
  });

  it('adds up what came in, and tells at closing whether the count agrees', async () => {
    const { scale } = programme.instruments;
    const opened = await open({ instrumentId: scale.id, note: 'Rain' });
    expect([opened.status, opened.body]).toMatchObject([
      201,
      {
        ...{ lots: 0, refusals: 0, acceptedKg: 0, rejectedKg: 0, estimatedShare: null },
        ...{ closedAt: null, closedBy: null, countedLots: null, countAgrees: null },
        ...{ openedBy: programme.people.volunteer.id, instrumentId: scale.id, note: 'Rain' },
      },
    ]);
    const { id } = opened.body;
    const mine = { shiftId: id };
    const reject = { contaminant: 'glass', mass: { value: 1, unit: 'kg' }, wentTo: 'landfill' };
    await record({ ...mine, weight: { net: { value: 10, unit: 'kg' } }, rejects: [reject] });
    const volume = { value: 4, unit: 'L' };
    const estimated = await record({ ...mine, weight: undefined, volume });
    const voided = await record({ ...mine, weight: { net: lb(3) } });
    await api.call('POST', `/drop-offs/${voided.body.id}/void`, {
      as: volunteer(),
      body: { reason: 'Twice' },
    });
    await record({ weight: { net: lb(50) } });
    await made(
      api,
      '/refusals',
      { siteId: programme.hub1.id, shiftId: id, material: 'leaves', contaminant: 'glass', reason: 'Glass' },
      volunteer(),
    );

    const running = await get(id);
    const estimatedKg = estimated.body.netKg as number;
    expect(running.body).toMatchObject({ lots: 2, refusals: 1, rejectedKg: 1, countAgrees: null });
    expect(running.body.acceptedKg).toBeCloseTo(9 + estimatedKg, 6);
    expect(running.body.estimatedShare).toBeCloseTo(estimatedKg / (9 + estimatedKg), 9);

    const closed = await close(id, {
      countedLots: 3,
      note: 'One bucket more than written',
      occurredAt: ago(5),
    });
    expect([closed.status, closed.body]).toMatchObject([
      200,
      {
        ...{ lots: 2, countedLots: 3, countAgrees: false, closedBy: programme.people.volunteer.id },
        closingNote: 'One bucket more than written',
      },
    ]);
    // The missing one was on a second device; it comes in later, and is told of.
    const late = await record({ ...mine, weight: { net: lb(4) } });
    expect([late.status, codesOf(late)]).toEqual([201, ['shift-counted']]);
    expect((await get(id)).body).toMatchObject({ lots: 3, countedLots: 3, countAgrees: true });
    expect((await auditOf(api, 'shift.opened')).filter((row) => row.subjectId === id)).toHaveLength(1);
    const [line] = (await auditOf(api, 'shift.closed')).filter((row) => row.subjectId === id);
    expect(line).toMatchObject({ siteId: programme.hub1.id, detail: { countedLots: 3 } });
  });

  it('takes nothing after it was closed, nor what is of another site', async () => {
    const { body: shift } = await open();
    const body = lotBody(programme, { shiftId: shift.id, occurredAt: ago(30) });
    const first = await api.call('POST', '/drop-offs', { as: volunteer(), body });
    await close(shift.id, { countedLots: 1, occurredAt: ago(20) });
    const rows = await intakeRows(api);
    const late = await record({ shiftId: shift.id, occurredAt: ago(19) });
    expect([late.status, late.body.type]).toEqual([409, 'urn:heapwright:problem:shift-closed']);
    const refusal = {
      siteId: programme.hub1.id,
      shiftId: shift.id,
      material: 'leaves',
      contaminant: 'glass',
      reason: 'Glass',
    };
    expect((await api.call('POST', '/refusals', { as: volunteer(), body: refusal })).status).toBe(409);
    const elsewhere = await api.call('POST', '/drop-offs', {
      as: api.coordinator,
      body: lotBody(programme, { siteId: programme.hub2.id, shiftId: shift.id, weight: { net: lb(1) } }),
    });
    expect([elsewhere.status, ...pointersOf(elsewhere)]).toEqual([422, '/shiftId']);
    expect(await intakeRows(api)).toEqual(rows);
    const again = await api.call('POST', '/drop-offs', { as: volunteer(), body });
    expect([again.status, again.body]).toEqual([200, first.body]);
  });

  it('is open once a site', async () => {
    expect((await open()).status).toBe(201);
    const second = await open();
    expect([second.status, second.body.type]).toEqual([409, 'urn:heapwright:problem:shift-open']);
    expect((await open({ siteId: programme.hub2.id }, api.coordinator)).status).toBe(201);
    const yard = await open({ siteId: programme.yard1.id }, api.coordinator);
    expect([yard.status, ...pointersOf(yard)]).toEqual([422, '/siteId']);
  });

  it('is opened and closed once, however often that is sent', async () => {
    const body = { id: v7(), siteId: programme.hub1.id, occurredAt: ago(90) };
    const opened = await Promise.all([1, 2, 3, 4].map(() => open(body)));
    expect(opened.map(({ status }) => status).sort()).toEqual([200, 200, 200, 201]);
    expect((await open({ ...body, note: 'x' })).status).toBe(409);

    const closing = { countedLots: 0, occurredAt: ago(5) };
    const closed = await Promise.all([1, 2, 3].map(() => close(body.id, closing)));
    expect(closed.map(({ status }) => status)).toEqual([200, 200, 200]);
    for (const other of [
      { ...closing, countedLots: 1 },
      { ...closing, note: 'x' },
      { ...closing, occurredAt: ago(4) },
    ]) {
      expect((await close(body.id, other)).body.type).toBe('urn:heapwright:problem:shift-closed');
    }
    expect((await open(body)).status).toBe(200);
    expect((await auditOf(api, 'shift.closed')).filter((row) => row.subjectId === body.id)).toHaveLength(1);
  });

  it('is not closed before it was opened, nor without a count', async () => {
    const { body: shift } = await open({ occurredAt: ago(10) });
    expect(pointersOf(await close(shift.id, { countedLots: 1, occurredAt: ago(11) }))).toEqual([
      '/occurredAt',
    ]);
    expect(pointersOf(await close(shift.id, {}))).toEqual(['/countedLots']);
    expect(pointersOf(await close(shift.id, { countedLots: 1.5 }))).toEqual(['/countedLots']);
    expect((await get(shift.id)).body.closedAt).toBeNull();
  });

  it('shows a volunteer the open one and their own, and an operator all of the site', async () => {
    const { manager, otherManager, municipalReader } = programme.people;
    const { body: own } = await open();
    await close(own.id, { countedLots: 0 });
    const { body: others } = await open({}, manager.token);
    const listed = async (as: string, query = '') =>
      (await api.call('GET', `/shifts?limit=200${query}`, { as })).body.items.map(
        ({ id }: { id: string }) => id,
      );
    expect(await listed(volunteer())).toEqual(expect.arrayContaining([own.id, others.id]));
    await close(others.id, { countedLots: 0 }, manager.token);
    expect(await listed(volunteer())).not.toContain(others.id);
    expect((await get(others.id)).status).toBe(403);
    expect((await get(own.id)).status).toBe(200);
    expect(await listed(manager.token, `&siteId=${programme.hub1.id}&open=false`)).toEqual(
      expect.arrayContaining([own.id, others.id]),
    );
    expect(await listed(manager.token, '&open=true')).toEqual([]);
    expect(await listed(otherManager.token)).toEqual([]);
    expect((await get(own.id, otherManager.token)).status).toBe(403);
    expect((await api.call('GET', '/shifts', { as: municipalReader.token })).status).toBe(403);
  });

  it('pages them, newest first', async () => {
    const siteId = programme.hub2.id;
    const ids: string[] = [];
    for (const minutes of [60, 50, 40]) {
      const { body } = await open({ siteId, occurredAt: ago(minutes) }, api.coordinator);
      await close(body.id, { countedLots: 0, occurredAt: ago(minutes - 5) }, api.coordinator);
      ids.unshift(body.id);
    }
    const page = (cursor = '') =>
      api.call('GET', `/shifts?siteId=${siteId}&limit=2${cursor}`, { as: api.coordinator });
    const first = await page();
    expect(first.body.items.map(({ id }: { id: string }) => id)).toEqual(ids.slice(0, 2));
    const second = await page(`&cursor=${first.body.next}`);
    expect(second.body.items[0].id).toBe(ids[2]);
  });

  it.each([
    ['POST', '/shifts'],
    ['GET', '/shifts'],
    ['GET', `/shifts/${v7()}`],
    ['POST', `/shifts/${v7()}/close`],
  ])('lets nobody %s %s without a session', async (method, path) => {
    expect((await api.call(method, path)).status).toBe(401);
  });

  it('lets in who works at that hub', async () => {
    const { operator, otherManager, municipalReader } = programme.people;
    for (const { token } of [operator, otherManager, municipalReader])
      expect((await open({}, token)).status).toBe(403);
    const { body: shift } = await open();
    for (const { token } of [operator, otherManager, municipalReader]) {
      expect((await close(shift.id, { countedLots: 0 }, token)).status).toBe(403);
    }
    expect((await close(v7(), { countedLots: 0 })).status).toBe(404);
  });
});
