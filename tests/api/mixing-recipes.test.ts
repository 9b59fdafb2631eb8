import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { pointersOf } from '../support/intake.js';
import { made, makePersona, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, putLot, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const litres = (value: number) => ({ value, unit: 'L' });
const part = (material: string, parts: number, fromDropOffs = false) => ({ material, parts, fromDropOffs });

describe('recipes of a yard', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    // Densities of its own, so that everything here can be checked by hand.
    for (const [code, typical] of [
      ['scraps', 500],
      ['grounds', 400],
      ['chips', 250],
    ] as const) {
      const bulkDensityKgM3 = { typical, source: 'a bucket of our own, weighed' };
      await made(api, '/materials', { code, name: `Own ${code}`, class: 'neutral', bulkDensityKgM3 });
    }
    await made(api, '/materials', { code: 'straw-bales', name: 'Straw bales', class: 'carbon' });
    await made(api, '/materials', { code: 'peelings', name: 'Peelings', class: 'nitrogen' });
  });
  afterAll(() => api.stop());

  const usual = (changes: object = {}) => ({
    ...{ id: v7(), siteId: yard.yard.id, name: `Mix ${v7().slice(-8)}`, basis: 'volume' },
    parts: [part('scraps', 2, true), part('grounds', 1, true), part('chips', 6), part('water', 0.5)],
    ...changes,
  });
  const post = (body: object, as = yard.manager.token) => api.call('POST', '/recipes', { as, body });
  const add = (changes: object = {}) => made(api, '/recipes', usual(changes), yard.manager.token);
  const patch = (id: string, version: number, body: object, as = yard.manager.token) =>
    api.call('PATCH', `/recipes/${id}`, { as, body, headers: { 'if-match': `"${version}"` } });

  describe('as settings', () => {
    it('keeps one, in the order of its parts', async () => {
      const sent = usual({ note: 'Chips first' });
      const added = await post(sent);
      expect([added.status, added.headers['etag']]).toEqual([201, '"1"']);
      expect(added.body).toEqual({ ...sent, retired: false, version: 1 });
      const read = await api.call('GET', `/recipes/${sent.id}`, { as: yard.operator.token });
      expect([read.body, read.headers['etag']]).toEqual([added.body, '"1"']);
      expect((await post({ ...sent, name: 'Another' })).body.type).toBe('urn:heapwright:problem:taken');
      expect((await post({ ...sent, id: v7() })).body.type).toBe('urn:heapwright:problem:taken');
    });

    it('changes and retires it, and tells in the audit trail what it was', async () => {
      const { id, parts } = await add();
      const fewer = [part('scraps', 1, true), part('chips', 2.5)];
      const changed = await patch(id, 1, { parts: fewer, note: 'Less water' });
      expect(changed.body).toMatchObject({ parts: fewer, note: 'Less water', version: 2, basis: 'volume' });
      expect((await patch(id, 1, { note: null })).status).toBe(412);
      const noMatch = await api.call('PATCH', `/recipes/${id}`, { as: yard.manager.token, body: {} });
      expect(noMatch.status).toBe(428);
      const retired = await patch(id, 2, { retired: true, note: null });
      expect(retired.body).toMatchObject({ retired: true, note: null, parts: fewer, version: 3 });
      const lines = (await auditOf(api, 'recipe.changed')).filter(({ subjectId }) => subjectId === id);
      expect(lines.map(({ detail }) => detail)).toEqual(
        expect.arrayContaining([expect.objectContaining({ parts: { from: parts, to: fewer } })]),
      );
      const [line] = (await auditOf(api, 'recipe.added')).filter(({ subjectId }) => subjectId === id);
      expect(line).toMatchObject({ personId: yard.manager.id, siteId: yard.yard.id });
    });

    it('is changed once by two who change the same version at the same moment', async () => {
      const { id } = await add();
      const other = [part('scraps', 3, true), part('chips', 1)];
      const both = await Promise.all([
        patch(id, 1, { note: 'From the one' }),
        patch(id, 1, { parts: other, note: 'From the other' }),
      ]);
      expect(both.map(({ status }) => status).sort()).toEqual([200, 412]);
      const won = both.find(({ status }) => status === 200)!.body;
      const read = await api.call('GET', `/recipes/${id}`, { as: yard.operator.token });
      expect(read.body).toEqual(won);
      expect(won).toMatchObject({ version: 2, parts: { length: won.note === 'From the one' ? 4 : 2 } });
      const told = (await auditOf(api, 'recipe.changed')).filter(({ subjectId }) => subjectId === id);
      expect(told).toHaveLength(1);
    });

    it.each<[string, object, string[]]>([
      ['nothing that comes with drop-offs', { parts: [part('scraps', 1), part('chips', 1)] }, ['/parts']],
      ['nothing but drop-offs', { parts: [part('scraps', 1, true), part('chips', 1, true)] }, ['/parts']],
      ['a single part', { parts: [part('scraps', 1, true)] }, ['/parts']],
      ['no parts of something', { parts: [part('scraps', 0, true), part('chips', 1)] }, ['/parts/0/parts']],
      [
        'materials nobody knows, and one twice',
        { parts: [part('moon-dust', 1, true), part('chips', 1), part('chips', 2)] },
        ['/parts/0/material', '/parts/2/material'],
      ],
      ['a basis that is none', { basis: 'weight' }, ['/basis']],
      ['a name of two lines', { name: 'Usual\nmix' }, ['/name']],
    ])('refuses %s', async (_, wrong, pointers) => {
      const answer = await post(usual(wrong));
      expect(answer.status).toBe(422);
      expect(pointersOf(answer)).toEqual(pointers);
    });

    it('refuses the same of a change, and keeps what stood', async () => {
      const { id } = await add();
      const wrong = await patch(id, 1, { parts: [part('chips', 1), part('scraps', 1)] });
      expect([wrong.status, pointersOf(wrong)]).toEqual([422, ['/parts']]);
      const read = await api.call('GET', `/recipes/${id}`, { as: yard.operator.token });
      expect([read.body.version, read.body.parts.length]).toEqual([1, 4]);
    });

    it('is of a yard, and of one that is there', async () => {
      const atHub = await post(usual({ siteId: programme.hub1.id }));
      expect([atHub.status, pointersOf(atHub)]).toEqual([422, ['/siteId']]);
      expect((await post(usual({ siteId: v7() }), api.coordinator)).status).toBe(404);
    });

    it('lists those of one’s own yards by name, page by page', async () => {
      const ids: string[] = [];
      const siteId = programme.yard2.id;
      const { token } = programme.people.otherManager;
      for (const name of ['Autumn', 'Spring', 'Winter'])
        ids.push((await made(api, '/recipes', usual({ siteId, name }), token)).id);
      const list = (query: string, as = token) => api.call('GET', `/recipes?${query}`, { as });
      const idsOf = (answer: { body: { items: { id: string }[] } }) => answer.body.items.map(({ id }) => id);
      expect(idsOf(await list(''))).toEqual(ids);
      const first = await list('limit=2');
      expect(idsOf(await list(`limit=2&cursor=${first.body.next as string}`))).toEqual(ids.slice(2));
      expect(idsOf(await list(`siteId=${siteId.toUpperCase()}`))).toEqual(ids);
      expect(idsOf(await list(`siteId=${siteId}`, yard.operator.token))).toEqual([]);
      expect(idsOf(await list('', yard.operator.token)).some((id) => ids.includes(id))).toBe(false);
    });

    it('lets in who works at that yard', async () => {
      const { id } = await add();
      const batch = (await yard.begin()) as { id: string };
      const { volunteer, otherManager } = programme.people;
      const routes: [string, string, object?][] = [
        ['GET', '/recipes'],
        ['POST', '/recipes', usual()],
        ['GET', `/recipes/${id}`],
        ['PATCH', `/recipes/${id}`, { note: 'x' }],
        ['GET', `/recipes/${id}/scaled`],
        ['GET', `/batches/${batch.id}/recipe?recipe=${id}`],
      ];
      for (const [method, path, body] of routes) {
        const call = (as?: string) =>
          api.call(method, path, {
            ...(as ? { as } : {}),
            ...(body ? { body } : {}),
            headers: { 'if-match': '"1"' },
          });
        expect((await call()).status, path).toBe(401);
        expect((await call(volunteer.token)).body.type, path).toBe('urn:heapwright:problem:not-allowed');
        if (path === '/recipes' && method === 'GET') continue;
        expect((await call(otherManager.token)).body.type, path).toBe('urn:heapwright:problem:other-site');
      }
      for (const method of ['POST', 'PATCH']) {
        const path = method === 'POST' ? '/recipes' : `/recipes/${id}`;
        const body = method === 'POST' ? usual() : { note: 'x' };
        const answer = await api.call(method, path, {
          ...{ as: yard.operator.token, body, headers: { 'if-match': '"1"' } },
        });
        expect(answer.status).toBe(403);
      }
      expect((await api.call('GET', `/recipes/${v7()}`, { as: api.coordinator })).status).toBe(404);
    });
  });

  describe('scaled to what waits', () => {
    let recipe: { id: string };
    let barrowId: string;
    const scaled = (query = '', as = yard.operator.token, id = recipe.id) =>
      api.call('GET', `/recipes/${id}/scaled${query}`, { as });
    beforeAll(async () => {
      recipe = await add({ name: 'Buckets' });
      const barrow = { siteId: yard.yard.id, code: 'B1', tare: kg(12), volume: litres(90) };
      barrowId = (await made(api, '/containers', barrow)).id as string;
      const amount = { containerId: barrowId, count: 9 };
      await made(api, '/stock-counts', { siteId: yard.yard.id, material: 'chips', amount });
    });

    it('asks for nothing while nothing waits', async () => {
      const { body } = await scaled();
      expect(body).toMatchObject({ recipe: { id: recipe.id, name: 'Buckets', basis: 'volume' }, day: null });
      expect(body.hubs).toEqual([{ siteId: programme.hub1.id, code: 'QS' }]);
      expect([body.steps, body.notInRecipe, body.missing]).toEqual([[], [], []]);
      expect(body.parts.map((one: { expectedKg: number }) => one.expectedKg)).toEqual([0, 0, 0, 0]);
    });

    it('says how much of the rest goes with it, in kilograms, litres and barrows', async () => {
      const lot = (material: string, massG: number, occurredAt?: string) =>
        lotAtHub1(api, programme, massG, { material, ...(occurredAt ? { occurredAt } : {}) });
      const inPart = await lot('scraps', 70_000);
      await lot('grounds', 20_000);
      await lot('straw-bales', 3_000);
      await lot('leaves', 1_000);
      const batch = (await yard.begin()) as { id: string };
      const items = [{ dropOffId: inPart, mass: kg(20) }];
      await made(api, `/batches/${batch.id}/assignments`, { items }, yard.manager.token);
      // 50 kg of scraps and 20 kg of grounds wait: 100 L and 50 L are three parts, so a part is 50 L.
      const { body } = await scaled();
      expect(body.parts).toMatchObject([
        { material: 'scraps', fromDropOffs: true, parts: 2, presentKg: 50, presentL: 100, expectedL: 100 },
        { material: 'grounds', presentKg: 20, presentL: 50, expectedKg: 20, expectedIn: null },
        {
          ...{ material: 'chips', name: 'Own chips', presentKg: 0, expectedKg: 75, expectedL: 300 },
          expectedIn: { container: 'B1', volumeL: 90, count: 3.5 },
          ...{ inStockKg: 202.5, inStockL: 810, missingKg: 0, missingL: 0 },
        },
        {
          material: 'water',
          expectedKg: 25,
          expectedL: 25,
          fromDropOffs: false,
          inStockKg: null,
          missingKg: null,
        },
      ]);
      expect(body.steps).toEqual(['3½ × B1 (90 L or 24 gal each) of Own chips', '25 L (6.7 gal) of water']);
      expect(body.notInRecipe).toEqual([
        { material: 'leaves', name: expect.any(String), massKg: 1 },
        { material: 'straw-bales', name: 'Straw bales', massKg: 3 },
      ]);
    });

    it('says what of it lies there and what is missing', async () => {
      const counted = (count: number) => {
        const body = { siteId: yard.yard.id, material: 'chips', amount: { containerId: barrowId, count } };
        return made(api, '/stock-counts', body, yard.operator.token);
      };
      await counted(1);
      const { body } = await scaled();
      expect(body.steps[0]).toMatch(/^3½ × B1 .* of Own chips: 1 lies there, 2½ are missing$/);
      expect(body.parts[2]).toMatchObject({ inStockKg: 22.5, inStockL: 90, missingKg: 52.5, missingL: 210 });
      // What comes with the drop-offs is not taken from stock.
      expect(body.parts[0]).toMatchObject({ inStockKg: null, missingKg: null });
      await counted(9);
    });

    it('takes one local day of the hub alone', async () => {
      // 23:30 of 4 April and 00:30 of 5 April in Denver, six hours behind.
      await lotAtHub1(api, programme, 500, { material: 'scraps', occurredAt: '2026-04-05T05:30:00Z' });
      await lotAtHub1(api, programme, 1_500, { material: 'scraps', occurredAt: '2026-04-05T06:30:00Z' });
      const of = async (day: string) => (await scaled(`?day=${day}`)).body;
      expect(await of('2026-04-04')).toMatchObject({
        day: '2026-04-04',
        parts: [{ presentKg: 0.5 }, {}, {}, {}],
      });
      expect((await of('2026-04-05')).parts[0].presentKg).toBe(1.5);
      expect((await of('2026-04-06')).parts[0].presentKg).toBe(0);
      expect(pointersOf(await scaled('?day=2026-04-31'))).toEqual(['/day']);
    });

    it('takes the hubs that are named, and none of which one is no operator', async () => {
      const { hub1, hub2, jurisdictions, people, yard1 } = programme;
      await putLot(api, {
        ...{ siteId: hub2.id, jurisdictionId: jurisdictions.thistleFord.id, personId: people.volunteer.id },
        ...{ massG: 8_000, material: 'scraps' },
      });
      const named = (await scaled(`?hubs=${hub2.id}`, api.coordinator)).body;
      expect([named.hubs, named.parts[0].presentKg]).toEqual([[{ siteId: hub2.id, code: 'WG' }], 8]);
      const both = (await scaled(`?hubs=${hub1.id},${hub2.id}`, api.coordinator)).body;
      const one = (await scaled(`?hubs=${hub1.id}`)).body;
      expect(both.parts[0].presentKg).toBe((one.parts[0].presentKg as number) + 8);
      expect((await scaled()).body.parts[0].presentKg).toBe(one.parts[0].presentKg);
      expect((await scaled(`?hubs=${hub1.id},${hub2.id}`)).body.type).toBe(
        'urn:heapwright:problem:other-site',
      );
      for (const wrong of [yard1.id, v7()])
        expect(pointersOf(await scaled(`?hubs=${wrong}`, api.coordinator))).toEqual(['/hubs']);
      for (const wrong of ['', 'here', `${hub1.id},`, `${hub1.id};${hub2.id}`])
        expect(pointersOf(await scaled(`?hubs=${wrong}`))).toEqual(['/hubs']);
    });

    it('does not read as if nothing waited to whom may see no hub', async () => {
      const grants = [{ role: 'operator', siteId: yard.yard.id }];
      const yardOnly = await makePersona(api, 'Yard Only', grants);
      const refused = await scaled('', yardOnly.token);
      expect([refused.status, refused.body.type]).toEqual([403, 'urn:heapwright:problem:not-allowed']);
      expect(refused.body.detail).toBe(
        'You are an operator at no hub, and nothing that the yard received waits.',
      );
    });

    it('answers what it can where a density is missing, and says which', async () => {
      await lotAtHub1(api, programme, 6_000, { material: 'peelings', occurredAt: '2026-05-06T18:00:00Z' });
      await lotAtHub1(api, programme, 10_000, { material: 'scraps', occurredAt: '2026-05-06T18:00:00Z' });
      const parts = [
        part('scraps', 1, true),
        part('peelings', 1, true),
        part('chips', 2),
        part('straw-bales', 1),
      ];
      const byVolume = await add({ name: 'With peelings', parts });
      const { body } = await scaled('?day=2026-05-06', yard.operator.token, byVolume.id);
      // 10 kg of scraps are 20 L, the one part that can be counted.
      expect(body.parts).toMatchObject([
        { expectedL: 20, presentL: 20 },
        { expectedKg: null, expectedL: 20, presentKg: 6, presentL: null },
        { expectedKg: 10, expectedL: 40 },
        { expectedKg: null, expectedL: 20 },
      ]);
      expect(body.missing).toEqual([
        { material: 'peelings', figure: 'bulkDensityKgM3' },
        { material: 'straw-bales', figure: 'bulkDensityKgM3' },
      ]);
      expect(body.uncounted).toEqual([{ material: 'peelings', name: 'Peelings', massKg: 6 }]);
      expect(body.steps).toEqual([
        '½ × B1 (90 L or 24 gal each) of Own chips',
        '20 L (5.3 gal) of Straw bales',
      ]);
      const byMass = await add({ name: 'By mass', basis: 'mass', parts });
      const heavier = (await scaled('?day=2026-05-06', yard.operator.token, byMass.id)).body;
      expect(heavier.parts).toMatchObject([{}, { expectedKg: 8 }, { expectedKg: 16 }, { expectedKg: 8 }]);
      expect(heavier.uncounted).toEqual([]);
      expect(heavier.steps).toEqual([
        '½ × B1 (90 L or 24 gal each) of Own chips',
        '8 kg (18 lb) of Straw bales',
      ]);
    });
  });

  describe('beside what went in', () => {
    it('tells of each part what went in, what it would have had, and the difference', async () => {
      const recipe = await add({ name: 'Compared' });
      const batch = (await yard.begin()) as { id: string };
      const items = [];
      for (const [material, massG] of [
        ['scraps', 50_000],
        ['grounds', 20_000],
      ] as const)
        items.push({ dropOffId: await lotAtHub1(api, programme, massG, { material }) });
      await made(api, `/batches/${batch.id}/assignments`, { items }, yard.manager.token);
      const amend = (body: object) => made(api, `/batches/${batch.id}/amendments`, body, yard.manager.token);
      await amend({ from: 'stock', material: 'chips', mass: kg(60) });
      await amend({ from: 'stock', material: 'leaves', mass: kg(4) });
      await amend({ from: 'water', volume: litres(25) });
      const of = (id: string, batchId = batch.id, as = yard.operator.token) =>
        api.call('GET', `/batches/${batchId}/recipe?recipe=${id}`, { as });
      const { body } = await of(recipe.id);
      expect(body).toMatchObject({ batchId: batch.id, recipe: { id: recipe.id, name: 'Compared' } });
      expect(body.parts).toMatchObject([
        { material: 'scraps', expectedKg: 50, presentKg: 50, differenceKg: 0, differencePercent: 0 },
        { material: 'grounds', expectedKg: 20, presentKg: 20, differenceKg: 0 },
        {
          ...{ material: 'chips', expectedKg: 75, presentKg: 60, differenceKg: -15, differenceL: -60 },
          ...{ differencePercent: -20 },
          text: 'Own chips: 60 kg (132 lb) went in where the recipe has 75 kg (165 lb), 15 kg (33 lb; about 60 L, 20 %) less.',
        },
        {
          material: 'water',
          expectedKg: 25,
          differenceKg: 0,
          text: 'Water: 25 kg (55 lb) went in where the recipe has 25 kg (55 lb).',
        },
      ]);
      expect(body.notInRecipe).toMatchObject([{ material: 'leaves', massKg: 4 }]);
    });

    it('says where the two cannot be compared', async () => {
      const parts = [part('scraps', 1, true), part('straw-bales', 1)];
      const recipe = await add({ name: 'Bales', parts });
      const batch = (await yard.begin()) as { id: string };
      const dropOffId = await lotAtHub1(api, programme, 10_000, { material: 'scraps' });
      await made(api, `/batches/${batch.id}/assignments`, { items: [{ dropOffId }] }, yard.manager.token);
      const bales = { from: 'stock', material: 'straw-bales', mass: kg(3) };
      await made(api, `/batches/${batch.id}/amendments`, bales, yard.manager.token);
      const answer = await api.call('GET', `/batches/${batch.id}/recipe?recipe=${recipe.id}`, {
        as: yard.operator.token,
      });
      expect(answer.body.parts[1]).toMatchObject({
        ...{ expectedKg: null, expectedL: 20, presentKg: 3, presentL: null, differenceKg: null },
        text: 'Straw bales: 3 kg (6.6 lb) went in; the recipe has 20 L (5.3 gal), and without its density the two cannot be compared.',
      });
    });

    it('refuses a recipe of another yard, and of none', async () => {
      const batch = (await yard.begin()) as { id: string };
      const foreign = await made(api, '/recipes', usual({ siteId: programme.yard1.id, name: 'Theirs' }));
      for (const id of [foreign.id as string, v7()]) {
        const answer = await api.call('GET', `/batches/${batch.id}/recipe?recipe=${id}`, {
          as: yard.operator.token,
        });
        expect([answer.status, pointersOf(answer)]).toEqual([422, ['/recipe']]);
      }
      const none = await api.call('GET', `/batches/${batch.id}/recipe`, { as: yard.operator.token });
      expect(pointersOf(none)).toEqual(['/recipe']);
      const noBatch = await api.call('GET', `/batches/${v7()}/recipe?recipe=${foreign.id as string}`, {
        as: api.coordinator,
      });
      expect(noBatch.status).toBe(404);
    });
  });
});
