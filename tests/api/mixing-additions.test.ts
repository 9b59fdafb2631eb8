/**
 * What to add, asked of a yard: the arithmetic is tested against a second solver in tests/reference/mix. Figures of the
 * materials here are round numbers of our own.
 */
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { figuresFrom } from '../support/figures-from.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, sqlOf, type Yard } from '../support/yard-work.js';

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
  const manager = yard.manager.token;
  const own = (code: string, name: string, kind: string, figures: object) =>
    made(api, '/materials', { code, name, class: kind, ...figuresFrom('Weighed here', figures) });
  const wet = { nitrogenPercentDry: 3, carbonToNitrogen: 15, moisturePercent: 80, bulkDensityKgM3: 600 };
  const dry = { nitrogenPercentDry: 0.5, carbonToNitrogen: 100, moisturePercent: 20, bulkDensityKgM3: 200 };
  await own('o-scraps', 'Orchard scraps', 'nitrogen', wet);
  await own('o-chips', 'Orchard chips', 'carbon', dry);
  await own('o-peat', 'Dark stuff', 'carbon', {});
  const volume = litres(90);
  const tare = kg(15);
  barrow = await made<Thing>(api, '/containers', { siteId: yard.yard.id, code: 'B1', tare, volume }, manager);
});
afterAll(() => api.stop());

const add = (batchId: string, material: string, mass: number) =>
  made(
    api,
    `/batches/${batchId}/amendments`,
    material === 'water'
      ? { from: 'water', mass: kg(mass) }
      : { from: 'stock', material, mass: kg(mass), occurredAt: '2026-03-03T16:00:00Z' },
    yard.manager.token,
  );
const count = (material: string, amount: object, facts: object = {}) => {
  const body = { siteId: yard.yard.id, material, amount, ...facts };
  return made(api, '/stock-counts', body, yard.operator.token);
};
const asked = async (batchId: string, query = '') =>
  (await api.call('GET', `/batches/${batchId}/additions${query}`, { as: yard.operator.token })).body;
const mixed = async (batchId: string) =>
  (await api.call('GET', `/batches/${batchId}/mix`, { as: yard.operator.token })).body;
const states = (targets: { figure: string; grade: string; state: string }[], grade = 'reasonable') =>
  Object.fromEntries(
    targets.filter((one) => one.grade === grade).map(({ figure, state }) => [figure, state]),
  );

describe('what to add, with nothing counted in stock', () => {
  it('has water alone, says what cannot be met, and what would help', async () => {
    const { id } = (await yard.begin()) as Thing;
    await add(id, 'o-scraps', 100);
    const answer = await asked(id);
    expect(answer).toMatchObject({ state: 'impossible', steps: [], additions: [], after: null });
    expect(states(answer.targets)).toEqual({
      ...{ carbonToNitrogen: 'below', moisturePercent: 'above', bulkDensityKgM3: 'within' },
    });
    // Water lowers neither: C:N stays at 15, and moisture is nearest with none of it.
    expect(answer.unmet).toEqual([
      {
        ...{ figure: 'carbonToNitrogen', nearest: 15 },
        text: expect.stringMatching(/^C:N comes to 15 at the nearest, and 20 to 40 is asked \(LSU/),
      },
      { figure: 'moisturePercent', nearest: 80, text: expect.stringContaining('Moisture comes to 80 %') },
    ]);
    expect(answer.wouldHelp.length).toBeGreaterThan(0);
    const risky = ['meat-scraps', 'fish-scraps', 'dairy', 'cow-manure', 'horse-manure-straw', 'wood-ash'];
    for (const { material } of answer.wouldHelp) expect(risky).not.toContain(material);
  });

  it('says that too little is known of a batch without figures, or without anything', async () => {
    const { id } = (await yard.begin()) as Thing;
    const empty = await asked(id);
    expect(empty).toMatchObject({ state: 'unknown', steps: [], unmet: [] });
    expect(empty.summary).toMatch(/^Nothing has gone into HS-2026-\d+ yet\.$/);
    expect(empty.notes).toEqual([]);
    await add(id, 'o-peat', 10);
    const answer = await asked(id);
    expect(answer).toMatchObject({ state: 'unknown' });
    expect(answer.notJudged).toEqual(['carbonToNitrogen', 'moisturePercent', 'bulkDensityKgM3']);
    expect(answer.summary).toContain('Too little is known');
    expect(answer.notes[1]).toMatch(/^Nothing is known of C:N, moisture and bulk density in HS-2026-\d+: /);
    // Where something is known, that is judged, and what is not known is told.
    await add(id, 'o-scraps', 10);
    const half = await asked(id);
    expect(half.state).toBe('impossible');
    expect(half.notes[0]).toBe(
      'Of Dark stuff, 10 kg (22 lb) of the 20 kg (44 lb), some figure is unknown: the rest stands for it.',
    );
  });
});

describe('what to add, from what was counted', () => {
  let id: string;
  beforeAll(async () => {
    await count('o-chips', { containerId: barrow.id, count: 20 }, { costPerKg: 0.05 });
    await count('o-peat', { mass: kg(40) });
    ({ id } = (await yard.begin()) as Thing);
    const dropOffId = await lotAtHub1(api, programme, 100_000, { material: 'o-scraps' });
    await made(api, `/batches/${id}/assignments`, { items: [{ dropOffId }] }, yard.manager.token);
  });

  it('answers in kilograms, litres and containers, with the mix that comes of it', async () => {
    const answer = await asked(id);
    expect(answer).toMatchObject({ state: 'found', leastBy: 'mass', grade: 'reasonable', figuresAsOf: null });
    expect(answer.additions).toEqual([
      {
        ...{ material: 'o-chips', name: 'Orchard chips', massKg: 33.334, volumeL: 166.67, cost: 1.67 },
        // 90 L of 200 kg/m³ weigh 18 kg: two of them keep the range, one and a half (27 kg) do not.
        measured: { container: 'B1', containerId: barrow.id, count: 2, volumeL: 90, massKg: 36 },
        dose: { by: 'container', massKg: 36, volumeL: 180 },
      },
    ]);
    expect(answer.steps).toEqual(['2 × B1 (90 L or 24 gal each) of Orchard chips']);
    expect(answer.summary).toMatch(/^Add to HS-2026-\d+: 2 × B1 \(90 L or 24 gal each\) of Orchard chips\.$/);
    // (8000 + 36·20) ÷ 136
    expect(answer.after).toMatchObject({ massKg: 133.334, moisturePercent: 65 });
    expect(answer.afterMeasured).toMatchObject({ massKg: 136, moisturePercent: 64.1 });
    expect(answer.leftOut).toEqual([
      {
        ...{ material: 'o-peat', why: 'figures-unknown', text: expect.stringContaining('Dark stuff') },
        missing: expect.arrayContaining(['moisturePercent']),
      },
    ]);
    expect(answer.notes.join(' ')).toContain('wear a mask');
    expect(answer.notes.join(' ')).toContain('23 kg');
  });

  it('is asked for the narrow ranges, and for the least cost', async () => {
    const narrow = await asked(id, '?grade=preferred');
    expect(narrow).toMatchObject({ state: 'impossible', grade: 'preferred' });
    // C:N of 30 allows 32.1 kg of chips, and moisture of 55 % asks for 71.4: the chips cannot do both.
    expect(states(narrow.targets, 'preferred')).toMatchObject({
      carbonToNitrogen: 'below',
      moisturePercent: 'above',
    });
    const cheap = await asked(id, '?leastBy=cost');
    expect(cheap).toMatchObject({ state: 'found', leastBy: 'cost', cost: 1.67, costUnknown: [] });
  });

  it('comes into range when that is added', async () => {
    expect(states((await mixed(id)).targets).moisturePercent).toBe('above');
    await made(
      api,
      `/batches/${id}/amendments`,
      { from: 'stock', material: 'o-chips', volume: litres(180) },
      yard.manager.token,
    );
    const mix = await mixed(id);
    expect(mix).toMatchObject({ massKg: 136, moisturePercent: 64.1, estimatedKg: 36 });
    expect(states(mix.targets)).toMatchObject({ moisturePercent: 'within', carbonToNitrogen: 'within' });
    const after = await asked(id);
    expect(after).toMatchObject({ state: 'in-range', steps: [], additions: [] });
    expect(after.summary).toContain('nothing needs to be added');
    // What was used is no longer there.
    const stock = await api.call('GET', `/sites/${yard.yard.id}/stock`, { as: yard.operator.token });
    const chips = stock.body.items.find(({ material }: { material: string }) => material === 'o-chips');
    expect(chips.leftKg).toBe(20 * 18 - 36);
  });

  it('has nothing to add to a batch that is built, and says so', async () => {
    const begun = (await yard.begin()) as Thing;
    await add(begun.id, 'o-scraps', 100);
    await yard.enter(begun.id, 'active');
    const answer = await asked(begun.id);
    expect(answer).toMatchObject({ state: 'closed', steps: [], additions: [], wouldHelp: [] });
    expect(answer.figuresAsOf).not.toBeNull();
    expect(answer.summary).toContain('is active: what goes in now is no part of its mix');
    expect(states(answer.targets)).toMatchObject({ moisturePercent: 'above' });
    const condemned = { to: 'condemned', reason: 'Glass all through' };
    await made(api, `/batches/${begun.id}/stage`, condemned, yard.manager.token);
    expect((await asked(begun.id)).summary).toMatch(/is condemned: nothing goes in any more\.$/);
  });

  it('names stock of which only a volume is known, and says that all there is goes in', async () => {
    await made(api, '/materials', { code: 'o-bark', name: 'Orchard bark', class: 'carbon' });
    await count('o-bark', { volume: litres(100) });
    await count('water', { volume: litres(1) });
    const leafy = {
      nitrogenPercentDry: 2,
      carbonToNitrogen: 25,
      moisturePercent: 39.7,
      bulkDensityKgM3: 200,
    };
    await made(api, '/materials', {
      ...{ code: 'o-hay', name: 'Orchard hay', class: 'carbon' },
      ...figuresFrom('Weighed here', leafy),
    });
    const begun = (await yard.begin()) as Thing;
    // A litre of water makes (199 × 39.7 + 100) ÷ 200 = 40.0 of 199 kg, and hardly more than what is asked of 200.
    await add(begun.id, 'o-hay', 200);
    const answer = await asked(begun.id);
    expect(answer.leftOut).toContainEqual({
      ...{ material: 'o-bark', why: 'figures-unknown', missing: ['bulkDensityKgM3'] },
      text: 'Of Orchard bark, bulk density is not known: state it, or have it measured.',
    });
    expect(answer).toMatchObject({ state: 'found', steps: ['all 1 L (0.3 gal) of water at the yard'] });
    const { items } = (await api.call('GET', '/stock-counts?material=water', { as: yard.operator.token }))
      .body;
    const taken = { as: yard.manager.token, body: { reason: 'It comes from the tap' } };
    expect((await api.call('POST', `/stock-counts/${items[0].id as string}/void`, taken)).status).toBe(200);
  });

  it('weighs what half containers are too coarse for, and rounds up what it says', async () => {
    const begun = (await yard.begin()) as Thing;
    await add(begun.id, 'o-scraps', 8);
    // (8·80 + 20·x) ÷ (8 + x) = 65 gives 2.667 kg, and C:N of at most 40 allows 4.1: a quarter of a half barrow.
    const answer = await asked(begun.id);
    expect(answer).toMatchObject({ state: 'found', missedMeasured: ['carbonToNitrogen'] });
    expect(answer.additions[0]).toMatchObject({
      ...{ massKg: 2.667, measured: null, dose: { by: 'mass', massKg: 2.7, volumeL: 13.5 } },
    });
    expect(answer.steps).toEqual(['2.7 kg (6 lb; about 14 L) of Orchard chips']);
    expect(answer.notes).toContain('Half containers are too coarse for C:N: weigh it out.');
    // (8·80 + 2.7·20) ÷ 10.7
    expect(answer.afterMeasured).toMatchObject({ massKg: 10.7, moisturePercent: 64.9 });
  });

  it('waters what is too dry, and says when the bay is too small for it', async () => {
    await sqlOf(api).query(`UPDATE bay SET capacity_ml = 400000 WHERE site_id = $1`, [yard.yard.id]);
    const leafy = { nitrogenPercentDry: 2, carbonToNitrogen: 25, moisturePercent: 20, bulkDensityKgM3: 200 };
    const name = { code: 'o-leaves', name: 'Orchard leaves', class: 'carbon' };
    await made(api, '/materials', { ...name, ...figuresFrom('Weighed here', leafy) });
    const dry = (await yard.begin()) as Thing;
    await add(dry.id, 'o-leaves', 100);
    const watered = await asked(dry.id);
    // (2000 + 100·w) ÷ (100 + w) = 40 gives 33.3 kg, which fill pores and add no volume to the 500 L.
    expect(watered).toMatchObject({ state: 'found', steps: ['34 L (9 gal) of water'] });
    expect(watered.after).toMatchObject({ massKg: 133.334, moisturePercent: 40, volumeL: 500 });
    expect(watered.notes).toContainEqual(
      expect.stringMatching(/come to 500 L \(132 gal\), and bay H\d+ holds 400 L/),
    );
    expect(watered.notes).toContainEqual(expect.stringContaining('wrung-out sponge'));
  });
});

describe('what a permit asks', () => {
  const permit = async (mixTargets: object[], materials: string[] = []) => {
    const own = await makeOwnYard();
    const terms = { siteId: own.site, reference: `OWN-${own.code}`, validFrom: '2026-01-01' };
    await made(api, '/permits', { ...terms, mixTargets, materials });
    return own;
  };
  let codes = 0;
  const makeOwnYard = async () => {
    const code = `Y${(codes += 1)}`;
    const { id: site } = await made<Thing>(api, '/sites', {
      ...{ code, name: code, timeZone: 'America/Denver', takesDropOffs: false, runsBatches: true },
      ...{ jurisdictionId: programme.jurisdictions.larkHollow.id, bays: [{ code: '1' }] },
    });
    const begun = { siteId: site, bay: '1', method: 'turned-windrow', occurredAt: '2026-03-03T15:00:00Z' };
    const { id: batch } = await made<Thing>(api, '/batches', begun);
    const input = { from: 'stock', material: 'o-scraps', mass: kg(100) };
    await made(api, `/batches/${batch}/amendments`, input);
    const ask = async () =>
      (await api.call('GET', `/batches/${batch}/additions`, { as: api.coordinator })).body;
    const stocked = (material: string) =>
      made(api, '/stock-counts', { siteId: site, material, amount: { mass: kg(500) } });
    return { code, site, batch, ask, stocked };
  };

  it('takes the place of the published range of that figure', async () => {
    const own = await permit([{ figure: 'moisturePercent', max: 60 }], ['o-scraps', 'o-chips']);
    const short = await own.ask();
    // (8000 + 20·x) ÷ (100 + x) = 60 gives 50 kg, of 200 kg/m³, and a few grams for room; C:N is 36.3 then.
    expect(short.wouldHelp).toEqual([
      {
        ...{ material: 'o-chips', name: 'Orchard chips', alongside: [] },
        ...{ massKg: expect.closeTo(50, 1), volumeL: expect.closeTo(250, 0) },
        text: '251 L (67 gal) of Orchard chips, about 50 kg (111 lb)',
      },
    ]);
    await own.stocked('o-chips');
    const answer = await own.ask();
    const [, moisture] = answer.targets;
    expect(moisture).toMatchObject({ grade: 'permit', min: null, max: 60, source: `Permit OWN-${own.code}` });
    expect(answer.additions[0]).toMatchObject({ material: 'o-chips', massKg: 50 });
    expect(answer.after).toMatchObject({ moisturePercent: 60, carbonToNitrogen: 36.3 });
  });

  it('leaves out what it does not list, in stock and among what could be had', async () => {
    const own = await permit([], ['o-scraps', 'straw-wheat', 'meat-scraps']);
    await own.stocked('o-chips');
    const answer = await own.ask();
    expect(answer.state).toBe('impossible');
    expect(answer.leftOut).toEqual([
      {
        ...{ material: 'o-chips', why: 'not-listed', missing: [] },
        text: 'The permit does not list Orchard chips.',
      },
    ]);
    expect(answer.wouldHelp.map(({ material }: { material: string }) => material)).toEqual(['straw-wheat']);
  });

  it('may ask what nothing meets, and is told which', async () => {
    const asks = [
      { figure: 'moisturePercent', max: 60 },
      { figure: 'carbonToNitrogen', max: 16 },
    ];
    const own = await permit(asks, ['o-scraps', 'o-chips']);
    const answer = await own.ask();
    expect(answer.state).toBe('impossible');
    // Chips enough for the one lift C:N far above the other, and nothing else is listed.
    const [unmet, ...others] = answer.unmet;
    expect([others, answer.wouldHelp, answer.together]).toEqual([[], [], []]);
    expect(unmet.text).toMatch(
      /^Moisture comes to 7\d(\.\d)? % at the nearest while C:N is kept at most 16, and at most 60 % is asked/,
    );
    expect(answer.summary).toMatch(
      /^No listed material brings Y3-2026-001 into range, alone or with others: moisture of at most 60 % and C:N of at most 16 cannot be met together\. Look at permit OWN-Y3\.$/,
    );
    // A range that cannot be at all is put in beside the API, which refuses it.
    await sqlOf(api).query(
      `UPDATE permit_mix_target SET min = 110, max = 120 WHERE figure = 'moisturePercent' AND permit_id =
         (SELECT id FROM permit WHERE reference = $1)`,
      [`OWN-${own.code}`],
    );
    expect(await own.ask()).toMatchObject({
      state: 'contradictory',
      unmet: [{ figure: 'moisturePercent', nearest: null, text: expect.stringContaining('110 to 120 %') }],
    });
  });
});

describe('who may ask, and what', () => {
  it('is an operator of the yard, of ranges and aims that there are', async () => {
    const { id } = (await yard.begin()) as Thing;
    const tried = async (as?: string, query = '', of = id) => {
      const answer = await api.call('GET', `/batches/${of}/additions${query}`, as ? { as } : {});
      return [answer.status, answer.body.type?.split(':').at(-1) ?? null];
    };
    const { volunteer, otherManager } = programme.people;
    const { operator } = yard;
    expect(await tried()).toEqual([401, 'not-signed-in']);
    expect(await tried(volunteer.token)).toEqual([403, 'not-allowed']);
    expect(await tried(otherManager.token)).toEqual([403, 'other-site']);
    expect(await tried(operator.token)).toEqual([200, null]);
    expect(await tried(operator.token, '?grade=perfect')).toEqual([422, 'invalid']);
    expect(await tried(operator.token, '?leastBy=effort')).toEqual([422, 'invalid']);
    expect(await tried(operator.token, '', v7())).toEqual([404, 'not-found']);
  });
});
