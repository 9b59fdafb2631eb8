import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { v7 } from 'uuid';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
/** Whole grams, and a few of them for room. */
const about = (massKg: number) => expect.closeTo(massKg, 1) as number;
const source = 'a sample of our own';
const figure = (typical: number) => ({ typical, source });

/** Half of each is water, so that what is asked can be worked out by hand. */
const ownMaterials = [
  { code: 'greens', name: 'Kitchen greens', nitrogen: 4, ratio: 15, density: 500 },
  { code: 'park-leaves', name: 'Park leaves', nitrogen: 1, ratio: 60, density: 200 },
  {
    code: 'ditch-hay',
    name: 'Ditch hay',
    nitrogen: 0.5,
    ratio: 80,
    density: 100,
    traits: ['herbicide-risk'],
  },
].map(({ code, name, nitrogen, ratio, density, traits = [] }) => ({
  ...{ code, name, class: 'neutral', traits },
  nitrogenPercentDry: figure(nitrogen),
  carbonToNitrogen: figure(ratio),
  moisturePercent: figure(50),
  bulkDensityKgM3: figure(density),
}));

describe('what to ask donors for', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    for (const material of ownMaterials) await made(api, '/materials', material);
    await made(api, '/permits', {
      ...{ siteId: yard.yard.id, reference: 'HS-1', validFrom: '2025-01-01' },
      materials: ['greens', 'park-leaves', 'ditch-hay'],
      mixTargets: [
        { figure: 'carbonToNitrogen', min: 20 },
        { figure: 'moisturePercent', min: 1 },
        { figure: 'bulkDensityKgM3', max: 2000 },
      ],
    });
  });
  afterAll(() => api.stop());

  const wanted = (siteId = yard.yard.id, as = yard.operator.token) =>
    api.call('GET', `/sites/${siteId}/wanted`, { as });
  const build = async (massG: number): Promise<{ id: string; code: string }> => {
    const batch = (await yard.begin()) as { id: string; code: string };
    const dropOffId = await lotAtHub1(api, programme, massG, { material: 'greens' });
    await made(api, `/batches/${batch.id}/assignments`, { items: [{ dropOffId }] }, yard.manager.token);
    return batch;
  };
  const count = (material: string, amount: object) =>
    made(api, '/stock-counts', { siteId: yard.yard.id, material, amount }, yard.operator.token);

  it('asks for nothing where nothing is built', async () => {
    const { body } = await wanted();
    expect(body).toMatchObject({ siteId: yard.yard.id, batches: [], asks: [] });
    expect(body.text).toEqual(['Heron Street yard asks for nothing: no batch is being built.']);
  });

  it('claims nothing of a batch of which nothing is known', async () => {
    const empty = (await yard.begin()) as { id: string; code: string };
    const { body } = await wanted();
    expect(body.batches).toEqual([{ id: empty.id, code: empty.code, state: 'unknown' }]);
    expect(body.text).toEqual([
      'Heron Street yard asks for nothing now.',
      `Too little is known of ${empty.code} to say what to ask for.`,
    ]);
    expect(body.notes).toEqual([`${empty.code}: too little is known of what is in it to say what it lacks.`]);
    const condemned = { to: 'condemned', reason: 'Begun by mistake' };
    await made(api, `/batches/${empty.id}/stage`, condemned, yard.manager.token);
  });

  it('hands the stock out batch by batch, and asks for what the last ones lack', async () => {
    const first = await build(100_000);
    const second = await build(100_000);
    await count('park-leaves', { mass: kg(70) });
    // 100 kg of greens hold 2 kg of N and 30 kg of C, and a kilogram of leaves 5 g and 300 g: 50 kg of leaves make 20:1.
    // The first batch has them; the second has 20 kg and lacks 30 kg. Hay holds 2.5 g and 200 g: beside those, 40 kg of it.
    const { body } = await wanted();
    expect(body.batches).toEqual([
      { id: first.id, code: first.code, state: 'found' },
      { id: second.id, code: second.code, state: 'impossible' },
    ]);
    expect(body.asks).toEqual([
      {
        batches: [second.code],
        anyOf: [
          {
            material: 'park-leaves',
            name: 'Park leaves',
            massKg: about(30),
            volumeL: expect.closeTo(150, 0),
            measured: null,
          },
          {
            material: 'ditch-hay',
            name: 'Ditch hay',
            massKg: about(40),
            volumeL: expect.closeTo(400, 0),
            measured: null,
          },
        ],
        ...{ more: 0, allOf: [] },
      },
    ]);
    expect(body.text).toEqual([
      expect.stringMatching(
        /^Heron Street yard asks for about 15\d L \(40 gal; 31 kg, 67 lb\) of Park leaves or about 40\d L \(10\d gal; 41 kg, 89 lb\) of Ditch hay: any one of these would do\.$/,
      ),
      expect.stringContaining('no weedkiller'),
    ]);
  });

  it('asks once for all batches that lack the same, in containers of the yard where it has any', async () => {
    const third = await build(50_000);
    const barrow = { siteId: yard.yard.id, code: 'B1', tare: kg(12), volume: { value: 90, unit: 'L' } };
    const { id: containerId } = await made(api, '/containers', barrow);
    await made(api, '/materials', { code: 'gravel', name: 'Gravel', class: 'neutral' });
    await count('gravel', { containerId, count: 1 });
    const { body } = await wanted();
    const [ask, ...more] = body.asks;
    expect(more).toEqual([]);
    expect(ask.batches).toEqual([body.batches[1].code, third.code]);
    // The third has none of the leaves: 25 kg of them, or 33.334 kg of hay.
    expect(ask.anyOf).toMatchObject([
      {
        material: 'park-leaves',
        massKg: about(55),
        measured: { container: 'B1', volumeL: 90, count: 3.5 },
      },
      { material: 'ditch-hay', massKg: about(73.334), measured: { count: 8.5 } },
    ]);
  });

  it('asks for nothing more once enough lies there', async () => {
    await count('park-leaves', { mass: kg(500) });
    const { body } = await wanted();
    expect(body.asks).toEqual([]);
    expect(new Set(body.batches.map(({ state }: { state: string }) => state))).toEqual(new Set(['found']));
    expect(body.text).toEqual(['Heron Street yard asks for nothing: what its batches lack lies there.']);
  });

  it('goes by what is published where there is no permit, and asks nobody for what needs care', async () => {
    const { yard2, people } = programme;
    const batch = await made(api, '/batches', {
      ...{ siteId: yard2.id, bay: 'B1', method: 'turned-windrow', occurredAt: '2026-03-03T15:00:00Z' },
    });
    const leaves = { from: 'stock', material: 'wood-chips', mass: kg(200) };
    await made(api, `/batches/${batch.id}/amendments`, leaves);
    await made(api, `/batches/${batch.id}/amendments`, { from: 'water', volume: { value: 150, unit: 'L' } });
    const { status, body } = await wanted(yard2.id, people.otherManager.token);
    expect([status, body.batches[0].state]).toEqual([200, 'impossible']);
    const named: string[] = body.asks[0].anyOf.map(({ material }: { material: string }) => material);
    expect(named.length).toBeGreaterThan(1);
    const careful = [
      'horse-manure-straw',
      'cow-manure',
      'chicken-litter',
      'wood-ash',
      'meat-scraps',
      'overs',
    ];
    expect(named.filter((code) => careful.includes(code) || code.includes('manure'))).toEqual([]);
  });

  it('tells the crew of what nobody can help', async () => {
    const place = await made(api, '/sites', {
      ...{
        code: 'LY',
        name: 'Lone yard',
        timeZone: 'America/Denver',
        takesDropOffs: false,
        runsBatches: true,
      },
      ...{ jurisdictionId: programme.jurisdictions.larkHollow.id, bays: [{ code: 'A1' }] },
    });
    const terms = { siteId: place.id, reference: 'GL-1', validFrom: '2025-01-01', materials: ['greens'] };
    await made(api, '/permits', { ...terms, mixTargets: [{ figure: 'moisturePercent', max: 45 }] });
    const batch = await made(api, '/batches', {
      ...{ siteId: place.id, bay: 'A1', method: 'turned-windrow', occurredAt: '2026-03-03T15:00:00Z' },
    });
    const greens = { from: 'stock', material: 'greens', mass: kg(100) };
    await made(api, `/batches/${batch.id}/amendments`, greens);
    const { body } = await wanted(place.id as string, api.coordinator);
    expect(body.batches).toMatchObject([{ code: batch.code, state: 'impossible' }]);
    expect(body.asks).toEqual([]);
    const code = batch.code as string;
    expect(body.beyondHelp).toEqual([code]);
    expect(body.text).toEqual([
      'Lone yard asks for nothing now.',
      `Nothing that donors could bring would put ${code} into range.`,
    ]);
    expect(body.notes).toEqual([
      `${code}: no listed material would bring it into range, alone or with others; see what to add to it, and look at the permit.`,
    ]);
  });

  it('lets in who works at that yard', async () => {
    const { volunteer, otherManager } = programme.people;
    expect((await api.call('GET', `/sites/${yard.yard.id}/wanted`)).status).toBe(401);
    expect((await wanted(yard.yard.id, volunteer.token)).body.type).toBe(
      'urn:heapwright:problem:not-allowed',
    );
    expect((await wanted(yard.yard.id, otherManager.token)).body.type).toBe(
      'urn:heapwright:problem:other-site',
    );
    expect((await wanted(v7(), api.coordinator)).status).toBe(404);
  });
});
