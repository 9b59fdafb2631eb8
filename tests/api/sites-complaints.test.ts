import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { made, makePersona, makeProgramme, type Programme } from '../support/programme.js';

interface Complaint {
  id: string;
  actions: { done: string }[];
}

describe('complaints', () => {
  let api: TestApi;
  let programme: Programme;
  let operator: string;
  let manager: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    const at = (role: string) => [{ role, siteId: programme.yard1.id }];
    operator = (await makePersona(api, 'Ola Brink', at('operator'))).token;
    manager = (await makePersona(api, 'Mara Sund', at('manager'))).token;
  });
  afterAll(() => api.stop());

  const body = (more: object = {}) => ({
    ...{ siteId: programme.yard1.id, kind: 'odour', about: 'Rotten smell over the fence' },
    ...more,
  });
  const post = (path: string, sent: object, as = operator) => api.call('POST', path, { as, body: sent });
  const tell = (more: object = {}) => made<Complaint>(api, '/complaints', body(more), operator);

  it('keeps what was complained of and, in its order, what was done', async () => {
    const occurredAt = '2026-05-02T12:00:00.000Z';
    const { id } = await tell({ occurredAt });
    const path = `/complaints/${id}/actions`;
    await post(path, { occurredAt: '2026-05-04T08:00:00Z', done: 'Asked the neighbour: no smell since' });
    const second = await post(path, { occurredAt: '2026-05-02T15:00:00Z', done: 'Covered with chips' });
    expect(second.status).toBe(201);
    const { body: kept } = await api.call('GET', `/complaints/${id}`, { as: operator });
    expect(kept).toMatchObject({ id, occurredAt, ...body(), voidedAt: null, voidReason: null });
    expect(kept.actions).toMatchObject([
      { occurredAt: '2026-05-02T15:00:00.000Z', done: 'Covered with chips' },
      { occurredAt: '2026-05-04T08:00:00.000Z', done: 'Asked the neighbour: no smell since' },
    ]);
    expect(second.body).toEqual(kept);
    const lines = (await auditOf(api, 'complaint.acted-on')).filter(({ subjectId }) => subjectId === id);
    expect(lines).toHaveLength(2);
  });

  it('is the same complaint and the same action when sent again, and another under that id is refused', async () => {
    const sent = { ...body(), id: v7() };
    expect((await post('/complaints', sent)).status).toBe(201);
    expect((await post('/complaints', sent)).status).toBe(200);
    expect((await post('/complaints', { ...sent, kind: 'noise' })).body.type).toMatch(/other-body$/);
    const action = { id: v7(), done: 'Turned it' };
    const path = `/complaints/${sent.id}/actions`;
    const [one, other] = await Promise.all([post(path, action), post(path, action)]);
    expect([one.status, other.status].sort()).toEqual([200, 201]);
    const again = await post(path, action);
    expect([again.status, again.body.actions.length]).toEqual([200, 1]);
    expect((await post(path, { ...action, done: 'Nothing' })).body.type).toMatch(/other-body$/);
    const { id } = await tell();
    expect((await post(`/complaints/${id}/actions`, action)).body.type).toMatch(/other-body$/);
  });

  it('is taken back by a manager, with a reason, and nothing is done about it then', async () => {
    const { id } = await tell();
    const path = `/complaints/${id}/void`;
    expect((await post(path, { reason: 'Entered twice' })).status).toBe(403);
    const voided = await post(path, { reason: 'Entered twice' }, manager);
    expect([voided.status, voided.body.voidReason]).toEqual([200, 'Entered twice']);
    expect((await post(path, { reason: 'Entered twice' }, manager)).status).toBe(200);
    expect((await post(path, { reason: 'Other' }, manager)).status).toBe(409);
    const late = await post(`/complaints/${id}/actions`, { done: 'Turned it' });
    expect([late.status, late.body.detail]).toEqual([409, 'The complaint is voided.']);
  });

  it('lists those of one’s sites, newest first, page by page, and between two moments', async () => {
    const year = '2024';
    const days = ['03-01', '03-02', '03-03'];
    for (const day of days) await tell({ occurredAt: `${year}-${day}T10:00:00Z`, about: day });
    const aboutsOf = async (query: string) => {
      const { body: page } = await api.call('GET', `/complaints?${query}`, { as: operator });
      return { abouts: page.items.map((item: { about: string }) => item.about), next: page.next as string };
    };
    const within = `from=${year}-03-01T00:00:00Z&to=${year}-03-03T00:00:00Z`;
    expect((await aboutsOf(within)).abouts).toEqual(['03-02', '03-01']);
    const first = await aboutsOf(`to=${year}-12-31T00:00:00Z&limit=2`);
    expect(first.abouts).toEqual(['03-03', '03-02']);
    const rest = await aboutsOf(`to=${year}-12-31T00:00:00Z&limit=2&cursor=${first.next}`);
    expect(rest).toEqual({ abouts: ['03-01'], next: null });
    expect((await aboutsOf(`siteId=${programme.yard2.id}`)).abouts).toEqual([]);
  });

  it.each([
    [{ kind: 'smell' }, '/kind'],
    [{ about: ' ' }, '/about'],
    [{ siteId: undefined }, '/siteId'],
    [{ occurredAt: '2999-01-01T00:00:00Z' }, '/occurredAt'],
    [{ who: 'the neighbour' }, '/who'],
  ])('refuses %o', async (wrong, pointer) => {
    const { status, body: problem } = await post('/complaints', body(wrong), api.coordinator);
    expect([status, problem.errors[0].pointer]).toEqual([422, pointer]);
  });

  it('refuses an action before what was complained of, and sites of others', async () => {
    const { id } = await tell({ occurredAt: '2026-05-02T12:00:00Z' });
    const early = await post(`/complaints/${id}/actions`, { occurredAt: '2026-05-02T11:59:00Z', done: 'x' });
    expect([early.status, early.body.errors[0].pointer]).toEqual([422, '/occurredAt']);
    expect((await post('/complaints', body({ siteId: programme.yard2.id }))).status).toBe(403);
    expect((await api.call('GET', '/complaints')).status).toBe(401);
  });
});
