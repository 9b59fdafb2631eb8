import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { hoursAfter } from '../support/heat.js';
import { made, makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { CURING_FROM, makeCuring, maturity, permitTerms } from '../support/released.js';
import { lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const litres = (value: number) => ({ value, unit: 'L' });
const year = { from: '2026-01-01', to: '2027-01-01' };

describe('what yearly forms ask of a site', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;

  const ask = (query: Record<string, string>, as = yard.manager.token) =>
    api.call('GET', `/sites/${yard.yard.id}/facility-year?${new URLSearchParams(query).toString()}`, { as });
  const onSite = (body: { onSite: { stage: string; massKg: number; volumeL: number | null }[] }) =>
    Object.fromEntries(body.onSite.map(({ stage, massKg, volumeL }) => [stage, [massKg, volumeL]]));

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    await made(api, '/permits', { siteId: yard.yard.id, ...permitTerms });
  });
  afterAll(() => api.stop());

  it('is empty of a yard that did nothing yet, and names its permit', async () => {
    const { status, body } = await ask(year);
    expect(status).toBe(200);
    expect(body).toEqual({
      ...year,
      ...{ code: yard.yard.code, name: 'Heron Street yard', receivedByMaterial: [], receivedByOrigin: [] },
      permits: [{ reference: 'HS-PERMIT-3', validFrom: '2026-01-01', validTo: null }],
      ...{ bulking: [], waterKg: 0, processed: { batches: 0, massKg: 0 } },
      onSite: ['waiting', 'building', 'active', 'curing', 'condemned', 'overs', 'finished'].map((stage) => ({
        ...{ stage, massKg: 0, volumeL: 0 },
      })),
      produced: { batches: 0, massKg: 0, volumeL: 0 },
      ...{ distributed: [], residue: [], releases: [], samples: [], complaints: [] },
    });
    expect((await ask({ from: '2024-01-01', to: '2026-01-01' })).body.permits).toEqual([]);
  });

  it('tells a batch from its first lot to its last bucket', async () => {
    const manager = yard.manager.token;
    const id = await makeCuring(api, programme, yard);
    const at = (what: string) => `/batches/${id}/${what}`;
    await made(api, at('waterings'), { occurredAt: CURING_FROM, volume: litres(30) }, manager);
    await made(api, at('samples'), maturity('passed'), manager);
    const parted = {
      ...{ compost: kg(300), compostVolume: litres(600), overs: kg(100) },
      ...{ residue: kg(5), residueWentTo: 'landfill', occurredAt: hoursAfter(CURING_FROM, 32 * 24) },
    };
    await made(api, at('screenings'), parted, manager);
    await made(api, at('release'), { password: PASSWORD, statement: 'Looked at' }, manager);
    await made(
      api,
      at('distributions'),
      { recipient: 'school', use: 'vegetable-beds', mass: kg(10) },
      manager,
    );
    await made(
      api,
      at('distributions'),
      { recipient: 'school', use: 'vegetable-beds', volume: litres(40) },
      manager,
    );

    const { body } = await ask(year);
    expect(body).toMatchObject({
      receivedByMaterial: [{ material: 'food-scraps', massKg: 1000, estimatedKg: 0 }],
      receivedByOrigin: [{ jurisdiction: 'Town of Lark Hollow', massKg: 1000 }],
      ...{ bulking: [], waterKg: 30, processed: { batches: 1, massKg: 1000 } },
      produced: { batches: 1, massKg: 300, volumeL: 600 },
      distributed: [{ use: 'vegetable-beds', recipient: 'school', count: 2, massKg: 30, volumeL: null }],
      residue: [{ wentTo: 'landfill', massKg: 5 }],
      releases: [{ rule: 'us-503-pfrp-static-aerated', status: 'met', turns: 0 }],
      samples: [{ kind: 'maturity', passed: 1, failed: 0, information: 0 }],
    });
    expect(body.releases[0].hotHours).toBeGreaterThanOrEqual(72);
    expect(body.releases[0].seal).toMatch(/^[0-9a-f]{64}$/);
    expect(onSite(body)).toMatchObject({ curing: [0, 0], overs: [100, null], finished: [270, 540] });
    const before = await ask({ from: '2026-01-01', to: '2026-03-15' });
    expect(onSite(before.body)).toMatchObject({ curing: [1000 + 30, null], finished: [0, 0], overs: [0, 0] });
    expect(before.body).toMatchObject({ releases: [], processed: { batches: 1, massKg: 1000 } });
  });

  it('tells what came from stock apart, by which town material came, and of what is not yet built', async () => {
    const batch = (await yard.begin()) as { id: string };
    const ford = programme.jurisdictions.thistleFord.id;
    const lots = [
      await lotAtHub1(api, programme, 60_000, { jurisdictionId: ford }),
      await lotAtHub1(api, programme, 40_000, { material: 'leaves', basis: 'volume' }),
    ];
    const items = lots.map((dropOffId) => ({ dropOffId }));
    const add = (what: string, sent: object) =>
      made<{ id: string }>(api, `/batches/${batch.id}/${what}`, sent, yard.manager.token);
    await add('assignments', { items });
    await add('amendments', { from: 'stock', material: 'wood-chips', mass: kg(70) });
    const chips = await add('amendments', { from: 'stock', material: 'wood-chips', mass: kg(500) });
    const path = `/batches/${batch.id}/amendments/${chips.id}/void`;
    const why = { reason: 'Entered twice' };
    expect((await api.call('POST', path, { as: yard.manager.token, body: why })).status).toBe(200);
    await add('amendments', { from: 'water', volume: litres(12) });

    const { body } = await ask({ yearOf: new Date().toISOString().slice(0, 10) });
    expect(body.receivedByOrigin).toEqual(
      expect.arrayContaining([
        expect.objectContaining({ massKg: 60 }),
        expect.objectContaining({ massKg: 40 }),
      ]),
    );
    expect(body.receivedByMaterial).toContainEqual(
      expect.objectContaining({ material: 'leaves', massKg: 40, estimatedKg: 40 }),
    );
    expect(body.bulking).toMatchObject([{ material: 'wood-chips', massKg: 70 }]);
    expect(body.waterKg).toBe(12);
    expect(onSite(body)['building']).toEqual([60 + 40 + 70 + 12, null]);
  });

  it('lists the complaints that stand, with what was done', async () => {
    const told = { siteId: yard.yard.id, occurredAt: '2026-04-02T02:30:00Z', kind: 'odour', about: 'Rotten' };
    const { id } = await made<{ id: string }>(api, '/complaints', told);
    await made(api, `/complaints/${id}/actions`, { occurredAt: '2026-04-03T15:00:00Z', done: 'Turned it' });
    const mistaken = await made<{ id: string }>(api, '/complaints', { ...told, about: 'Twice' });
    const why = { reason: 'Entered twice' };
    await api.call('POST', `/complaints/${mistaken.id}/void`, { as: api.coordinator, body: why });
    const { body } = await ask(year);
    // Half past two at night in Greenwich is the evening before in Denver.
    const one = { on: '2026-04-01', kind: 'odour', about: 'Rotten', done: ['Turned it'] };
    expect(body.complaints).toEqual([one]);
    expect((await ask({ from: '2026-04-02', to: '2026-05-01' })).body.complaints).toEqual([]);
  });

  it('is for managers of the site, and refuses what is no period', async () => {
    expect((await ask(year, yard.operator.token)).status).toBe(403);
    expect((await api.call('GET', `/sites/${yard.yard.id}/facility-year`)).status).toBe(401);
    for (const query of [
      {},
      { from: '2026-01-01' },
      { ...year, to: '2026-01-01' },
      { yearOf: '2026-02-30' },
    ]) {
      expect((await ask(query as Record<string, string>)).status).toBe(422);
    }
  });
});

describe('sets of greenhouse factors', () => {
  it('are listed with every factor and its source', async () => {
    const api = await startApi();
    const { body } = await api.call('GET', '/greenhouse-sets', { as: api.coordinator });
    await api.stop();
    const codes = body.items.map(({ code }: { code: string }) => code);
    expect(codes).toEqual([
      ...['us-epa-warm-15', 'us-epa-warm-16', 'ipcc-2006-ar4', 'ipcc-2006-ar5', 'ipcc-2006-ar6'],
    ]);
    expect(body.items[1].factors).toContainEqual(
      expect.objectContaining({ name: 'landfill of leaves', value: -0.5338629284197376 }),
    );
    expect(body.items[2].categories).not.toContain('other');
  });
});
