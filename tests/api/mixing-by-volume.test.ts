/**
 * What is told in barrows goes in as barrows and comes out as what was told, where a yard has measured its own density; and
 * a bucket test afterwards leaves what went in as it was. Orchard scraps are of round numbers of our own; leaves are listed at
 * 237 kg/m³, and lie at this yard at 80.
 */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { figuresFrom } from '../support/figures-from.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const litres = (value: number) => ({ value, unit: 'L' });

interface Thing {
  id: string;
}

let api: TestApi;
let programme: Programme;
let yard: Yard;
let barrow: Thing;
beforeAll(async () => {
  api = await startApi();
  programme = await makeProgramme(api);
  yard = await makeYard(api, programme);
  const wet = { nitrogenPercentDry: 3, carbonToNitrogen: 15, moisturePercent: 75, bulkDensityKgM3: 600 };
  const own = { code: 'o-scraps', name: 'Orchard scraps', class: 'nitrogen' };
  await made(api, '/materials', { ...own, ...figuresFrom('Weighed here', wet) });
  const barrowOf = { siteId: yard.yard.id, code: 'B1', tare: kg(15), volume: litres(90) };
  barrow = await made<Thing>(api, '/containers', barrowOf, yard.manager.token);
});
afterAll(() => api.stop());

const read = async (path: string) => (await api.call('GET', path, { as: yard.operator.token })).body;
const add = (batch: Thing, facts: object) =>
  made(api, `/batches/${batch.id}/amendments`, { from: 'stock', ...facts }, yard.manager.token);
const bucket = (material: string, kgM3: number, facts: object = {}) => {
  const sample = { siteId: yard.yard.id, material, by: 'bucket test', bulkDensity: { kgM3 } };
  return made(api, '/material-measurements', { ...sample, ...facts }, yard.manager.token);
};
const leavesLeftKg = async () => {
  const { items } = await read(`/sites/${yard.yard.id}/stock`);
  return items.find(({ material }: { material: string }) => material === 'leaves').leftKg;
};

it('brings a batch into range by the barrows that it tells, and keeps their litres whatever is measured later', async () => {
  await bucket('leaves', 80, { occurredAt: '2026-03-02T16:00:00Z' });
  const amount = { containerId: barrow.id, count: 40 };
  const count = { siteId: yard.yard.id, material: 'leaves', amount };
  await made(api, '/stock-counts', count, yard.operator.token);
  const batch = await yard.begin();
  await add(batch, { material: 'o-scraps', mass: kg(400) });
  const before = await read(`/batches/${batch.id}/mix`);
  const told = await read(`/batches/${batch.id}/additions`);
  expect(told.state).toBe('found');
  const [leaves] = told.additions;
  expect(leaves).toMatchObject({ material: 'leaves', measured: { container: 'B1', containerId: barrow.id } });
  const { containerId, count: barrows } = leaves.measured;

  const added = await add(batch, { material: 'leaves', containers: { containerId, count: barrows } });
  expect(added).toMatchObject({ volumeL: barrows * 90, massKg: leaves.measured.massKg, warnings: [] });
  expect(leaves.measured.massKg).toBeCloseTo(barrows * 90 * 0.08, 3);
  const mix = await read(`/batches/${batch.id}/mix`);
  const { massKg, volumeL, carbonToNitrogen, moisturePercent, bulkDensityKgM3 } = mix;
  expect(told.afterMeasured).toMatchObject({
    massKg,
    volumeL,
    carbonToNitrogen,
    moisturePercent,
    bulkDensityKgM3,
  });
  expect(volumeL - before.volumeL).toBeCloseTo(barrows * 90, 3);
  expect((await read(`/batches/${batch.id}/additions`)).state).toBe('in-range');
  expect(await leavesLeftKg()).toBeCloseTo((40 - barrows) * 90 * 0.08, 3);

  await bucket('leaves', 160);
  const later = await read(`/batches/${batch.id}/mix`);
  const leavesIn = later.materials.find(({ code }: { code: string }) => code === 'leaves');
  expect(leavesIn).toMatchObject({ massKg: leaves.measured.massKg, bulkDensityKgM3: { typical: 160 } });
  const { ranges, materials, ...kept } = later;
  const { ranges: rangesThen, materials: materialsThen, ...then } = mix;
  expect(kept).toEqual(then);
  expect(materials).toHaveLength(materialsThen.length);
  // Those litres may weigh twice as much by the bucket of now.
  expect(ranges.bulkDensityKgM3.min).toBe(rangesThen.bulkDensityKgM3.min);
  expect(ranges.bulkDensityKgM3.max).toBeGreaterThan(rangesThen.bulkDensityKgM3.max);
});

it('has no more barrows of a heap than were counted, however light they prove to be', async () => {
  const counted = { siteId: yard.yard.id, material: 'straw-wheat' };
  const amount = { containerId: barrow.id, count: 10 };
  await made(api, '/stock-counts', { ...counted, amount }, yard.operator.token);
  const batch = await yard.begin();
  await add(batch, { material: 'straw-wheat', containers: { containerId: barrow.id, count: 2 } });
  await bucket('straw-wheat', 40);
  const straw = async () =>
    (await read(`/sites/${yard.yard.id}/stock`)).items.find(
      ({ material }: { material: string }) => material === 'straw-wheat',
    );
  expect(await straw()).toMatchObject({ countedL: 900, leftL: 720, leftKg: 28.8, usedBeyondCountKg: 0 });
  const more = await add(batch, {
    material: 'straw-wheat',
    containers: { containerId: barrow.id, count: 8.5 },
  });
  expect(more.warnings.map(({ text }: { text: string }) => text)).toEqual([
    expect.stringContaining('30.6 kg is more than the 28.8 kg left by the count of '),
  ]);
  expect(await straw()).toMatchObject({ leftL: 0, leftKg: 0, usedBeyondCountKg: 1.8 });
  // 4 kg that were weighed are 100 L of it.
  await made(api, '/stock-counts', { ...counted, amount }, yard.operator.token);
  await add(batch, { material: 'straw-wheat', mass: kg(4) });
  expect(await straw()).toMatchObject({ leftL: 800, leftKg: 32 });
});

it('keeps of a lot that came by volume the share of it that went in', async () => {
  const batch = await yard.begin();
  // 100 kg that were estimated from 200 L.
  const dropOffId = await lotAtHub1(api, programme, 100_000, { material: 'leaves', basis: 'volume' });
  const items = [{ dropOffId, mass: kg(25) }];
  await made(api, `/batches/${batch.id}/assignments`, { items }, yard.manager.token);
  expect(await read(`/batches/${batch.id}/mix`)).toMatchObject({
    ...{ massKg: 25, estimatedKg: 25, volumeL: 50, bulkDensityKgM3: 500 },
  });
});
