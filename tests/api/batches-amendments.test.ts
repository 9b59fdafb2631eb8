import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startingMaterials } from '#libs/materials';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, putScreening, type Yard } from '../support/yard-work.js';

const code = (answer: any) => answer.body.type.replace('urn:heapwright:problem:', '');
const pointers = (answer: any) =>
  answer.body.errors.map((fault: { pointer: string }) => fault.pointer).sort();
const kg = (value: number) => ({ value, unit: 'kg' });

describe('amendments', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let barrow: { id: string };
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    barrow = await container('barrow', yard.yard.id, 90);
  });
  afterAll(() => api.stop());

  const post = (path: string, body: unknown, as = yard.manager.token) => api.call('POST', path, { as, body });
  const get = (path: string) => api.call('GET', path, { as: yard.operator.token });
  const container = (named: string, siteId: string, litres?: number) => {
    const volume = litres === undefined ? {} : { volume: { value: litres, unit: 'L' } };
    return made<{ id: string }>(api, '/containers', { siteId, code: named, tare: kg(15), ...volume });
  };
  const barrows = (count: number) => ({ containerId: barrow.id, count });
  const pathOf = (batch: { id: string }) => `/batches/${batch.id}/amendments`;

  /** A batch of 500 kg of chips that is curing, and gave overs. */
  async function screened(oversKg: number) {
    const batch = await yard.begin();
    await made(
      api,
      pathOf(batch),
      { from: 'stock', material: 'wood-chips', mass: kg(500) },
      yard.manager.token,
    );
    await yard.enter(batch.id, 'active', 'curing');
    await putScreening(api, yard.manager.id, batch.id, { compostG: 200_000, oversG: oversKg * 1000 });
    return batch;
  }

  it('takes material from stock by mass, as it was typed', async () => {
    const batch = await yard.begin();
    const body = {
      from: 'stock',
      material: 'wood-chips',
      mass: { value: 110, unit: 'lb' },
      occurredAt: '2026-03-04T15:00:00Z',
      note: 'from the arborist',
    };
    const answer = await post(pathOf(batch), body);
    expect(answer.status).toBe(201);
    // 110 lb is 49 895.160 7 g: NIST Handbook 44, Appendix C.
    expect(answer.body).toMatchObject({
      batchId: batch.id,
      from: 'stock',
      material: 'wood-chips',
      basis: 'scale',
      massKg: 49.895,
      volumeL: null,
      entered: { mass: { value: 110, unit: 'lb' } },
      note: 'from the arborist',
      recordedBy: yard.manager.id,
    });
    expect((await get(pathOf(batch))).body).toEqual({ items: [answer.body], next: null });
    expect((await auditOf(api, 'amendment.recorded')).at(-1)).toMatchObject({ subjectId: answer.body.id });
  });

  it('estimates the mass of a volume by the bulk density of the material, and says so', async () => {
    const batch = await yard.begin();
    const chips = (await api.call('GET', '/materials/wood-chips', { as: yard.operator.token })).body;
    const answer = await post(pathOf(batch), {
      from: 'stock',
      material: 'wood-chips',
      volume: { value: 2, unit: 'm3' },
    });
    expect(answer.body).toMatchObject({
      basis: 'volume',
      volumeL: 2000,
      densityKgM3: chips.bulkDensityKgM3.typical,
      densitySource: chips.bulkDensityKgM3.source,
      massKg: 2 * chips.bulkDensityKgM3.typical,
    });
    const { totals } = (await get(`/batches/${batch.id as string}`)).body;
    expect(totals).toMatchObject({ amendmentKg: answer.body.massKg, estimatedKg: answer.body.massKg });
    const water = await post(pathOf(batch), { from: 'water', volume: { value: 40, unit: 'L' } });
    expect(water.body).toMatchObject({ material: 'water', massKg: 40, basis: 'volume' });
  });

  it('takes containers for what they hold, also half ones, by the density that the yard had measured by then', async () => {
    const listed = (await api.call('GET', '/materials/leaves', { as: yard.operator.token })).body;
    const bucket = {
      siteId: yard.yard.id,
      material: 'leaves',
      by: 'bucket test',
      bulkDensity: { kgM3: 80.04 },
    };
    const measured = { ...bucket, occurredAt: '2026-03-05T12:00:00Z' };
    await made(api, '/material-measurements', measured, yard.manager.token);
    const batch = await yard.begin();
    const leaves = { from: 'stock', material: 'leaves', containers: barrows(6.5) };
    const before = await post(pathOf(batch), { ...leaves, occurredAt: '2026-03-04T12:00:00Z' });
    expect([before.status, before.body]).toMatchObject([
      201,
      {
        ...{ basis: 'volume', volumeL: 585, entered: { containers: barrows(6.5) } },
        densityKgM3: listed.bulkDensityKgM3.typical,
        densitySource: listed.bulkDensityKgM3.source,
      },
    ]);
    const after = await post(pathOf(batch), { ...leaves, occurredAt: '2026-03-05T13:00:00Z' });
    // 585 L of 80.04 kg/m³.
    expect(after.body).toMatchObject({
      ...{ basis: 'volume', volumeL: 585, massKg: 46.823, densityKgM3: 80.04 },
      densitySource: 'Measured at the site: bucket test',
    });
    const water = await post(pathOf(batch), { from: 'water', containers: barrows(0.5) });
    expect(water.body).toMatchObject({ material: 'water', massKg: 45, volumeL: 45 });
  });

  it('warns of what lies in stock no more, of what no permit lists, and of what draws animals or burns, and takes it', async () => {
    const warned = async (sent: object) => {
      const answer = await post(pathOf(batch), { from: 'stock', ...sent });
      expect(answer.status).toBe(201);
      return answer.body.warnings;
    };
    const count = (material: string, amount: object, occurredAt: string) =>
      made(api, '/stock-counts', { siteId: yard.yard.id, material, amount, occurredAt }, yard.operator.token);
    const batch = await yard.begin({ occurredAt: '2026-04-01T12:00:00Z' });
    const animal = {
      code: 'animal-product',
      text: expect.stringContaining('No permit of that day is on record.'),
      pointer: '/material',
    };
    expect(await warned({ material: 'dairy', mass: kg(1) })).toEqual([animal]);
    await made(api, '/permits', {
      ...{ siteId: yard.yard.id, reference: 'SNIPE-1', validFrom: '2026-04-02' },
      materials: ['sawdust', 'straw-wheat'],
    });
    const on = (day: number) => ({ occurredAt: `2026-04-0${day}T18:00:00Z` });
    const dairy = startingMaterials.find(({ code: of }) => of === 'dairy')!;
    expect(await warned({ material: 'dairy', mass: kg(1), ...on(1) })).toEqual([animal]);
    expect(await warned({ material: 'dairy', mass: kg(1), ...on(2) })).toEqual([
      {
        code: 'material-not-on-permit',
        text: `Permit SNIPE-1 does not list "${dairy.name}".`,
        pointer: '/material',
      },
      { ...animal, text: expect.stringContaining('Permit SNIPE-1 as recorded does not list it.') },
    ]);
    const ash = await warned({ material: 'wood-ash', mass: kg(1) });
    expect(ash.map((one: { code: string }) => one.code)).toEqual(['material-not-on-permit', 'caustic']);

    await count('sawdust', { mass: kg(220) }, on(3).occurredAt);
    const sawdust = (mass: number, day: number) =>
      warned({ material: 'sawdust', mass: kg(mass), ...on(day) });
    expect(await sawdust(900, 2)).toEqual([]);
    expect(await sawdust(20, 3)).toEqual([]);
    const beyond = await post(pathOf(batch), { from: 'stock', material: 'sawdust', mass: kg(900), ...on(4) });
    expect(beyond.body.warnings).toEqual([
      { code: 'more-than-in-stock', text: '900 kg is more than the 200 kg left by the count of 2026-04-03.' },
    ]);
    expect(await sawdust(1, 5)).toEqual([
      { code: 'more-than-in-stock', text: 'None is left by the count of 2026-04-03.' },
    ]);
    await post(`${pathOf(batch)}/${beyond.body.id as string}/void`, { reason: 'not that much' });
    expect(await sawdust(199, 6)).toEqual([]);
    // What may have been sprayed is asked where it is brought, and water and overs are of no list.
    expect(await warned({ material: 'straw-wheat', mass: kg(1) })).toEqual([]);
    expect(await warned({ from: 'water', mass: kg(1) })).toEqual([]);
    // They are kept with it.
    const { items } = (await get(pathOf(batch))).body;
    const kept = items.find(({ id }: { id: string }) => id === beyond.body.id);
    expect(kept.warnings).toEqual(beyond.body.warnings);
  });

  it('answers one that is sent again with the first, also at the same moment and after the hot phase', async () => {
    const batch = await yard.begin();
    const body = { id: v7(), from: 'water', mass: kg(20) };
    const answers = await Promise.all([1, 2, 3].map(() => post(pathOf(batch), body)));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    const other = await post(pathOf(batch), { ...body, mass: kg(21) });
    expect([other.status, code(other)]).toEqual([409, 'other-body']);
    const elsewhere = await post(pathOf(await yard.begin()), body);
    expect([elsewhere.status, code(elsewhere)]).toEqual([409, 'other-body']);
    await yard.enter(batch.id, 'active', 'curing');
    const late = await post(pathOf(batch), body);
    expect([late.status, late.body]).toEqual([200, answers[0]!.body]);
    expect((await get(`/batches/${batch.id as string}`)).body.totals.amendmentKg).toBe(20);
  });

  it('refuses what no amendment can be', async () => {
    const batch = await yard.begin();
    const stock = { from: 'stock', material: 'wood-chips' };
    const elsewhere = await container('E1', programme.yard2.id, 90);
    const unmeasured = await container('N1', yard.yard.id);
    const retired = await container('R1', yard.yard.id, 90);
    await api.call('PATCH', `/containers/${retired.id}`, {
      ...{ as: api.coordinator, body: { retired: true }, headers: { 'if-match': '"1"' } },
    });
    const cases: [object, string[]][] = [
      [{ mass: kg(1) }, ['/from']],
      [{ ...stock }, ['/mass']],
      [{ ...stock, mass: kg(1), volume: { value: 1, unit: 'L' } }, ['/volume']],
      [{ ...stock, mass: kg(1), containers: barrows(1) }, ['/containers']],
      [{ ...stock, containers: barrows(0) }, ['/containers']],
      [{ ...stock, containers: barrows(9_000) }, ['/containers/count']],
      [{ ...stock, containers: { containerId: barrow.id } }, ['/containers/count']],
      [{ ...stock, containers: { count: 1 } }, ['/containers/containerId']],
      [{ ...stock, containers: { containerId: v7(), count: 1 } }, ['/containers/containerId']],
      [{ ...stock, containers: { containerId: elsewhere.id, count: 1 } }, ['/containers/containerId']],
      [{ ...stock, containers: { containerId: unmeasured.id, count: 1 } }, ['/containers/containerId']],
      [{ ...stock, containers: { containerId: retired.id, count: 1 } }, ['/containers/containerId']],
      [{ ...stock, mass: kg(0) }, ['/mass']],
      [{ ...stock, mass: kg(-1) }, ['/mass/value']],
      [{ ...stock, mass: { value: 1, unit: 'L' } }, ['/mass/unit']],
      [{ ...stock, mass: { value: '1', unit: 'kg' } }, ['/mass/value']],
      [{ ...stock, volume: { value: 201, unit: 'm3' } }, ['/volume']],
      [{ from: 'stock', mass: kg(1) }, ['/material']],
      [{ from: 'stock', material: 'moon-dust', mass: kg(1) }, ['/material']],
      [{ from: 'water', material: 'leaves', mass: kg(1) }, ['/material']],
      [{ ...stock, mass: kg(1), batchId: batch.id }, ['/batchId']],
      [{ from: 'overs', mass: kg(1) }, ['/batchId']],
      [{ from: 'overs', mass: kg(1), batchId: v7() }, ['/batchId']],
      [{ from: 'overs', mass: kg(1), batchId: batch.id }, ['/batchId']],
      // What was screened off has no bulk density of its own.
      [{ from: 'overs', volume: { value: 1, unit: 'm3' }, batchId: (await screened(1)).id }, ['/volume']],
      [{ ...stock, mass: kg(1), occurredAt: '2026-03-01T15:00:00Z' }, ['/occurredAt']],
    ];
    for (const [body, expected] of cases) {
      const answer = await post(pathOf(batch), body);
      expect([body, answer.status, pointers(answer)]).toEqual([body, 422, expected]);
    }
    expect((await get(pathOf(batch))).body.items).toEqual([]);
  });

  it('gives overs back once, however many batches reach for them at the same moment', async () => {
    const giver = await screened(100);
    const takers = await Promise.all([yard.begin(), yard.begin(), yard.begin()]);
    const answers = await Promise.all(
      takers.map((taker) => post(pathOf(taker), { from: 'overs', mass: kg(60), batchId: giver.id })),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409]);
    const beyond = answers.find(({ status }) => status === 409)!;
    expect([code(beyond), beyond.body.detail]).toEqual([
      'overs-beyond-what-is-left',
      'Only 40 kg of overs are left of that batch.',
    ]);
    const kept = answers.find(({ status }) => status === 201)!.body;
    expect(kept).toMatchObject({ material: 'overs', fromBatchId: giver.id, fromBatch: giver.code });
    const back = await post(`/batches/${kept.batchId as string}/amendments/${kept.id as string}/void`, {
      reason: 'not used',
    });
    expect([back.status, back.body.voidReason]).toEqual([200, 'not used']);
    expect((await post(pathOf(takers[0]), { from: 'overs', mass: kg(100), batchId: giver.id })).status).toBe(
      201,
    );
  });

  it('takes overs only of yards at which the manager is an operator at least', async () => {
    const giver = await screened(10);
    const { otherManager } = programme.people;
    const taker = await made<{ id: string }>(
      api,
      '/batches',
      { siteId: programme.yard2.id, bay: 'B1', method: 'turned-bins' },
      otherManager.token,
    );
    const body = { from: 'overs', mass: kg(5), batchId: giver.id };
    const answer = await post(pathOf(taker), body, otherManager.token);
    expect([answer.status, code(answer)]).toEqual([403, 'other-site']);
    expect((await post(pathOf(taker), body, api.coordinator)).status).toBe(201);
  });

  it('goes in while the batch is built or hot, and is taken back no later', async () => {
    const batch = await yard.begin();
    const chips = { from: 'stock', material: 'wood-chips', mass: kg(5) };
    await yard.enter(batch.id, 'active');
    const hot = await post(pathOf(batch), chips);
    expect(hot.status).toBe(201);
    const path = `${pathOf(batch)}/${hot.body.id as string}/void`;
    expect((await post(`${pathOf(batch)}/${v7()}/void`, { reason: 'x' })).status).toBe(404);
    await yard.enter(batch.id, 'curing');
    const late = await post(pathOf(batch), chips);
    expect([late.status, code(late), late.body.detail]).toEqual([
      409,
      'stage-closed',
      'The batch is curing.',
    ]);
    const back = await post(path, { reason: 'x' });
    expect([back.status, code(back)]).toEqual([409, 'stage-closed']);
  });

  it('tells the lineage of overs, step by step, both ways', async () => {
    const first = await screened(100);
    const second = await yard.begin();
    const give = (to: { id: string }, from: { id: string }, mass: number) =>
      made(api, pathOf(to), { from: 'overs', mass: kg(mass), batchId: from.id }, yard.manager.token);
    await give(second, first, 30);
    await give(second, first, 12.5);
    await yard.enter(second.id, 'active', 'curing');
    await putScreening(api, yard.manager.id, second.id, { oversG: 20_000 });
    const third = await yard.begin();
    await give(third, second, 5);
    await give(third, first, 7);
    const voided = await made<{ id: string }>(
      api,
      pathOf(third),
      { from: 'overs', mass: kg(1), batchId: (await screened(1)).id },
      yard.manager.token,
    );
    await post(`${pathOf(third)}/${voided.id}/void`, { reason: 'x' });

    const lineageOf = async ({ id }: { id: string }) => (await get(`/batches/${id}/lineage`)).body;
    const brief = (links: any[]) =>
      links.map(({ steps, giver, taker, massKg }) => [steps, giver.code, taker.code, massKg]);
    const ofThird = await lineageOf(third);
    expect(brief(ofThird.from)).toEqual([
      [1, second.code, third.code, 5],
      [1, first.code, third.code, 7],
      [2, first.code, second.code, 42.5],
    ]);
    expect(ofThird.to).toEqual([]);
    const ofFirst = await lineageOf(first);
    expect(ofFirst.from).toEqual([]);
    expect(brief(ofFirst.to)).toEqual([
      [1, first.code, second.code, 42.5],
      [1, first.code, third.code, 7],
      [2, second.code, third.code, 5],
    ]);
    const ofSecond = await lineageOf(second);
    expect([brief(ofSecond.from), brief(ofSecond.to)]).toEqual([
      [[1, first.code, second.code, 42.5]],
      [[1, second.code, third.code, 5]],
    ]);
  });

  it('keeps drop-offs and amendments apart in the totals', async () => {
    const batch = await yard.begin();
    const dropOffId = await lotAtHub1(api, programme, 7_000);
    await post(`/batches/${batch.id as string}/assignments`, { items: [{ dropOffId }] });
    await post(pathOf(batch), { from: 'water', mass: kg(2) });
    await post(pathOf(batch), { from: 'overs', mass: kg(3), batchId: (await screened(3)).id });
    expect((await get(`/batches/${batch.id as string}`)).body.totals).toEqual({
      assignments: 1,
      dropOffKg: 7,
      amendmentKg: 2,
      oversInKg: 3,
      mergedInKg: 0,
      inputKg: 12,
      estimatedKg: 0,
      outputKg: 0,
    });
  });
});
