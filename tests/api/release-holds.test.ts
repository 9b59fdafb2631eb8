import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { makeCuring, maturity, permitTerms } from '../support/released.js';
import { made } from '../support/programme.js';
import { lotAtHub1, makeYard, putDistribution, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });

describe('holds', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let manager: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    manager = yard.manager.token;
    await made(api, '/permits', { siteId: yard.yard.id, ...permitTerms });
  });
  afterAll(() => api.stop());

  const post = (path: string, body: object = {}, as = manager) => api.call('POST', path, { as, body });
  const get = (path: string, as = yard.operator.token) => api.call('GET', path, { as });
  const hay = { reason: 'The hay that went in may carry herbicide' };
  const hold = (id: string, body: object = hay) => made(api, `/batches/${id}/holds`, body, manager);
  const releasable = async () => {
    const id = await makeCuring(api, programme, yard);
    await made(api, `/batches/${id}/samples`, maturity('passed'), manager);
    await made(api, `/batches/${id}/screenings`, { compost: kg(300), overs: kg(80) }, manager);
    return id;
  };
  const sign = (id: string) => post(`/batches/${id}/release`, { password: PASSWORD });
  const taken = { recipient: 'school', use: 'vegetable-beds', mass: kg(10) };
  const expectHeld = (answer: { status: number; body: { type: string } }) => {
    expect(answer.status).toBe(409);
    expect(answer.body.type).toBe('urn:heapwright:problem:batch-on-hold');
  };

  it('stop a release that is otherwise ready, and let it once lifted', async () => {
    const id = await releasable();
    expect((await get(`/batches/${id}/gates`)).body).toMatchObject({ releasable: true, hold: null });
    const { id: holdId, occurredAt } = await hold(id);
    const gates = (await get(`/batches/${id}/gates`)).body;
    expect(gates).toMatchObject({ releasable: false, hold: { id: holdId, since: occurredAt, ...hay } });
    expect(gates.gates.at(-1)).toMatchObject({ key: 'hold', state: 'unmet' });
    const readiness = (await get(`/batches/${id}/readiness`)).body;
    expect(readiness.notes[0]).toBe(`The batch is on hold, and nothing of it may leave: ${hay.reason}.`);
    expect(readiness.outlook).toMatchObject({ earliest: null, gates: [{ gate: 'hold', earliest: null }] });
    const refused = await sign(id);
    expectHeld(refused);
    expect(refused.body.detail).toContain(hay.reason);
    const lifted = await post(`/batches/${id}/holds/${holdId}/lift`, {
      reason: 'Bioassay: peas grew as the control',
    });
    expect(lifted.status).toBe(200);
    expect(lifted.body).toMatchObject({
      liftedBy: yard.manager.id,
      liftReason: 'Bioassay: peas grew as the control',
    });
    expect((await get(`/batches/${id}/gates`)).body).toMatchObject({ releasable: true, hold: null });
    expect((await sign(id)).status).toBe(201);
  });

  it('are gone past by no override', async () => {
    const id = await releasable();
    await hold(id);
    const overrides = [{ gate: 'hold', reason: 'The truck is waiting at the gate' }];
    expectHeld(await post(`/batches/${id}/release`, { password: PASSWORD, overrides }));
  });

  it('stop compost and overs from leaving, and let a mistake be taken back', async () => {
    const id = await releasable();
    expect((await sign(id)).status).toBe(201);
    const first = await made(api, `/batches/${id}/distributions`, taken, manager);
    const { id: holdId } = await hold(id);
    expectHeld(await post(`/batches/${id}/distributions`, taken));
    const later = (await yard.begin()) as { id: string };
    const overs = { from: 'overs', batchId: id, mass: kg(20) };
    expectHeld(await post(`/batches/${later.id}/amendments`, overs));
    const mistake = await post(`/batches/${id}/distributions/${first.id}/void`, {
      reason: 'Never left the yard',
    });
    expect(mistake.status).toBe(200);
    // What has left is told as before; whoever sends a kept record again is told that it is kept.
    expect((await get(`/batches/${id}/gates`)).body).toMatchObject({ hold: { id: holdId } });
    await post(`/batches/${id}/holds/${holdId}/lift`, { reason: 'Laboratory found none' });
    expect((await post(`/batches/${id}/distributions`, taken)).status).toBe(201);
    expect((await post(`/batches/${later.id}/amendments`, overs)).status).toBe(201);
  });

  it('are held by the database itself', async () => {
    const id = await releasable();
    await sign(id);
    await hold(id);
    const insert = putDistribution(api, yard.manager.id, id);
    await expect(insert).rejects.toMatchObject({ constraint: 'batch_on_hold' });
  });

  it('stand one at a time, and a second may follow when the first is lifted', async () => {
    const id = ((await yard.begin()) as { id: string }).id;
    const first = await hold(id);
    expectHeld(await post(`/batches/${id}/holds`, { reason: 'Another doubt' }));
    await post(`/batches/${id}/holds/${first.id}/lift`, { reason: 'Cleared by bioassay' });
    const second = await hold(id, { reason: 'Another doubt' });
    const { items } = (await get(`/batches/${id}/holds`)).body;
    expect(items.map((item: { id: string }) => item.id)).toEqual([second.id, first.id]);
    expect(items[1]).toMatchObject({ ...hay, liftReason: 'Cleared by bioassay' });
  });

  it('are kept once, however often they are sent', async () => {
    const id = ((await yard.begin()) as { id: string }).id;
    const body = { id: v7(), ...hay };
    const [one, other] = await Promise.all([
      post(`/batches/${id}/holds`, body),
      post(`/batches/${id}/holds`, body),
    ]);
    expect([one.status, other.status].sort()).toEqual([200, 201]);
    expect(one.body).toEqual(other.body);
    expect((await post(`/batches/${id}/holds`, { ...body, reason: 'Changed' })).status).toBe(409);
    const elsewhere = ((await yard.begin()) as { id: string }).id;
    expect((await post(`/batches/${elsewhere}/holds`, body)).status).toBe(409);
    const lift = (reason: string) => post(`/batches/${id}/holds/${body.id}/lift`, { reason });
    expect((await lift('Cleared by bioassay')).body).toEqual((await lift('Cleared by bioassay')).body);
    const tooLittle = await lift('x');
    expect([tooLittle.status, tooLittle.body.errors[0].pointer]).toEqual([422, '/reason']);
    expect((await lift('Another word')).status).toBe(409);
    expect(
      (await post(`/batches/${elsewhere}/holds/${body.id}/lift`, { reason: 'Cleared by bioassay' })).status,
    ).toBe(404);
    const told = (await auditOf(api, 'hold.recorded')).filter(({ subjectId }) => subjectId === body.id);
    expect(told).toMatchObject([
      { personId: yard.manager.id, siteId: yard.yard.id, detail: { batchId: id, ...hay } },
    ]);
    const liftTold = (await auditOf(api, 'hold.lifted')).filter(({ subjectId }) => subjectId === body.id);
    expect(liftTold).toMatchObject([{ detail: { batchId: id, reason: 'Cleared by bioassay' } }]);
  });

  it('let raw material go into the batch that is held', async () => {
    const id = ((await yard.begin()) as { id: string }).id;
    await hold(id);
    const lot = await lotAtHub1(api, programme, 5_000);
    expect((await post(`/batches/${id}/assignments`, { items: [{ dropOffId: lot }] })).status).toBe(201);
  });

  it('are for the manager of the yard, and say what is wrong', async () => {
    const id = ((await yard.begin()) as { id: string }).id;
    const path = `/batches/${id}/holds`;
    expect((await api.call('GET', path)).status).toBe(401);
    expect((await post(path, hay, yard.operator.token)).status).toBe(403);
    expect((await post(path, hay, programme.people.otherManager.token)).status).toBe(403);
    const bare = await post(path, {});
    expect(bare.status).toBe(422);
    expect(bare.body.errors).toMatchObject([{ pointer: '/reason' }]);
    const early = await post(path, { ...hay, occurredAt: '2026-01-01T00:00:00Z' });
    expect(early.body.errors).toMatchObject([{ pointer: '/occurredAt' }]);
    expect((await post(`${path}/${v7()}/lift`, { reason: 'Cleared by bioassay' })).status).toBe(404);
  });
});
