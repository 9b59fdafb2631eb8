/**
 * Figures of the mix against Cornell Composting, "Moisture and Carbon/Nitrogen Ratio Calculation"
 * (compost.css.cornell.edu/calc): grass clippings and leaves; its C/N inputs and answer are from memory, as in
 * tests/reference/materials/mix.test.ts. Ranges: LSU AgCenter publication 3838-D.
 */
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MixService } from '../../apps/api/mixing/mix.service.js';
import { startApi, type TestApi } from '../support/api.js';
import { figuresFrom } from '../support/figures-from.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, sqlOf, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const CORNELL = 'Cornell Composting, calc/2';

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
const read = async (batch: { id: string }, what: string) =>
  (await api.call('GET', `/batches/${batch.id}/${what}`, { as: yard.operator.token })).body;
const add = (batch: { id: string }, facts: object) =>
  made<{ id: string }>(
    api,
    `/batches/${batch.id}/amendments`,
    { from: 'stock', material: 'wood-chips', ...facts },
    yard.manager.token,
  );
const assign = async (batch: { id: string }, massG: number, facts: object = {}) => {
  const dropOffId = await lotAtHub1(api, programme, massG, facts);
  await made(api, `/batches/${batch.id}/assignments`, { items: [{ dropOffId }] }, yard.manager.token);
  return dropOffId;
};

describe('mix', () => {
  beforeAll(async () => {
    const grass = { nitrogenPercentDry: 2.4, carbonToNitrogen: 18.75, moisturePercent: 77 };
    const leaves = { nitrogenPercentDry: 0.75, carbonToNitrogen: 66.67, moisturePercent: 35 };
    const add = (code: string, name: string, figures: object) =>
      made(api, '/materials', { code, name, class: 'neutral', ...figuresFrom(CORNELL, figures) });
    await add('c-grass', 'Grass', grass);
    await add('c-leaves', 'Leaves', leaves);
  });

  it('comes to Cornell’s 60 % moisture for 10 parts of grass and 6.8 of leaves', async () => {
    const batch = await yard.begin();
    await add(batch, { material: 'c-grass', mass: kg(10) });
    await assign(batch, 6_800, { material: 'c-leaves' });
    const mix = await read(batch, 'mix');
    expect(mix).toMatchObject({
      massKg: 16.8,
      moisturePercent: 60,
      volumeL: null,
      bulkDensityKgM3: null,
      knownMassPercent: { carbonToNitrogen: 100, moisturePercent: 100, bulkDensityKgM3: 0 },
      missing: [
        { material: 'c-grass', figure: 'bulkDensityKgM3' },
        { material: 'c-leaves', figure: 'bulkDensityKgM3' },
      ],
      materials: [
        { code: 'c-grass', massKg: 10, estimatedKg: 0, nitrogenPercentDry: { typical: 2.4 } },
        {
          code: 'c-leaves',
          massKg: 6.8,
          carbonToNitrogen: { typical: 66.67, source: CORNELL, measuredOn: null },
        },
      ],
    });
    const moisture = mix.targets.filter(({ figure }: { figure: string }) => figure === 'moisturePercent');
    expect(moisture).toMatchObject([
      { grade: 'reasonable', min: 40, max: 65, value: 60, state: 'within' },
      { grade: 'preferred', min: 50, max: 55, value: 60, state: 'above' },
    ]);
    for (const { figure, state, source } of mix.targets) {
      expect(source).toContain(figure === 'freeAirSpacePercent' ? 'BioCycle' : 'LSU AgCenter');
      if (figure === 'bulkDensityKgM3') expect(state).toBe('unknown');
    }
  });

  it('comes to Cornell’s C:N of 30 for 10 parts of grass and 3.5 of leaves, and below without them', async () => {
    const batch = await yard.begin();
    await add(batch, { material: 'c-grass', mass: kg(10) });
    const grassAlone = await read(batch, 'mix');
    expect(grassAlone.targets[0]).toMatchObject({ figure: 'carbonToNitrogen', value: 18.8, state: 'below' });
    await add(batch, { material: 'c-leaves', mass: kg(3.5) });
    const mix = await read(batch, 'mix');
    expect(mix.carbonToNitrogen).toBeCloseTo(30, 0);
    expect(mix.targets[0]).toMatchObject({
      figure: 'carbonToNitrogen',
      grade: 'reasonable',
      state: 'within',
    });
  });

  it('counts what is in the batch, and neither what was taken back nor water given later', async () => {
    const batch = await yard.begin();
    const wrong = await add(batch, { material: 'c-leaves', mass: kg(50) });
    await post(`/batches/${batch.id as string}/amendments/${wrong.id}/void`, { reason: 'other bay' });
    await add(batch, { material: 'c-grass', mass: kg(10) });
    await add(batch, { from: 'water', material: undefined, mass: kg(2) });
    const before = await read(batch, 'mix');
    expect(before).toMatchObject({ massKg: 12 });
    // (10 × 77 + 2 × 100) ÷ 12
    expect(before.moisturePercent).toBe(80.8);
    await sqlOf(api).query(
      `INSERT INTO watering (id, batch_id, occurred_at, volume_ml, entered, body_sha256, recorded_by)
       VALUES ($1, $2, now(), 100000, '{}', '\\x00', $3)`,
      [v7(), batch.id, yard.manager.id],
    );
    expect(await read(batch, 'mix')).toEqual(before);
    expect((await read(batch, 'balance')).inputKg).toBe(112);
  });

  it('says what it lacks of a batch without figures, and of an empty one', async () => {
    expect(await read(await yard.begin(), 'mix')).toMatchObject({
      massKg: 0,
      carbonToNitrogen: null,
      moisturePercent: null,
      missing: [],
      materials: [],
    });
    const batch = await yard.begin();
    await made(api, '/materials', { code: 'spent-hops', name: 'Spent hops', class: 'nitrogen' });
    await add(batch, { material: 'spent-hops', mass: kg(10) });
    const mix = await read(batch, 'mix');
    expect(mix.missing).toHaveLength(4);
    for (const { state } of mix.targets) expect(state).toBe('unknown');
  });
});

describe('the mix as a batch was built', () => {
  it('leaves out what went in when it was hot already, and tells of when its figures are', async () => {
    const batch = await yard.begin();
    await add(batch, { material: 'c-grass', mass: kg(10), occurredAt: '2026-03-03T16:00:00Z' });
    const building = await read(batch, 'mix');
    expect(building.figuresAsOf).toBeNull();
    const left = { to: 'active', occurredAt: '2026-03-04T16:00:00Z' };
    await made(api, `/batches/${batch.id as string}/stage`, left, yard.manager.token);
    await add(batch, { material: 'c-leaves', mass: kg(30), occurredAt: '2026-03-05T16:00:00Z' });
    const active = await read(batch, 'mix');
    expect(active).toMatchObject({ massKg: 10, figuresAsOf: '2026-03-04T16:00:00.000Z' });
    expect(active.carbonToNitrogen).toBe(building.carbonToNitrogen);
    expect((await read(batch, 'balance')).inputKg).toBe(40);
    // What was told late of the time when it was built is in it.
    await add(batch, { material: 'c-leaves', mass: kg(5), occurredAt: '2026-03-04T15:00:00Z' });
    expect((await read(batch, 'mix')).massKg).toBe(15);
  });

  it('tells what was weighed, what was estimated, and of how much a figure is unknown', async () => {
    const batch = await yard.begin();
    await assign(batch, 4_000);
    await assign(batch, 6_000, { basis: 'volume' });
    await add(batch, { material: 'wood-chips', volume: { value: 100, unit: 'L' } });
    await add(batch, { material: 'c-grass', mass: kg(10) });
    const mix = await read(batch, 'mix');
    const [, chips] = mix.materials.filter(({ code }: { code: string }) => code !== 'c-grass');
    expect(chips).toMatchObject({ code: 'wood-chips', estimatedKg: chips.massKg });
    expect(mix.estimatedKg).toBeCloseTo(6 + Number(chips.massKg), 9);
    // Grass has no density here.
    expect(mix).toMatchObject({ weighedKg: 14, unknownKg: 10, volumeL: null });
    expect(mix.materials[1]).toMatchObject({ code: 'food-scraps', massKg: 10, estimatedKg: 6 });
  });

  it('is held against the permit of its day first, and against publications after', async () => {
    const { id: siteId } = yard.yard;
    const mixTargets = [{ figure: 'carbonToNitrogen', max: 15 }];
    const terms = { siteId, reference: 'HS-MIX', validFrom: '2026-03-01', validTo: '2026-03-10', mixTargets };
    await made(api, '/permits', terms);
    const batch = await yard.begin();
    await add(batch, { material: 'c-grass', mass: kg(10), occurredAt: '2026-03-03T16:00:00Z' });
    const first = async () => (await read(batch, 'mix')).targets[0];
    expect(await first()).toMatchObject({ figure: 'carbonToNitrogen', grade: 'reasonable' });
    const left = { to: 'active', occurredAt: '2026-03-04T16:00:00Z' };
    await made(api, `/batches/${batch.id as string}/stage`, left, yard.manager.token);
    expect(await first()).toEqual({
      ...{ figure: 'carbonToNitrogen', grade: 'permit', min: null, max: 15 },
      ...{ value: 18.8, state: 'above', sure: true, source: 'Permit HS-MIX' },
    });
  });
});

describe('figures that cannot be', () => {
  const stated = (code: string, figures: Record<string, number>) =>
    // The API refuses these, so they are put in beside it.
    Promise.all(
      Object.entries(figures).map(([figure, typical]) =>
        sqlOf(api).query(
          `INSERT INTO material_figure (material_code, figure, typical, source, verification)
           VALUES ($1, $2, $3, 'mistyped', 'local')`,
          [code, figure, typical],
        ),
      ),
    );
  const strictly = (batchId: string) => api.app.get(MixService, { strict: false }).carbonToNitrogen(batchId);

  it('are named where they cannot be together, and only the balance does without them', async () => {
    const batch = await yard.begin();
    await made(api, '/materials', { code: 'wishful', name: 'Wishful', class: 'nitrogen' });
    await stated('wishful', { nitrogenPercentDry: 50, carbonToNitrogen: 10, moisturePercent: 13 });
    await add(batch, { material: 'wishful', mass: kg(1) });
    await add(batch, { material: 'c-grass', mass: kg(3) });
    const mix = await read(batch, 'mix');
    expect(mix.contradicted).toEqual([
      {
        material: 'wishful',
        // 50 % nitrogen at C:N 10 is 500 % carbon.
        detail: expect.stringContaining('C:N makes carbon, nitrogen and ash 550 %'),
      },
    ]);
    // (1 × 13 + 3 × 77) ÷ 4
    expect(mix).toMatchObject({ massKg: 4, moisturePercent: 61, carbonToNitrogen: 18.8 });
    expect(mix.knownMassPercent).toMatchObject({ moisturePercent: 100, carbonToNitrogen: 75 });
    // A rule is not judged by a part of it.
    expect(await strictly(batch.id as string)).toEqual({ value: null, missing: ['wishful'] });
  });

  it('are named where what was measured leaves no place for the C:N of the list', async () => {
    const batch = await yard.begin();
    const figures = { nitrogenPercentDry: 0.9, carbonToNitrogen: 60, moisturePercent: 38 };
    await made(api, '/materials', {
      ...{ code: 'e-leaves', name: 'Leaves E', class: 'carbon' },
      ...figuresFrom('A handbook', figures),
    });
    const sample = {
      siteId: yard.yard.id,
      material: 'e-leaves',
      by: 'Fell Laboratory',
      nitrogenPercentDry: 31,
    };
    await made(api, '/material-measurements', sample, yard.manager.token);
    await add(batch, { material: 'e-leaves', mass: kg(3) });
    const mix = await read(batch, 'mix');
    expect(mix.carbonToNitrogen).toBeNull();
    expect(mix.contradicted).toEqual([
      {
        material: 'e-leaves',
        detail:
          'the nitrogen of 31 % of the dry matter that was measured here cannot go with the C:N of 60 that the list has, and nothing else says the C:N',
      },
    ]);
    expect(mix).toMatchObject({ moisturePercent: 38 });
  });

  it('count as unknown, all of the material, where one of them cannot be at all', async () => {
    const batch = await yard.begin();
    await made(api, '/materials', { code: 'soaked', name: 'Soaked', class: 'nitrogen' });
    await stated('soaked', { nitrogenPercentDry: 2, carbonToNitrogen: 20, moisturePercent: 100 });
    await add(batch, { material: 'soaked', mass: kg(1) });
    await add(batch, { material: 'c-grass', mass: kg(3) });
    const mix = await read(batch, 'mix');
    expect(mix.contradicted).toEqual([
      { material: 'soaked', detail: 'moisture must be below 100: only water has no dry matter' },
    ]);
    expect(mix).toMatchObject({ massKg: 4, moisturePercent: 77, knownMassPercent: { moisturePercent: 75 } });
    expect(mix.materials[1]).toMatchObject({
      code: 'soaked',
      nitrogenPercentDry: null,
      moisturePercent: null,
    });
    expect(await strictly(batch.id as string)).toEqual({ value: null, missing: ['soaked'] });
  });
});

describe('the C:N that a rule is held against', () => {
  const strictly = (batchId: string) => api.app.get(MixService, { strict: false }).carbonToNitrogen(batchId);

  it('needs nothing of minerals, charcoal and water, and all of everything else', async () => {
    const { id } = (await yard.begin()) as { id: string };
    expect(await strictly(id)).toEqual({ value: null, missing: [] });
    for (const [code, kind] of [
      ['rock-dust', 'mineral'],
      ['charred', 'inert-carbon'],
    ])
      await made(api, '/materials', { code, name: code, class: 'neutral', kind });
    await add({ id }, { material: 'rock-dust', mass: kg(5) });
    await add({ id }, { material: 'charred', mass: kg(5) });
    await add({ id }, { from: 'water', material: undefined, mass: kg(20) });
    expect(await strictly(id)).toEqual({ value: null, missing: [] });
    await add({ id }, { material: 'c-grass', mass: kg(10) });
    expect(await strictly(id)).toEqual({ value: expect.closeTo(18.75, 9), missing: [] });
    await made(api, '/materials', { code: 'mystery', name: 'Mystery', class: 'nitrogen' });
    await add({ id }, { material: 'mystery', mass: { value: 1, unit: 'g' } });
    expect(await strictly(id)).toEqual({ value: null, missing: ['mystery'] });
    expect((await read({ id }, 'mix')).carbonToNitrogen).toBe(18.8);
  });
});

describe('ranges and cautions', () => {
  it('carries the ranges of the materials into the mix, and says where none is known', async () => {
    const moist = (typical: number, min: number, max: number) => ({ typical, min, max, source: 'Weighed' });
    const add1 = (code: string, moisturePercent: object, bulkDensityKgM3: object) =>
      made(api, '/materials', { code, name: code, class: 'neutral', moisturePercent, bulkDensityKgM3 });
    await add1('damp', moist(75, 70, 80), { typical: 500, source: 'Weighed' });
    await add1('drier', moist(30, 20, 40), { typical: 250, source: 'Weighed' });
    const batch = await yard.begin();
    await add(batch, { material: 'damp', mass: kg(10) });
    await add(batch, { material: 'drier', mass: kg(10) });
    const mix = await read(batch, 'mix');
    expect(mix).toMatchObject({
      moisturePercent: 52.5,
      ranges: { moisturePercent: { min: 45, max: 60 }, carbonToNitrogen: null },
      // 10 kg at 500 kg/m³ and 10 at 250 are 20 and 40 L.
      ...{ volumeL: 60, bulkDensityKgM3: 333.3 },
    });
    expect(mix.withoutRange).toContainEqual({ material: 'damp', figure: 'bulkDensityKgM3' });
    expect(mix.method).toContain('exact least and greatest');
    expect(mix.method).toContain('no more than 60 % of the dry matter');
    const [reasonable, preferred] = mix.targets.filter(
      ({ figure }: { figure: string }) => figure === 'moisturePercent',
    );
    // 45 to 60 lies within 40 to 65, and not all of it within 50 to 55.
    expect(reasonable).toMatchObject({ state: 'within', sure: true });
    expect(preferred).toMatchObject({ state: 'within', sure: false });
  });

  it('tells what to mind, once, with the materials that it is about', async () => {
    const batch = await yard.begin();
    await add(batch, { material: 'hay', mass: kg(10) });
    await add(batch, { material: 'straw-wheat', mass: kg(10) });
    const { cautions } = await read(batch, 'mix');
    const about = cautions.filter(({ code }: { code: string }) => code === 'herbicide-risk');
    expect(about).toMatchObject([{ materials: ['hay', 'straw-wheat'], source: expect.any(String) }]);
    expect(about[0].text).toContain('bioassay');
  });
});

describe('who may read the mix', () => {
  it('is an operator of the yard', async () => {
    const batch = await yard.begin();
    const asked = async (as?: string) => {
      const answer = await api.call('GET', `/batches/${batch.id as string}/mix`, as ? { as } : {});
      return [answer.status, answer.body.type?.split(':').at(-1)];
    };
    const { volunteer, otherManager } = programme.people;
    expect(await asked()).toEqual([401, 'not-signed-in']);
    expect(await asked(volunteer.token)).toEqual([403, 'not-allowed']);
    expect(await asked(otherManager.token)).toEqual([403, 'other-site']);
    expect(await asked(yard.operator.token)).toEqual([200, undefined]);
    const nobody = await api.call('GET', `/batches/${v7()}/mix`, { as: yard.operator.token });
    expect(nobody.status).toBe(404);
  });
});
