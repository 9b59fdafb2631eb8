import { v7 } from 'uuid';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { Clock } from '../../apps/api/http/clock.js';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { intakeRows, pointersOf } from '../support/intake.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';

describe('refusals', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterEach(() => vi.restoreAllMocks());
  afterAll(() => api.stop());

  const volunteer = () => programme.people.volunteer.token;
  const body = (changes: object = {}) => ({
    ...{ id: v7(), siteId: programme.hub1.id, occurredAt: '2026-05-02T10:00:00-06:00' },
    ...{ material: 'food-scraps', contaminant: 'film-plastic', mass: { value: 11, unit: 'lb' } },
    ...{ reason: 'More bag than scraps', ...changes },
  });
  const post = (sent: object, as = volunteer()) => api.call('POST', '/refusals', { as, body: sent });
  const take = (id: string, reason: string, as = volunteer()) =>
    api.call('POST', `/refusals/${id}/void`, { as, body: { reason } });

  it('keeps a load that was turned away, and takes nothing in', async () => {
    const rows = await intakeRows(api);
    const sent = body();
    const answer = await post(sent);
    expect([answer.status, answer.body]).toMatchObject([
      201,
      {
        ...{ id: sent.id, massKg: 4.99, contaminant: 'film-plastic', voided: false, voidReason: null },
        ...{ entered: { mass: sent.mass }, recordedBy: programme.people.volunteer.id, shiftId: null },
      },
    ]);
    const now = await intakeRows(api);
    expect(now).toEqual({ ...rows, refusal: rows['refusal']! + 1, audit_event: rows['audit_event']! + 1 });
    expect((await auditOf(api, 'refusal.recorded')).map(({ subjectId }) => subjectId)).toContain(sent.id);
  });

  it('keeps one that was not weighed', async () => {
    expect((await post(body({ mass: undefined }))).body).toMatchObject({ massKg: null, entered: {} });
  });

  it('keeps it once, however often it is sent', async () => {
    const sent = body();
    const answers = await Promise.all([1, 2, 3, 4].map(() => post(sent)));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 200, 201]);
    for (const answer of answers) expect(answer.body).toEqual(answers[0]!.body);
    expect((await post({ ...sent, reason: 'Another' })).body.type).toBe('urn:heapwright:problem:other-body');
  });

  it('is taken back by whoever recorded it, on the day, or by a manager', async () => {
    const { manager } = programme.people;
    const [undone, kept] = [
      await made(api, '/refusals', body(), volunteer()),
      await made(api, '/refusals', body(), volunteer()),
    ];
    const answer = await take(undone.id, 'Was fine after all');
    expect([answer.status, answer.body]).toMatchObject([
      200,
      { voided: true, voidReason: 'Was fine after all' },
    ]);
    expect((await take(undone.id, 'Was fine after all')).body).toEqual(answer.body);
    expect((await take(undone.id, 'Another', manager.token)).status).toBe(409);
    const others = await made(api, '/refusals', body(), manager.token);
    expect((await take(others.id, 'Not mine')).status).toBe(403);
    vi.spyOn(api.app.get(Clock), 'nowMs').mockReturnValue(Date.now() + 86_400_000);
    expect((await take(kept.id, 'Too late')).status).toBe(403);
    expect((await take(kept.id, 'In time', manager.token)).status).toBe(200);
    const lines = (await auditOf(api, 'refusal.voided')).filter((row) => row.subjectId === undone.id);
    expect(lines.map(({ detail }) => detail)).toEqual([{ reason: 'Was fine after all' }]);
  });

  it('lists them by site and time, newest first', async () => {
    const siteId = programme.hub2.id;
    const ids: string[] = [];
    for (const day of ['03', '04', '05']) {
      const sent = body({ siteId, occurredAt: `2026-04-${day}T12:00:00Z` });
      await made(api, '/refusals', sent);
      ids.unshift(sent.id);
    }
    const list = (query: string, as = api.coordinator) =>
      api.call('GET', `/refusals?siteId=${siteId}${query}`, { as });
    const idsOf = (answer: { body: { items: { id: string }[] } }) => answer.body.items.map(({ id }) => id);
    expect(idsOf(await list(''))).toEqual(ids);
    const first = await list('&limit=2');
    expect(idsOf(await list(`&limit=2&cursor=${first.body.next}`))).toEqual(ids.slice(2));
    expect(idsOf(await list('&from=2026-04-04T00:00:00Z&to=2026-04-05T00:00:00Z'))).toEqual([ids[1]]);
    expect(idsOf(await list('', volunteer()))).toEqual([]);
    expect(pointersOf(await list('&from=yesterday'))).toEqual(['/from']);
  });

  it('lets in who works at that hub', async () => {
    const { operator, otherManager, municipalReader } = programme.people;
    const kept = await made(api, '/refusals', body(), volunteer());
    for (const [method, path] of [
      ['POST', '/refusals'],
      ['GET', '/refusals'],
      ['POST', `/refusals/${kept.id}/void`],
    ] as const) {
      expect((await api.call(method, path)).status).toBe(401);
      expect((await api.call(method, path, { as: municipalReader.token, body: body() })).status).toBe(403);
    }
    for (const { token } of [operator, otherManager]) {
      expect((await post(body(), token)).body.type).toBe('urn:heapwright:problem:other-site');
      expect((await take(kept.id, 'x', token)).body.type).toBe('urn:heapwright:problem:other-site');
    }
    expect((await take(v7(), 'x')).status).toBe(404);
    const list = await api.call('GET', '/refusals', { as: otherManager.token });
    expect(list.body.items).toEqual([]);
  });
});
