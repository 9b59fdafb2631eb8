import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { makeYard, putLot, putRelease, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const m = (value: number) => ({ value, unit: 'm' });
const litres = (value: number) => ({ value, unit: 'L' });
const at = (day: number) => `2026-03-${String(day).padStart(2, '0')}T18:00:00.000Z`;

let api: TestApi;
let programme: Programme;
let yard: Yard;
let first: { id: string; code: string };
let second: { id: string; code: string };

/** Lots at a yard of 2 March, a batch of them in March that was screened and released, and one that took its overs. */
beforeAll(async () => {
  api = await startApi();
  programme = await makeProgramme(api);
  yard = await makeYard(api, programme);
  const [siteId, personId] = [yard.yard.id, yard.manager.id];
  const post = (path: string, body: object) => made(api, path, body, yard.manager.token);
  const lot = (massG: number, facts: object = {}) =>
    putLot(api, { siteId, personId, jurisdictionId: programme.jurisdictions.larkHollow.id, massG, ...facts });
  const food = await lot(60_000);
  const leaves = await lot(20_000, { material: 'leaves', basis: 'volume' });
  // Late in the evening of 2 March where the yard lies.
  await lot(5000, { occurredAt: '2026-03-03T06:30:00Z' });
  await post('/stock-counts', {
    ...{ siteId, material: 'wood-chips', amount: { mass: kg(100) }, occurredAt: at(1) },
  });
  first = await yard.begin();
  const [id, path] = [first.id, `/batches/${first.id}`];
  const items = [{ dropOffId: food }, { dropOffId: leaves, mass: kg(12) }];
  await post(`${path}/assignments`, { items, occurredAt: at(4) });
  await post(`${path}/amendments`, {
    ...{ from: 'stock', material: 'wood-chips', mass: kg(30), occurredAt: at(5) },
  });
  await post(`${path}/stage`, { to: 'active', occurredAt: at(6) });
  const pile = { shape: 'bin', length: m(1), width: m(1), height: m(0.2) };
  const density = { full: kg(10.5), empty: kg(0.5), volume: litres(20) };
  await post(`${path}/pile-measurements`, { ...pile, density, occurredAt: at(7) });
  await post(`${path}/stage`, { to: 'curing', occurredAt: at(10) });
  const screened = { compost: kg(40), compostVolume: litres(80), overs: kg(10), residue: kg(2) };
  await post(`${path}/screenings`, { ...screened, residueWentTo: 'landfill', occurredAt: at(20) });
  second = await yard.begin({ occurredAt: at(21) });
  await post(`/batches/${second.id}/amendments`, {
    ...{ from: 'overs', batchId: id, mass: kg(4), occurredAt: at(22) },
  });
  await putRelease(api, personId, id);
  await post(`${path}/distributions`, { recipient: 'school', use: 'lawns', mass: kg(15) });
});
afterAll(() => api.stop());

const onHand = async (on?: string, as = yard.operator.token, siteId = yard.yard.id) =>
  api.call('GET', `/sites/${siteId}/on-hand${on === undefined ? '' : `?on=${on}`}`, { as });
const totals = async (on?: string) => (await onHand(on)).body.totals;

describe('what lies at a site', () => {
  it('waits, by the material, on the local day that it came', async () => {
    expect((await onHand('2026-03-01')).body).toMatchObject({
      waiting: [],
      inProcess: [],
      asOf: '2026-03-02T07:00:00.000Z',
    });
    const { body } = await onHand('2026-03-02');
    expect(body.waiting).toMatchObject([
      { material: 'food-scraps', lots: 2, massKg: 65, estimatedKg: 0, sharedKg: 0 },
      { material: 'leaves', lots: 1, massKg: 20, estimatedKg: 20, sharedKg: 0, volumeL: 40 },
    ]);
    expect(body.waiting[0].volumeL).toBeGreaterThan(65);
    expect(body.totals).toEqual({
      ...{ waitingKg: 85, onTheRoadKg: 0, inProcessKg: 0, oversKg: 0, compostKg: 0 },
    });
  });

  it('goes into a batch, of which a part of a lot may be left with its part of the volume', async () => {
    const { body } = await onHand('2026-03-04');
    expect(body.waiting).toMatchObject([
      { material: 'food-scraps', lots: 1, massKg: 5 },
      { material: 'leaves', lots: 1, massKg: 8, volumeL: 16 },
    ]);
    expect(body.inProcess).toEqual([
      { batchId: first.id, code: first.code, stage: 'building', massKg: 72, measuredKg: null, volumeL: null },
    ]);
  });

  it('is measured as a pile, until that is parted', async () => {
    const { body } = await onHand('2026-03-07');
    expect(body.inProcess).toMatchObject([{ stage: 'active', massKg: 102, measuredKg: 100, volumeL: 200 }]);
    expect(body.byStage).toEqual([
      { stage: 'active', batches: 1, massKg: 102, batchesMeasured: 1, volumeL: 200 },
    ]);
    expect((await onHand('2026-03-06')).body.inProcess).toMatchObject([{ measuredKg: null, volumeL: null }]);
    const parted = (await onHand('2026-03-20')).body;
    expect(parted.inProcess).toMatchObject([
      { stage: 'curing', massKg: 50, measuredKg: null, volumeL: null },
    ]);
    expect(parted.overs).toEqual([
      { batchId: first.id, code: first.code, stage: 'curing', massKg: 10, volumeL: null },
    ]);
    expect(parted.compost).toMatchObject([{ massKg: 40, volumeL: 80 }]);
  });

  it('is handed out and taken up again, and what air took is not there once a batch is released', async () => {
    expect(await totals('2026-03-22')).toEqual({
      ...{ waitingKg: 13, onTheRoadKg: 0, inProcessKg: 54, oversKg: 6, compostKg: 40 },
    });
    const { body } = await onHand();
    expect(body).toMatchObject({ on: null, siteId: yard.yard.id });
    expect(body.inProcess).toMatchObject([{ batchId: second.id, stage: 'building', massKg: 4 }]);
    expect(body.compost).toEqual([
      { batchId: first.id, code: first.code, stage: 'released', massKg: 25, volumeL: 50 },
    ]);
    expect(body.totals).toEqual({
      ...{ waitingKg: 13, onTheRoadKg: 0, inProcessKg: 4, oversKg: 6, compostKg: 25 },
    });
    const today = new Intl.DateTimeFormat('en-CA', { timeZone: 'America/Denver' }).format(new Date());
    expect(await totals(today)).toEqual(body.totals);
  });

  it('is what was counted in stock by then, less what was used by then', async () => {
    const stockOn = async (on?: string) => (await onHand(on)).body.stock;
    expect(await stockOn('2026-02-28')).toEqual([]);
    expect(await stockOn('2026-03-04')).toMatchObject([{ material: 'wood-chips', massKg: 100 }]);
    expect(await stockOn('2026-03-05')).toMatchObject([{ material: 'wood-chips', massKg: 70 }]);
    expect(await stockOn()).toMatchObject([{ massKg: 70, countedAt: at(1) }]);
  });

  it('is told on its own days only, to its crew', async () => {
    const { volunteer, otherManager } = programme.people;
    expect((await api.call('GET', `/sites/${yard.yard.id}/on-hand`)).status).toBe(401);
    expect((await onHand(undefined, volunteer.token)).status).toBe(403);
    expect((await onHand(undefined, otherManager.token)).status).toBe(403);
    for (const on of ['2026-02-30', '2999-01-01', 'yesterday']) {
      const refused = await onHand(on);
      expect([on, refused.status, refused.body.errors[0].pointer]).toEqual([on, 422, '/on']);
    }
  });
});
