import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const m = (value: number) => ({ value, unit: 'm' });
const at = (day: number) => `2026-03-${String(day).padStart(2, '0')}T15:00:00.000Z`;

describe('the volume of a pile, wherever it is told', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let id: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    id = await filled(1000);
    await yard.enter(id, 'active');
  });
  afterAll(() => api.stop());

  const post = (path: string, body: object) => made(api, path, body, yard.manager.token);
  const get = async (path: string) => (await api.call('GET', path, { as: yard.manager.token })).body;
  const measure = (day: number, height: number) =>
    post(`/batches/${id}/pile-measurements`, {
      ...{ shape: 'bin', length: m(1), width: m(1), height: m(height), occurredAt: at(day) },
    });

  async function filled(massKg: number, day = 4): Promise<string> {
    const batch = await yard.begin({ occurredAt: at(day) });
    const items = [{ dropOffId: await lotAtHub1(api, programme, massKg * 1000) }];
    await post(`/batches/${batch.id as string}/assignments`, { items, occurredAt: at(day) });
    return batch.id;
  }

  /** By what lies there, by the form of the year that ends that day, and of now by the balance and the headroom. */
  async function volumes(day: number) {
    const site = `/sites/${yard.yard.id}`;
    const local = (one: number) => `2026-03-${String(one).padStart(2, '0')}`;
    const onHand = await get(`${site}/on-hand?on=${local(day)}`);
    const form = await get(`${site}/facility-year?from=2026-01-01&to=${local(day + 1)}`);
    const there = onHand.inProcess.find((one: { batchId: string }) => one.batchId === id);
    const [stage] = onHand.byStage.filter((one: { stage: string }) => one.stage === there.stage);
    const asked = form.onSite.find((one: { stage: string }) => one.stage === there.stage);
    return [there.volumeL, stage.volumeL, asked.volumeL];
  }
  async function now() {
    const { pile, volumeLostL } = await get(`/batches/${id}/balance`);
    const { stored } = await get(`/sites/${yard.yard.id}/headroom`);
    return { outdatedAt: pile.outdatedAt, lost: volumeLostL, from: stored.parts[0].from };
  }
  const MEASURED = 'its pile as it was measured last';

  it('is that of the tape until another batch is merged into it', async () => {
    await measure(10, 2);
    expect(await volumes(10)).toEqual([2000, 2000, 2000]);
    expect(await now()).toEqual({ outdatedAt: null, lost: expect.any(Number), from: MEASURED });
    const other = await filled(500, 20);
    await yard.enter(other, 'active');
    const { occurredAt } = await post(`/batches/${id}/merges`, { fromBatchId: other });
    const today = await get(`/sites/${yard.yard.id}/on-hand`);
    expect(today.byStage).toMatchObject([{ stage: 'active', batchesMeasured: 0, volumeL: null }]);
    expect(await now()).toEqual({ outdatedAt: occurredAt, lost: null, from: 'the volumes of its mix' });
    // Of a day before that it says what it said.
    expect(await volumes(11)).toEqual([2000, 2000, 2000]);
  });

  it('is known again when it is measured again, and until it is screened', async () => {
    await post(`/batches/${id}/pile-measurements`, {
      ...{ shape: 'bin', length: m(1), width: m(1), height: m(2.5) },
    });
    expect(await now()).toMatchObject({ outdatedAt: null, from: MEASURED });
    await yard.enter(id, 'curing');
    const screened = await post(`/batches/${id}/screenings`, { overs: kg(100) });
    expect(await now()).toMatchObject({ outdatedAt: screened.occurredAt, lost: null });
    const today = await get(`/sites/${yard.yard.id}/on-hand`);
    expect(today.inProcess).toMatchObject([{ stage: 'curing', volumeL: null }]);
    const form = await get(`/sites/${yard.yard.id}/facility-year?from=2026-01-01&to=2027-01-01`);
    expect(form.onSite.find((one: { stage: string }) => one.stage === 'curing')).toMatchObject({
      ...{ volumeL: null, massKg: 1400 },
    });
    const path = `/batches/${id}/screenings/${screened.id as string}/void`;
    expect(
      (await api.call('POST', path, { as: yard.manager.token, body: { reason: 'of another' } })).status,
    ).toBe(200);
    expect((await now()).outdatedAt).toBeNull();
  });
});
