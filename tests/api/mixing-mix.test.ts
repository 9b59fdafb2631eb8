/**
 * Figures of the mix against Cornell Composting, "Moisture and Carbon/Nitrogen Ratio Calculation"
 * (compost.css.cornell.edu/calc): grass clippings and leaves; its C/N inputs and answer are from memory, as in
 * tests/reference/materials/mix.test.ts. Ranges: LSU AgCenter publication 3838-D.
 */
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { figuresFrom } from '../support/figures-from.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, sqlOf, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });

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
    const source = 'Cornell Composting, calc/2';
    const add = (code: string, name: string, figures: object) =>
      made(api, '/materials', { code, name, class: 'neutral', ...figuresFrom(source, figures) });
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
        { code: 'c-grass', massKg: 10, nitrogenPercentDry: 2.4 },
        { code: 'c-leaves', massKg: 6.8, carbonToNitrogen: 66.67 },
      ],
    });
    const moisture = mix.targets.filter(({ figure }: { figure: string }) => figure === 'moisturePercent');
    expect(moisture).toMatchObject([
      { grade: 'reasonable', min: 40, max: 65, value: 60, state: 'within' },
      { grade: 'preferred', min: 50, max: 55, value: 60, state: 'above' },
    ]);
    for (const { figure, state, source } of mix.targets) {
      expect(source).toContain('LSU AgCenter');
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

describe('a mix of a material whose figures cannot be', () => {
  it('is refused with the name of that material', async () => {
    const batch = await yard.begin();
    // 50 % nitrogen at C:N 10 would be 500 % carbon.
    const figures = figuresFrom('mistyped', { carbonToNitrogen: 10, moisturePercent: 10 });
    await made(api, '/materials', { code: 'wishful', name: 'Wishful', class: 'nitrogen', ...figures });
    // Which the API refuses, and an earlier version of it did not.
    await sqlOf(api).query(
      `INSERT INTO material_figure (material_code, figure, typical, source, verification)
       VALUES ('wishful', 'nitrogenPercentDry', 50, 'mistyped', 'local')`,
    );
    await add(batch, { material: 'wishful', mass: kg(1) });
    const answer = await api.call('GET', `/batches/${batch.id as string}/mix`, { as: yard.operator.token });
    expect([answer.status, answer.body.detail]).toEqual([409, expect.stringContaining('wishful')]);
  });
});
