import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { hoursAfter } from '../support/heat.js';
import { made, makeProgramme, PASSWORD } from '../support/programme.js';
import { CURING_FROM, makeCuring, maturity, permitTerms } from '../support/released.js';
import { makeYard, sqlOf, type Yard } from '../support/yard-work.js';

const code = (answer: any) => answer.body.type.replace('urn:heapwright:problem:', '');
const pointers = (answer: any) =>
  (answer.body.errors ?? []).map((fault: { pointer: string }) => fault.pointer).sort();
const kg = (value: number) => ({ value, unit: 'kg' });
const reading = { position: 'core-1', temperature: { value: 30, unit: 'C' } };

describe('a signature that is dated', () => {
  let api: TestApi;
  let programme: Awaited<ReturnType<typeof makeProgramme>>;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    await made(api, '/permits', { siteId: yard.yard.id, ...permitTerms });
  });
  afterAll(() => api.stop());

  const post = (path: string, body: unknown) => api.call('POST', path, { as: yard.manager.token, body });
  const get = (path: string) => api.call('GET', path, { as: yard.manager.token });
  const release = (batchId: string, facts: object = {}) =>
    post(`/batches/${batchId}/release`, { password: PASSWORD, ...facts });

  /** A curing batch with every gate met, the last by a sample of the 31st day. */
  async function ripe(): Promise<string> {
    const id = await makeCuring(api, programme, yard);
    await made(api, `/batches/${id}/samples`, maturity('passed'), yard.manager.token);
    return id;
  }

  it.each([
    ['a check', 'checks', { readings: [{ ...reading, temperature: { value: 58, unit: 'C' } }] }],
    ['a turn', 'turns', {}],
    ['a move', 'moves', { bay: 'H40' }],
    ['a watering', 'waterings', {}],
    ['a sample', 'samples', { kind: 'maturity', finding: 'no peas', outcome: 'failed' }],
    ['a screening', 'screenings', { overs: kg(1) }],
  ])('is not dated back behind %s', async (what, route, body) => {
    const id = await ripe();
    const days = (count: number) => ({ occurredAt: hoursAfter(CURING_FROM, count * 24) });
    const { id: later } = await made(
      api,
      `/batches/${id}/${route}`,
      { ...body, ...days(33) },
      yard.manager.token,
    );
    const refused = await release(id, days(32));
    expect([refused.status, code(refused), pointers(refused)]).toEqual([409, 'conflict', ['/occurredAt']]);
    expect(refused.body.detail).toContain(`is before ${what} of the batch, at ${days(33).occurredAt}`);
    expect((await get(`/batches/${id}`)).body.stage).toBe('curing');
    if (route !== 'checks') return;
    // What is taken back, with its reason, closes no door.
    const reason = { reason: 'the probe of another pile' };
    expect((await post(`/batches/${id}/checks/${later as string}/void`, reason)).status).toBe(200);
    expect((await release(id, days(32))).status).toBe(201);
  });

  it('is not dated back by whoever writes to the database itself', async () => {
    const id = await ripe();
    const early = hoursAfter(CURING_FROM, 30 * 24);
    await sqlOf(api).query(
      `INSERT INTO sealed_document (seal, kind, subject_id, version, document, sealed_by)
       VALUES (encode(sha256('{}'), 'hex'), 'batch-record', $1, 1, '{}', $2)`,
      [id, yard.manager.id],
    );
    const insert = sqlOf(api).query(
      `INSERT INTO release (batch_id, signed_by, signed_name, signed_at, statement, gates, seal)
       VALUES ($1, $2, 'Petra Hollis', $3, 'good', '[]', encode(sha256('{}'), 'hex'))`,
      [id, yard.manager.id, early],
    );
    await expect(insert).rejects.toMatchObject({ constraint: 'release_after_records' });
  });

  it('comes after what a clock a little ahead of ours has recorded, where it names no time', async () => {
    const id = await ripe();
    const occurredAt = new Date(Date.now() + 120_000).toISOString();
    await made(api, `/batches/${id}/turns`, { occurredAt }, yard.manager.token);
    expect((await release(id)).status).toBe(201);
    expect((await get(`/batches/${id}/gates`)).body.signedAt).toBe(occurredAt);
  });
});
