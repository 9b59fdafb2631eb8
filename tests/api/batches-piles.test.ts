import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, putRelease, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const m = (value: number) => ({ value, unit: 'm' });
const litres = (value: number) => ({ value, unit: 'L' });
const at = (day: number) => `2026-03-${String(day).padStart(2, '0')}T15:00:00.000Z`;
/** 10 m × 4 m × 1.5 m: 40 m³ under a rounded top. */
const windrow = { shape: 'rounded-windrow', length: m(10), width: m(4), height: m(1.5) };
/** 600 kg/m³. */
const bucket = { full: kg(13), empty: kg(1), volume: litres(20) };

let api: TestApi;
let programme: Programme;
let yard: Yard;
beforeAll(async () => {
  api = await startApi();
  programme = await makeProgramme(api);
  yard = await makeYard(api, programme);
});
afterAll(() => api.stop());

const post = (path: string, body: unknown, as = yard.manager.token) => api.call('POST', path, { as, body });
const measure = (id: string, body: object) =>
  made(api, `/batches/${id}/pile-measurements`, body, yard.operator.token);
const balanceOf = async (id: string) =>
  (await api.call('GET', `/batches/${id}/balance`, { as: yard.operator.token })).body;
const code = (answer: { body: any }) => answer.body.type.replace('urn:heapwright:problem:', '');
const pointers = (answer: { body: any }) => answer.body.errors.map((fault: any) => fault.pointer);

/** A batch of 30 t, half of it weighed. */
async function built(): Promise<string> {
  const { id } = await yard.begin();
  const lots = [
    await lotAtHub1(api, programme, 15_000_000),
    await lotAtHub1(api, programme, 15_000_000, { basis: 'volume' }),
  ];
  const items = lots.map((dropOffId) => ({ dropOffId }));
  await made(api, `/batches/${id as string}/assignments`, { items, occurredAt: at(4) }, yard.manager.token);
  return id;
}
const screen = (id: string, body: object) => made(api, `/batches/${id}/screenings`, body, yard.manager.token);

describe('pile measurements', () => {
  it('keeps what was typed beside what it comes to', async () => {
    const { id } = await yard.begin();
    const body = { ...windrow, density: bucket, note: 'after the turn', occurredAt: at(9) };
    expect(await measure(id, body)).toMatchObject({
      ...{ batchId: id, shape: 'rounded-windrow', occurredAt: at(9), note: 'after the turn', voidedAt: null },
      ...{ lengthM: 10, widthM: 4, topWidthM: null, heightM: 1.5, volumeL: 40_000 },
      ...{ densityKgM3: 600, massKg: 24_000, recordedBy: yard.operator.id },
      entered: { length: m(10), width: m(4), height: m(1.5), density: bucket },
    });
    const round = { shape: 'cone', circumference: { value: 22, unit: 'm' }, height: m(2) };
    expect(await measure(id, round)).toMatchObject({
      ...{ lengthM: null, widthM: 7.003, volumeL: 25_676.997, densityKgM3: null, massKg: null },
    });
    const { body: page } = await api.call('GET', `/batches/${id as string}/pile-measurements`, {
      as: yard.operator.token,
    });
    expect(page.items.map((item: any) => item.shape)).toEqual(['cone', 'rounded-windrow']);
  });

  it('is recorded once, voided once by a manager, and told in the audit trail', async () => {
    const { id } = await yard.begin();
    const body = { id: v7(), ...windrow };
    const path = `/batches/${id as string}/pile-measurements`;
    const first = await post(path, body, yard.operator.token);
    const again = await post(path, body, yard.operator.token);
    expect([first.status, again.status, again.body]).toEqual([201, 200, first.body]);
    expect(code(await post(path, { ...body, height: m(2) }))).toBe('other-body');
    expect((await post(`${path}/${body.id}/void`, { reason: 'x' }, yard.operator.token)).status).toBe(403);
    const voided = await post(`${path}/${body.id}/void`, { reason: 'the neighbour’s pile' });
    expect(voided.body).toMatchObject({ id: body.id, voidReason: 'the neighbour’s pile' });
    expect((await balanceOf(id)).pile).toBeNull();
    for (const action of ['pile-measurement.recorded', 'pile-measurement.voided']) {
      const lines = (await auditOf(api, action)).filter(({ subjectId }) => subjectId === body.id);
      expect(lines.map(({ siteId, detail }) => [siteId, detail.batchId])).toEqual([[yard.yard.id, id]]);
    }
  });

  it('is for the crew of the yard', async () => {
    const { id } = await yard.begin();
    const path = `/batches/${id as string}/pile-measurements`;
    expect((await api.call('POST', path, { body: windrow })).status).toBe(401);
    const { volunteer, otherManager } = programme.people;
    expect((await post(path, windrow, volunteer.token)).status).toBe(403);
    expect(code(await post(path, windrow, otherManager.token))).toBe('other-site');
    expect((await post(`/batches/${v7()}/pile-measurements`, windrow)).status).toBe(404);
  });

  it.each<[string, object, string]>([
    ['without its length', { shape: 'bin', width: m(1) }, '/length'],
    ['without its width', { shape: 'bin', length: m(1) }, '/width'],
    ['a windrow walked around', { ...windrow, circumference: m(20) }, '/circumference'],
    ['a top of what has none', { ...windrow, topWidth: m(1) }, '/topWidth'],
    ['a flat top of unknown width', { ...windrow, shape: 'flat-topped-windrow' }, '/topWidth'],
    [
      'a top wider than the base',
      { ...windrow, shape: 'flat-topped-windrow', topWidth: m(4.1) },
      '/topWidth',
    ],
    ['a cone with a length', { shape: 'cone', length: m(1), width: m(1) }, '/length'],
    ['a cone by both', { shape: 'cone', circumference: m(3), width: m(1) }, '/width'],
    ['a cone by neither', { shape: 'cone' }, '/width'],
    ['nothing', { ...windrow, length: m(0) }, '/length'],
    ['a hill', { ...windrow, length: m(1000) }, '/height'],
    [
      'what no tape shows',
      { shape: 'cone', width: { value: 0.1, unit: 'cm' }, height: { value: 0.1, unit: 'cm' } },
      '/height',
    ],
    ['an empty bucket', { ...windrow, density: { ...bucket, full: kg(1) } }, '/density/full'],
    ['a bucket without room', { ...windrow, density: { ...bucket, volume: litres(0) } }, '/density/volume'],
    ['a bucket of lead', { ...windrow, density: { ...bucket, full: kg(200) } }, '/density'],
    ['a batch not begun', { ...windrow, occurredAt: '2026-03-01T10:00:00Z' }, '/occurredAt'],
  ])('refuses %s', async (_, body, pointer) => {
    const { id } = await yard.begin();
    const refused = await post(`/batches/${id as string}/pile-measurements`, { height: m(1), ...body });
    expect([refused.status, pointers(refused)]).toEqual([422, [pointer]]);
    await post(`/batches/${id as string}/stage`, { to: 'condemned', reason: 'made for one test' });
  });

  it('asks for a second look at what is hardly a pile, or more than the bay or the mix holds', async () => {
    const site = await made(api, '/sites', {
      ...{ code: 'TT', name: 'Tern Trail yard', timeZone: 'America/Denver', runsBatches: true },
      ...{ takesDropOffs: false, jurisdictionId: programme.jurisdictions.larkHollow.id },
      bays: [{ code: 'T1', capacity: { value: 5, unit: 'yd3' } }, { code: 'T2' }],
    });
    const batch = { siteId: site.id, method: 'turned-windrow', occurredAt: at(3), bay: 'T1' };
    const { id } = await made(api, '/batches', batch);
    const chips = { from: 'stock', material: 'wood-chips', volume: litres(1000), occurredAt: at(4) };
    await made(api, `/batches/${id as string}/amendments`, chips);
    const sizes = { circumference: m(20), height: m(9) };
    const cone = await made(api, `/batches/${id as string}/pile-measurements`, { shape: 'cone', ...sizes });
    expect(cone.volumeL).toBeCloseTo(95_493, 0);
    expect(cone.warnings.map((one: any) => [one.code, one.pointer])).toEqual([
      ['more-than-the-bay', undefined],
      ['more-than-went-in', undefined],
      ['tall', '/height'],
      ['steep', '/height'],
    ]);
    expect(cone.warnings[0].text).toContain('bay T1');
    const box = { shape: 'bin', length: m(1), width: m(1), height: m(3) };
    const upToIt = await made(api, `/batches/${id as string}/pile-measurements`, box);
    expect([upToIt.volumeL, upToIt.warnings]).toEqual([3000, []]);
    await made(api, `/batches/${id as string}/moves`, { bay: 'T2' });
    const again = await made(api, `/batches/${id as string}/pile-measurements`, {
      ...{ shape: 'rounded-windrow', length: m(3), width: m(3), height: m(1) },
    });
    expect(again.warnings.map((one: any) => one.code)).toEqual(['more-than-went-in']);
    const path = `/batches/${id as string}/pile-measurements`;
    const { items } = (await api.call('GET', path, { as: api.coordinator })).body;
    expect(items.map((one: any) => one.warnings.length)).toEqual([1, 0, 4]);
  });

  it('goes on while anything may lie there, and no longer', async () => {
    const id = await built();
    await yard.enter(id, 'active', 'curing');
    await measure(id, windrow);
    await screen(id, { compost: kg(9000) });
    await putRelease(api, yard.manager.id, id);
    await measure(id, windrow);
    await yard.enter(id, 'emptied');
    const refused = await post(`/batches/${id}/pile-measurements`, windrow);
    expect([refused.status, code(refused)]).toEqual([409, 'stage-closed']);
  });
});

describe('the balance by a measured pile', () => {
  it('knows what lies there, what was lost, and what went in and out since', async () => {
    const id = await built();
    expect(await balanceOf(id)).toMatchObject({ stillHereKg: null, processLossKg: null, pile: null });
    const { id: measurement } = await measure(id, { ...windrow, density: bucket, occurredAt: at(20) });
    expect(await balanceOf(id)).toMatchObject({
      ...{ inputKg: 30_000, weighedKg: 15_000, estimatedKg: 15_000, sharedKg: 0 },
      ...{ stillHereKg: 24_000, processLossKg: 6000, yieldPercent: null },
      stillHere: 'When its pile was measured on 2026-03-20, it held 40000 L, weighed by a bucket of it.',
      pile: {
        id: measurement,
        occurredAt: at(20),
        shape: 'rounded-windrow',
        volumeL: 40_000,
        massKg: 24_000,
      },
      problem: null,
    });
    await yard.enter(id, 'active');
    const water = { from: 'water', volume: litres(500), occurredAt: at(21) };
    await made(api, `/batches/${id}/amendments`, water, yard.manager.token);
    const sample = { kind: 'maturity', outcome: 'information', finding: 'earthy', mass: kg(2) };
    await made(api, `/batches/${id}/samples`, sample, yard.manager.token);
    expect(await balanceOf(id)).toMatchObject({
      ...{ stillHereKg: 24_498, processLossKg: 6000 },
      stillHere: expect.stringMatching(/with what went in and came out since\.$/),
    });
    await yard.enter(id, 'curing');
    await screen(id, { overs: kg(1000) });
    expect(await balanceOf(id)).toMatchObject({
      ...{ stillHereKg: null, processLossKg: null },
      stillHere: 'It was screened since its pile was measured: measure what lies there again.',
    });
  });

  it('takes the density of its screened compost where no bucket was weighed', async () => {
    const id = await built();
    await yard.enter(id, 'active', 'curing');
    await measure(id, { ...windrow, occurredAt: at(20) });
    expect(await balanceOf(id)).toMatchObject({
      stillHereKg: null,
      stillHere:
        'When its pile was measured on 2026-03-20, no bucket of it was weighed: its mass is not known.',
    });
    await screen(id, { compost: kg(500), compostVolume: litres(1000) });
    await measure(id, { shape: 'bin', length: m(2), width: m(2), height: m(1) });
    expect(await balanceOf(id)).toMatchObject({
      stillHereKg: 2000,
      stillHere: expect.stringMatching(/it held 4000 L, weighed by the density of its screened compost\.$/),
    });
  });

  it('tells what it yielded and how much smaller it is, by volume', async () => {
    const id = await built();
    await yard.enter(id, 'active', 'curing');
    await measure(id, windrow);
    const before = await balanceOf(id);
    const { body: mix } = await api.call('GET', `/batches/${id}/mix`, { as: yard.operator.token });
    expect(before).toMatchObject({ volumeInL: mix.volumeL, yieldByVolumePercent: null });
    expect(mix.volumeL).toBeGreaterThan(50_000);
    expect(before.volumeLostL).toBeCloseTo(mix.volumeL - 40_000, 3);
    expect(before.pile.outdatedAt).toBeNull();
    const screened = await screen(id, { compost: kg(5000), compostVolume: litres(9000) });
    expect(await balanceOf(id)).toMatchObject({
      ...{ volumeLostL: null, pile: { volumeL: 40_000, outdatedAt: screened.occurredAt } },
    });
    const yielded = Math.round((9000 / mix.volumeL) * 1000) / 10;
    expect(await balanceOf(id)).toMatchObject({ compostVolumeL: 9000, yieldByVolumePercent: yielded });
    await screen(id, { compost: kg(1) });
    expect(await balanceOf(id)).toMatchObject({ compostVolumeL: null, yieldByVolumePercent: null });
  });

  it('says so where a pile is found heavier than all that went in', async () => {
    const id = await built();
    await measure(id, { ...windrow, density: { ...bucket, full: kg(21) } });
    expect(await balanceOf(id)).toMatchObject({
      ...{ stillHereKg: 40_000, excessKg: 10_000, processLossKg: null },
      problem: expect.stringMatching(/^10000 kg more came out and lies there, by its pile, than went in\./),
    });
  });
});
