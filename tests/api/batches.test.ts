import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import {
  BEGUN_AT,
  lotAtHub1,
  makeYard,
  putRelease,
  putScreening,
  sqlOf,
  type Yard,
} from '../support/yard-work.js';

const code = (answer: any) => answer.body.type.replace('urn:heapwright:problem:', '');
const pointers = (answer: any) =>
  answer.body.errors.map((fault: { pointer: string }) => fault.pointer).sort();

describe('batches', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let operator: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    operator = yard.operator.token;
  });
  afterAll(() => api.stop());

  const post = (path: string, body: unknown, as = yard.manager.token) => api.call('POST', path, { as, body });
  const get = (path: string, as = operator) => api.call('GET', path, { as });
  const bodyOf = (facts: object = {}) => ({
    ...{ siteId: yard.yard.id, bay: yard.freeBay(), method: 'turned-windrow', occurredAt: BEGUN_AT },
    ...facts,
  });

  it('begins a batch in a bay, under a code of the yard and the local year', async () => {
    // Already 2026 in UTC, still 2025 at the yard.
    const body = bodyOf({ occurredAt: '2026-01-01T05:00:00Z', note: 'north end' });
    const answer = await post('/batches', body);
    expect(answer.status).toBe(201);
    expect(answer.body).toMatchObject({
      code: 'HS-2025-001',
      stage: 'building',
      stageEnteredAt: '2026-01-01T05:00:00.000Z',
      bay: body.bay,
      processRule: null,
      note: 'north end',
      totals: { assignments: 0, inputKg: 0, outputKg: 0 },
      recordedBy: yard.manager.id,
    });
    expect((await get(`/batches/${answer.body.id as string}`)).body).toEqual(answer.body);
    const [line] = await auditOf(api, 'batch.begun');
    expect(line).toMatchObject({
      subjectId: answer.body.id,
      siteId: yard.yard.id,
      detail: { code: 'HS-2025-001', bay: body.bay },
    });
  });

  it('takes the rule that is named, or else the permit’s of that day', async () => {
    expect(await yard.begin({ processRule: 'us-503-pfrp-in-vessel' })).toMatchObject({
      processRule: 'us-503-pfrp-in-vessel',
    });
    const atYard1 = { siteId: programme.yard1.id, bay: 'A1', method: 'turned-windrow' };
    const permitted = await post('/batches', { ...atYard1, occurredAt: BEGUN_AT }, api.coordinator);
    expect(permitted.body.processRule).toBe('us-503-pfrp-windrow');
    const before = { ...atYard1, bay: 'A2', occurredAt: '2024-06-01T12:00:00Z' };
    expect((await post('/batches', before, api.coordinator)).body.processRule).toBeNull();
  });

  it('numbers batches that are begun at the same moment one after the other', async () => {
    const began = await Promise.all(
      [1, 2, 3, 4].map(() => yard.begin({ occurredAt: '2024-07-05T12:00:00Z' })),
    );
    const codes = began.map((batch) => batch.code).sort();
    expect(codes).toEqual(['HS-2024-001', 'HS-2024-002', 'HS-2024-003', 'HS-2024-004']);
  });

  it('answers a batch that is sent again with the first one, also at the same moment', async () => {
    const body = bodyOf({ id: v7() });
    const answers = await Promise.all([1, 2, 3].map(() => post('/batches', body)));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    expect(new Set(answers.map((answer) => answer.body.code)).size).toBe(1);
    const other = await post('/batches', { ...body, note: 'another' });
    expect([other.status, code(other)]).toEqual([409, 'other-body']);
  });

  it('refuses what a batch cannot be begun with', async () => {
    const empty = await post('/batches', { siteId: yard.yard.id });
    expect([empty.status, pointers(empty)]).toEqual([422, ['/bay', '/method']]);
    const cases: [object, string][] = [
      [{ bay: 'Z9' }, '/bay'],
      [{ processRule: 'hot-enough' }, '/processRule'],
      [{ method: 'heap' }, '/method'],
      [{ occurredAt: '2026-05-02T09:30:00' }, '/occurredAt'],
      [{ occurredAt: '2999-01-01T00:00:00Z' }, '/occurredAt'],
      [{ note: 'n'.repeat(2001) }, '/note'],
      [{ colour: 'green' }, '/colour'],
      [{ id: 'seven' }, '/id'],
    ];
    for (const [change, pointer] of cases) {
      const answer = await post('/batches', bodyOf({ bay: 'H40', ...change }));
      expect([answer.status, pointers(answer)]).toEqual([422, [pointer]]);
    }
    const hub = await post('/batches', bodyOf({ siteId: programme.hub1.id }));
    expect([hub.status, pointers(hub)]).toEqual([422, ['/siteId']]);
    const nowhere = await post('/batches', bodyOf({ siteId: v7() }), api.coordinator);
    expect(nowhere.status).toBe(404);
  });

  it('keeps one batch a bay at a time', async () => {
    const first = bodyOf();
    const { id } = (await post('/batches', first)).body;
    const crowded = await post('/batches', { ...first, occurredAt: '2026-03-20T15:00:00Z' });
    expect([crowded.status, code(crowded)]).toEqual([409, 'bay-occupied']);
    const cleared = { to: 'condemned', occurredAt: '2026-03-10T15:00:00Z', reason: 'flooded' };
    expect((await post(`/batches/${id as string}/stage`, cleared)).status).toBe(201);
    expect((await post('/batches', { ...first, occurredAt: '2026-03-20T15:00:00Z' })).status).toBe(201);
  });

  it('takes a batch through its stages in order and no other way', async () => {
    const batch = await yard.begin();
    const stage = (body: object) => post(`/batches/${batch.id as string}/stage`, body);
    const skipped = await stage({ to: 'curing' });
    expect([skipped.status, code(skipped)]).toEqual([409, 'stage-order']);
    expect(skipped.body.detail).toBe('A batch does not go from building to curing.');
    const signed = await stage({ to: 'released' });
    expect([signed.status, pointers(signed)]).toEqual([422, ['/to']]);
    const active = { to: 'active', occurredAt: '2026-03-10T15:00:00Z' };
    const entered = await stage(active);
    expect(entered.status).toBe(201);
    expect(entered.body).toMatchObject({ stage: 'active', stageEnteredAt: '2026-03-10T15:00:00.000Z' });
    expect((await stage(active)).status).toBe(200);
    const again = await stage({ to: 'active', occurredAt: '2026-03-11T15:00:00Z' });
    expect([again.status, code(again)]).toEqual([409, 'stage-order']);
    const early = await stage({ to: 'curing', occurredAt: '2026-03-09T15:00:00Z' });
    expect([early.status, code(early)]).toEqual([409, 'stage-order']);
    const unborn = await stage({ to: 'curing', occurredAt: '2026-03-01T15:00:00Z' });
    expect([unborn.status, pointers(unborn)]).toEqual([422, ['/occurredAt']]);
    expect((await stage({ to: 'curing' })).status).toBe(201);
    const unsigned = await stage({ to: 'emptied' });
    expect([unsigned.status, code(unsigned)]).toEqual([409, 'stage-order']);

    await putScreening(api, yard.manager.id, batch.id, { compostG: 1 });
    await putRelease(api, yard.manager.id, batch.id);
    const late = await stage({ to: 'condemned', reason: 'too late' });
    expect([late.status, code(late)]).toEqual([409, 'stage-order']);
    const still = await post(`/batches/${batch.id as string}/moves`, { bay: yard.freeBay() });
    expect([still.status, code(still)]).toEqual([409, 'stage-closed']);
    const emptied = await stage({ to: 'emptied' });
    expect(emptied.body).toMatchObject({ stage: 'emptied', bay: null });
    const stages = emptied.body.stages.map((entry: { stage: string }) => entry.stage);
    expect(stages).toEqual(['building', 'active', 'curing', 'released', 'emptied']);
    const lines = (await auditOf(api, 'batch.stage-entered')).filter((line) => line.subjectId === batch.id);
    expect(lines.map(({ detail }) => detail['to'])).toEqual(['active', 'curing', 'emptied']);
  });

  it('enters no stage before what went in', async () => {
    const batch = await yard.begin();
    const path = `/batches/${batch.id as string}`;
    const at = (day: number) => ({ occurredAt: `2026-03-0${day}T15:00:00.000Z` });
    const items = [{ dropOffId: await lotAtHub1(api, programme, 1_000) }];
    await made(api, `${path}/assignments`, { items, ...at(6) }, yard.manager.token);
    const stage = (to: string, facts: object) => post(`${path}/stage`, { to, ...facts });
    const early = await stage('active', at(5));
    expect([early.status, code(early), pointers(early)]).toEqual([409, 'stage-order', ['/occurredAt']]);
    expect(early.body.detail).toBe(`That is before an assignment of the batch, at ${at(6).occurredAt}.`);
    const beside = sqlOf(api).query(
      `INSERT INTO batch_stage (batch_id, stage, entered_at, recorded_by) VALUES ($1, 'active', $2, $3)`,
      [batch.id, at(5).occurredAt, yard.manager.id],
    );
    await expect(beside).rejects.toMatchObject({ constraint: 'batch_stage_time' });
    expect((await stage('active', at(6))).status).toBe(201);

    const topUp = { from: 'stock', material: 'leaves', mass: { value: 1, unit: 'kg' }, ...at(8) };
    const { id } = await made(api, `${path}/amendments`, topUp, yard.manager.token);
    const curing = await stage('curing', at(7));
    expect([curing.status, curing.body.detail]).toEqual([
      409,
      `That is before an amendment of the batch, at ${at(8).occurredAt}.`,
    ]);
    const condemned = await stage('condemned', { reason: 'x', ...at(7) });
    expect([condemned.status, code(condemned)]).toEqual([409, 'stage-order']);
    await post(`${path}/amendments/${id as string}/void`, { reason: 'never went in' });
    expect((await stage('curing', at(7))).status).toBe(201);
  });

  it('waits for what a clock a little ahead of ours has put in', async () => {
    const batch = await yard.begin();
    const occurredAt = new Date(Date.now() + 120_000).toISOString();
    const items = [{ dropOffId: await lotAtHub1(api, programme, 1_000) }];
    await made(api, `/batches/${batch.id as string}/assignments`, { items, occurredAt }, yard.manager.token);
    const answer = await post(`/batches/${batch.id as string}/stage`, { to: 'active' });
    expect([answer.status, answer.body.stageEnteredAt]).toEqual([201, occurredAt]);
  });

  it('condemns a batch with a reason, and frees its bay', async () => {
    const batch = await yard.begin();
    const path = `/batches/${batch.id as string}/stage`;
    const bare = await post(path, { to: 'condemned' });
    expect([bare.status, pointers(bare)]).toEqual([422, ['/reason']]);
    const answer = await post(path, { to: 'condemned', reason: 'treated wood' });
    expect(answer.body).toMatchObject({ stage: 'condemned', bay: null });
    expect(answer.body.stages.at(-1)).toMatchObject({ stage: 'condemned', reason: 'treated wood' });
    const after = await post(path, { to: 'active' });
    expect([after.status, code(after)]).toEqual([409, 'stage-order']);
    const moved = await post(`/batches/${batch.id as string}/moves`, { bay: yard.freeBay() });
    expect([moved.status, code(moved), moved.body.detail]).toEqual([
      409,
      'stage-closed',
      'The batch is condemned.',
    ]);
  });

  it('moves a batch from bay to bay, once however often it is sent', async () => {
    const batch = await yard.begin();
    const path = `/batches/${batch.id as string}/moves`;
    const bay = yard.freeBay();
    const body = { id: v7(), bay, occurredAt: '2026-03-05T15:00:00Z' };
    const answers = await Promise.all([1, 2, 3].map(() => post(path, body, operator)));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    expect(answers[0]!.body).toEqual({ id: body.id, bay, fromAt: '2026-03-05T15:00:00.000Z', toAt: null });
    const read = await get(`/batches/${batch.id as string}`);
    expect(read.body.bay).toBe(bay);
    expect(read.body.stays).toMatchObject([
      { bay: batch.bay, fromAt: '2026-03-03T15:00:00.000Z', toAt: '2026-03-05T15:00:00.000Z' },
      { bay, toAt: null },
    ]);
    const lines = (await auditOf(api, 'batch.moved')).filter((line) => line.subjectId === batch.id);
    expect(lines.map(({ detail }) => detail)).toEqual([{ from: batch.bay, to: bay }]);
  });

  it('refuses a move that cannot be', async () => {
    const batch = await yard.begin();
    const neighbour = await yard.begin();
    const path = `/batches/${batch.id as string}/moves`;
    const body = { id: v7(), bay: yard.freeBay(), occurredAt: '2026-03-05T15:00:00Z' };
    expect((await post(path, body)).status).toBe(201);
    const other = await post(path, { ...body, bay: yard.freeBay() });
    expect([other.status, code(other)]).toEqual([409, 'other-body']);
    const elsewhere = await post(`/batches/${neighbour.id as string}/moves`, body);
    expect([elsewhere.status, code(elsewhere)]).toEqual([409, 'other-body']);
    const same = await post(path, { bay: body.bay });
    expect([same.status, pointers(same)]).toEqual([422, ['/bay']]);
    const nowhere = await post(path, { bay: 'Z9' });
    expect([nowhere.status, pointers(nowhere)]).toEqual([422, ['/bay']]);
    const early = await post(path, { bay: yard.freeBay(), occurredAt: '2026-03-04T15:00:00Z' });
    expect([early.status, pointers(early)]).toEqual([422, ['/occurredAt']]);
    const crowded = await post(path, { bay: neighbour.bay });
    expect([crowded.status, code(crowded)]).toEqual([409, 'bay-occupied']);
    // A refused move leaves it where it was.
    expect((await get(`/batches/${batch.id as string}`)).body.bay).toBe(body.bay);
    const clearing = { to: 'condemned', reason: 'x', occurredAt: '2026-03-05T14:00:00Z' };
    const unclear = await post(`/batches/${batch.id as string}/stage`, clearing);
    expect([unclear.status, pointers(unclear)]).toEqual([422, ['/occurredAt']]);
  });

  it('lists the batches of one’s own yards, page by page', async () => {
    const everything = await get('/batches?limit=200');
    expect(everything.body.items.length).toBeGreaterThan(8);
    const seen: string[] = [];
    let cursor = '';
    do {
      const page = await get(`/batches?limit=3${cursor}`);
      seen.push(...page.body.items.map((item: { id: string }) => item.id));
      cursor = page.body.next === null ? '' : `&cursor=${page.body.next as string}`;
    } while (cursor !== '');
    expect(seen).toEqual(everything.body.items.map((item: { id: string }) => item.id));
    const times: string[] = everything.body.items.map((item: { occurredAt: string }) => item.occurredAt);
    expect(times).toEqual(times.toSorted().reverse());

    const condemned = await get('/batches?stage=condemned');
    expect(condemned.body.items.length).toBeGreaterThan(1);
    for (const item of condemned.body.items) expect(item).toMatchObject({ stage: 'condemned', bay: null });
    const ofYard1 = await get(`/batches?siteId=${programme.yard1.id}`, api.coordinator);
    expect(ofYard1.body.items).toHaveLength(2);
    expect((await get(`/batches?siteId=${programme.yard1.id}`)).body.items).toEqual([]);
    const elsewhere = await get('/batches', programme.people.otherManager.token);
    expect(elsewhere.body).toEqual({ items: [], next: null });
    const bad = await get('/batches?stage=ripe');
    expect([bad.status, pointers(bad)]).toEqual([422, ['/stage']]);
    expect((await get('/batches?cursor=WyJ4IiwieSJd')).status).toBe(422);
  });

  it('lets in who may, at the yard', async () => {
    const { id } = await yard.begin();
    const { volunteer, otherManager, municipalReader } = programme.people;
    const at = `/batches/${id as string}`;
    const routes: [method: string, path: string, body?: object][] = [
      ['GET', at],
      ['GET', `${at}/assignments`],
      ['GET', `${at}/amendments`],
      ['GET', `${at}/balance`],
      ['GET', `${at}/mix`],
      ['GET', `${at}/lineage`],
      ['POST', '/batches', bodyOf()],
      ['POST', `${at}/stage`, { to: 'active' }],
      ['POST', `${at}/moves`, { bay: yard.freeBay() }],
      ['POST', `${at}/assignments`, { items: [{ dropOffId: v7() }] }],
      ['POST', `${at}/assignments/${v7()}/void`, { reason: 'x' }],
      ['POST', `${at}/amendments`, { from: 'water', mass: { value: 1, unit: 'kg' } }],
      ['POST', `${at}/amendments/${v7()}/void`, { reason: 'x' }],
    ];
    for (const [method, path, body] of routes) {
      const statusOf = async (as?: string) =>
        (await api.call(method, path, { ...(as ? { as } : {}), ...(body ? { body } : {}) })).status;
      const outsiders = [undefined, volunteer.token, municipalReader.token, otherManager.token];
      const statuses = [];
      for (const outsider of outsiders) statuses.push(await statusOf(outsider));
      expect([path, ...statuses]).toEqual([path, 401, 403, 403, 403]);
      if (method === 'GET') expect([path, await statusOf(operator)]).toEqual([path, 200]);
      else if (!path.endsWith('/moves')) expect([path, await statusOf(operator)]).toEqual([path, 403]);
    }
    expect((await api.call('GET', '/batches')).status).toBe(401);
    expect((await get('/batches', volunteer.token)).status).toBe(403);
    expect((await get(`/batches/${v7()}`)).status).toBe(404);
    expect((await get('/batches/seven')).status).toBe(404);
  });
});
