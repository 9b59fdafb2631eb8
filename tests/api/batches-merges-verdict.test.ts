import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { hoursAfter } from '../support/heat.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { CURING_FROM, HOT_FROM, makeCuring, maturity, permitTerms } from '../support/released.js';
import { BEGUN_AT, lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

interface Gate {
  key: string;
  state: string;
  text: string;
}

describe('what was merged in', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    await made(api, '/permits', { siteId: yard.yard.id, ...permitTerms });
  });
  afterAll(() => api.stop());

  const post = (path: string, body: unknown) => made(api, path, body, yard.manager.token);
  const read = async (id: string, what: string) =>
    (await api.call('GET', `/batches/${id}${what === '' ? '' : '/'}${what}`, { as: yard.operator.token }))
      .body;
  const merge = (into: string, fromBatchId: string, facts: object = {}) =>
    post(`/batches/${into}/merges`, { fromBatchId, ...facts });
  const empty = async () => (await yard.begin({ method: 'static-aerated' })) as { id: string; code: string };
  /** A batch that has not been hot. */
  async function raw(material = 'food-scraps'): Promise<string> {
    const { id } = await empty();
    const dropOffId = await lotAtHub1(api, programme, 500_000, { material });
    await post(`/batches/${id}/assignments`, { items: [{ dropOffId }], occurredAt: hoursAfter(BEGUN_AT, 1) });
    return id;
  }
  const codeOf = async (id: string) => (await read(id, '')).code as string;
  const later = hoursAfter(CURING_FROM, 24);
  const gate = async (id: string, wanted: string) =>
    ((await read(id, 'gates')).gates as Gate[]).find(({ key }) => key === wanted);

  it('hands its verdict on to a batch that is made of nothing else, by however many steps', async () => {
    const [a, b] = [await makeCuring(api, programme, yard), await makeCuring(api, programme, yard)];
    const [middle, end] = [await empty(), await empty()];
    await merge(middle.id, a, { occurredAt: later });
    await merge(middle.id, b, { occurredAt: later });
    await merge(end.id, middle.id, { occurredAt: hoursAfter(later, 1) });
    const verdict = await read(end.id, 'process');
    expect(verdict.status).toBe('met');
    expect(verdict.metAt).toBe(hoursAfter(HOT_FROM, 72));
    expect(verdict.evidence.map(({ kind }: { kind: string }) => kind)).toContain('merged');
  });

  it('hands nothing on when one of them had not met the very rule', async () => {
    const { id } = await empty();
    await merge(id, await makeCuring(api, programme, yard), { occurredAt: later });
    const cold = await raw();
    await merge(id, cold, { occurredAt: later });
    const verdict = await read(id, 'process');
    expect(verdict).toMatchObject({ status: 'not-started', metAt: null });
    const said = verdict.evidence.map(({ text }: { text: string }) => text).join(' ');
    expect(said).toContain(`batch ${await codeOf(cold)}, which had not met the rule`);
  });

  it('takes the verdict of the batch it comes into, unless it had met the rule itself', async () => {
    const [warm, met] = [await makeCuring(api, programme, yard), await makeCuring(api, programme, yard)];
    await merge(warm, met, { occurredAt: later });
    expect((await read(warm, 'process')).status).toBe('met');
    await merge(warm, await raw(), { occurredAt: hoursAfter(later, 1) });
    expect(await read(warm, 'process')).toMatchObject({ status: 'not-started' });
  });

  it('leaves its own verdict as it stood when it went', async () => {
    const giver = await makeCuring(api, programme, yard);
    await merge(await raw(), giver, { occurredAt: later });
    expect(await read(giver, 'process')).toMatchObject({ status: 'met' });
    expect((await read(giver, 'gates')).releasable).toBe(false);
  });

  it('starts the cure anew, makes samples old, and is asked for by the permit material by material', async () => {
    const [taker, giver] = [await makeCuring(api, programme, yard), await makeCuring(api, programme, yard)];
    await post(`/batches/${taker}/samples`, maturity('passed'));
    const at = hoursAfter(CURING_FROM, 32 * 24);
    await merge(taker, giver, { occurredAt: at });
    expect(await gate(taker, 'sample:maturity')).toMatchObject({
      state: 'unmet',
      text: expect.stringContaining(`passed, but batch ${await codeOf(giver)} was merged in after it`),
    });
    const said = (await gate(taker, 'cure'))?.text;
    expect(said).toContain('10 Apr 2026');
    expect(await gate(taker, 'inputs-allowed')).toMatchObject({ state: 'met' });
    const foreign = await raw('wood-chips');
    const other = await makeCuring(api, programme, yard);
    await merge(other, foreign, { occurredAt: later });
    expect(await gate(other, 'inputs-allowed')).toMatchObject({ state: 'unmet' });
  });

  it('is new material to whoever looks after a pile', async () => {
    const [taker, giver] = [await raw(), await raw()];
    await post(`/batches/${taker}/stage`, { to: 'active', occurredAt: hoursAfter(BEGUN_AT, 2) });
    await merge(taker, giver);
    expect((await api.call('GET', `/batches/${taker}/advice`, { as: yard.operator.token })).status).toBe(200);
    expect((await read(giver, 'advice')).advice).toEqual([]);
    expect(await read(taker, 'readiness')).toMatchObject({ findings: [] });
  });
});
