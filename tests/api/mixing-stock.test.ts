import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { StockService } from '../../apps/api/mixing/stock.service.js';
import { SiteFactsService } from '../../apps/api/sites/site-facts.service.js';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { pointersOf } from '../support/intake.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { makeYard, sqlOf, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const litres = (value: number) => ({ value, unit: 'L' });
const DAY_MS = 86_400_000;

describe('stock of a yard', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let barrow: { id: string };
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    const measured = { siteId: yard.yard.id, tare: kg(12), volume: litres(90) };
    barrow = await made(api, '/containers', { ...measured, code: 'B1' });
    for (const code of ['pomace', 'hulls', 'husks', 'straw-bales'])
      await made(api, '/materials', { code, name: `Own ${code}`, class: 'carbon' });
    // A density of its own, so that what is reckoned with it can be checked by hand.
    const bulkDensityKgM3 = { typical: 250, source: 'a bucket of our own, weighed' };
    for (const code of ['own-chips', 'own-leaves', 'bark', 'shavings', 'reeds'])
      await made(api, '/materials', { code, name: `Own ${code}`, class: 'carbon', bulkDensityKgM3 });
  });
  afterAll(() => api.stop());

  const ago = (days: number) => new Date(Date.now() - days * DAY_MS).toISOString();
  const body = (material: string, amount: object, changes: object = {}) => ({
    ...{ id: v7(), siteId: yard.yard.id, material, amount, occurredAt: ago(3) },
    ...changes,
  });
  const post = (sent: object, as = yard.operator.token) =>
    api.call('POST', '/stock-counts', { as, body: sent });
  const count = (material: string, amount: object, changes: object = {}) =>
    made(api, '/stock-counts', body(material, amount, changes), yard.operator.token);
  const take = (id: string, reason: string, as = yard.manager.token) =>
    api.call('POST', `/stock-counts/${id}/void`, { as, body: { reason } });
  const stock = async (material: string) => {
    const { body: answer } = await api.call('GET', `/sites/${yard.yard.id}/stock`, {
      as: yard.operator.token,
    });
    return answer.items.find((line: { material: string }) => line.material === material);
  };
  const use = async (material: string, massKg: number, at: string, batchId?: string) => {
    const id = batchId ?? ((await yard.begin()) as { id: string }).id;
    const what = { from: 'stock', material, mass: kg(massKg), occurredAt: at };
    return { id, amendment: await made(api, `/batches/${id}/amendments`, what, yard.manager.token) };
  };

  it('keeps what was weighed, judged by volume and counted in containers', async () => {
    const weighed = await count('own-chips', { mass: { value: 100, unit: 'lb' } });
    expect(weighed).toMatchObject({
      ...{ basis: 'scale', massKg: 45.359, volumeL: null, densityKgM3: null, container: null, remark: null },
      entered: { mass: { value: 100, unit: 'lb' } },
    });
    const judged = await count(
      'own-chips',
      { volume: litres(400) },
      { costPerKg: 0.04, note: 'Heap by the gate' },
    );
    expect(judged).toMatchObject({
      ...{ basis: 'volume', massKg: 100, volumeL: 400, densityKgM3: 250, costPerKg: 0.04 },
      ...{ densitySource: 'a bucket of our own, weighed', note: 'Heap by the gate' },
    });
    // 6.5 barrows of 90 L are 585 L, which at 250 kg/m³ weigh 146.25 kg.
    const counted = await count('own-chips', { containerId: barrow.id, count: 6.5 });
    expect(counted).toMatchObject({
      ...{ basis: 'container', container: 'B1', count: 6.5, volumeL: 585, massKg: 146.25 },
    });
    const none = await count('own-leaves', { mass: kg(0) });
    expect(none).toMatchObject({ massKg: 0, remark: null });
  });

  it('keeps a volume of which no density is known, and says what is not known of it', async () => {
    const counted = await count('pomace', { volume: litres(300) });
    expect(counted).toMatchObject({ volumeL: 300, massKg: null, densityKgM3: null });
    expect(counted.remark).toContain('density');
    expect(await stock('pomace')).toMatchObject({ countedKg: null, countedL: 300, leftKg: null, leftL: 300 });
    expect((await stock('pomace')).text).toContain('density');
    // Once the density is known, so is what lies there.
    const bulkDensityKgM3 = { typical: 500, source: 'weighed since' };
    const changed = await api.call('PATCH', '/materials/pomace', {
      ...{ as: api.coordinator, body: { bulkDensityKgM3 }, headers: { 'if-match': '"1"' } },
    });
    expect(changed.status).toBe(200);
    expect(await stock('pomace')).toMatchObject({ countedKg: 150, leftKg: 150, leftL: 300 });
  });

  it('goes by the latest count, less what went into batches of the yard since', async () => {
    const latest = { occurredAt: ago(2) };
    await count('bark', { mass: kg(999) }, { occurredAt: ago(9) });
    await count('bark', { containerId: barrow.id, count: 4 }, { ...latest, costPerKg: 0.1 });
    await use('bark', 500, ago(5));
    const { id } = await use('bark', 20, latest.occurredAt);
    await use('bark', 10, ago(1), id);
    const { amendment } = await use('bark', 30, ago(1));
    const other = await made(api, '/batches', {
      ...{ siteId: programme.yard2.id, bay: 'B1', method: 'turned-windrow', occurredAt: ago(4) },
    });
    await made(api, `/batches/${other.id}/amendments`, {
      ...{ from: 'stock', material: 'bark', mass: kg(7), occurredAt: ago(1) },
    });
    // 360 L at 250 kg/m³ are 90 kg; 60 kg were taken since, at the moment of the count included.
    expect(await stock('bark')).toMatchObject({
      ...{ basis: 'container', countedKg: 90, countedL: 360, countedDaysAgo: 2, usedKg: 60 },
      ...{ leftKg: 30, leftL: 120, usedBeyondCountKg: 0, costPerKg: 0.1, retired: false },
      measure: { containerId: barrow.id, container: 'B1', volumeL: 90 },
      text: '120 L (32 gal), about 30 kg (66 lb), left, by the count of 2 days ago.',
    });
    // A voided amendment was never taken.
    await api.call('POST', `/batches/${amendment.batchId}/amendments/${amendment.id}/void`, {
      ...{ as: yard.manager.token, body: { reason: 'Another heap' } },
    });
    expect(await stock('bark')).toMatchObject({ usedKg: 30, leftKg: 60 });
    // By the scale it is counted anew; what it was counted in and what it costs are still known.
    await count('bark', { mass: kg(55) }, { occurredAt: ago(0.5) });
    expect(await stock('bark')).toMatchObject({
      ...{ basis: 'scale', countedKg: 55, usedKg: 0, leftKg: 55, leftL: 220, costPerKg: 0.1 },
      measure: { container: 'B1' },
    });
  });

  it('has none of what was counted as none, whether its density is known or not', async () => {
    expect(await count('pomace', { volume: litres(0) }, { occurredAt: ago(1) })).toMatchObject({
      volumeL: 0,
    });
    const counted = await count('hulls', { containerId: barrow.id, count: 0 });
    expect(counted).toMatchObject({ volumeL: 0, massKg: null, remark: null });
    expect(await stock('hulls')).toMatchObject({ countedKg: 0, leftKg: 0, leftL: 0 });
    for (const material of ['hulls', 'pomace'])
      expect((await stock(material)).text).toMatch(/^None left, by the count of /);
    await count('hulls', { mass: { value: 12, unit: 'g' } }, { occurredAt: ago(2) });
    expect((await stock('hulls')).text).toMatch(/^Hardly any left, by the count of /);
  });

  it('tells the age of a count by the calendar of the yard', async () => {
    // Denver is six or seven hours behind: 36 hours ago is yesterday or the day before, whatever the time is here.
    const dayIn = (at: Date) => new Intl.DateTimeFormat('en-CA', { timeZone: 'America/Denver' }).format(at);
    for (const hours of [1, 13, 36]) {
      const occurredAt = new Date(Date.now() - hours * 3_600_000);
      await count('husks', { mass: kg(5) }, { occurredAt: occurredAt.toISOString() });
      const days = (Date.parse(dayIn(new Date())) - Date.parse(dayIn(occurredAt))) / DAY_MS;
      const { countedDaysAgo, text, countId } = await stock('husks');
      expect([hours, countedDaysAgo]).toEqual([hours, days]);
      expect(text).toContain(['by the count of today', 'by the count of yesterday', '2 days ago'][days]);
      await take(countId, 'Only to see');
    }
  });

  it('goes by a count of a clock that is a little ahead', async () => {
    await count('husks', { mass: kg(8) }, { occurredAt: new Date(Date.now() + 120_000).toISOString() });
    const line = await stock('husks');
    expect(line).toMatchObject({ leftKg: 8, countedDaysAgo: 0 });
    await take(line.countId, 'Only to see');
  });

  it('says when more was used than had been counted, and never has less than nothing', async () => {
    await count('shavings', { mass: kg(40) });
    await use('shavings', 52, ago(1));
    expect(await stock('shavings')).toMatchObject({ usedKg: 52, leftKg: 0, leftL: 0, usedBeyondCountKg: 12 });
    expect((await stock('shavings')).text).toContain('12 kg (26 lb) more was used than had been counted');
  });

  it('takes a count back once, so that the one before it counts', async () => {
    await count('reeds', { mass: kg(10) }, { occurredAt: ago(4) });
    const wrong = await count('reeds', { mass: kg(1000) }, { occurredAt: ago(2) });
    expect((await stock('reeds')).leftKg).toBe(1000);
    expect((await take(wrong.id, 'Kilograms for pounds', yard.operator.token)).status).toBe(403);
    const voided = await take(wrong.id, 'Kilograms for pounds');
    expect([voided.status, voided.body.voidReason]).toEqual([200, 'Kilograms for pounds']);
    expect((await take(wrong.id, 'Kilograms for pounds')).text).toBe(voided.text);
    expect((await take(wrong.id, 'Something else')).body.type).toBe('urn:heapwright:problem:conflict');
    expect((await stock('reeds')).leftKg).toBe(10);
    expect((await take(v7(), 'x')).status).toBe(404);
    const lines = (await auditOf(api, 'stock-count.voided')).filter(
      ({ subjectId }) => subjectId === wrong.id,
    );
    expect(lines.map(({ detail }) => detail)).toEqual([{ reason: 'Kilograms for pounds' }]);
  });

  it('counts once what is sent many times, and refuses another body under the same id', async () => {
    const sent = body('hulls', { mass: kg(12) });
    const together = await Promise.all([post(sent), post(sent), post(sent)]);
    expect(together.map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    expect(new Set(together.map(({ text }) => text)).size).toBe(1);
    for (const other of [{ amount: { mass: kg(13) } }, { material: 'husks' }, { occurredAt: ago(2) }]) {
      expect((await post({ ...sent, ...other })).body.type).toBe('urn:heapwright:problem:other-body');
    }
    const [line, ...more] = (await auditOf(api, 'stock-count.recorded')).filter(
      ({ subjectId }) => subjectId === sent.id,
    );
    expect(more).toEqual([]);
    expect(line).toMatchObject({
      ...{ personId: yard.operator.id, siteId: yard.yard.id },
      detail: { material: 'hulls', massG: 12_000, volumeMl: null },
    });
  });

  it.each<[string, (facts: { barrow: string; bucket: string }) => object, string[]]>([
    ['no amount', () => ({ amount: {} }), ['/amount']],
    ['two amounts', () => ({ amount: { mass: kg(1), volume: litres(1) } }), ['/amount']],
    ['a container without a count', ({ barrow: id }) => ({ amount: { containerId: id } }), ['/amount/count']],
    ['a count of nothing named', () => ({ amount: { mass: kg(1), count: 2 } }), ['/amount/count']],
    [
      'a container nobody knows',
      () => ({ amount: { containerId: v7(), count: 1 } }),
      ['/amount/containerId'],
    ],
    [
      'a container of another site',
      ({ bucket }) => ({ amount: { containerId: bucket, count: 1 } }),
      ['/amount/containerId'],
    ],
    ['less than none', () => ({ amount: { mass: kg(-1) } }), ['/amount/mass/value']],
    [
      'fewer than no barrows',
      ({ barrow: id }) => ({ amount: { containerId: id, count: -1 } }),
      ['/amount/count'],
    ],
    [
      'more barrows than a yard holds',
      ({ barrow: id }) => ({ amount: { containerId: id, count: 9_999 } }),
      ['/amount/count'],
    ],
    ['a material nobody knows', () => ({ material: 'moon-dust' }), ['/material']],
    ['a time to come', () => ({ occurredAt: ago(-1) }), ['/occurredAt']],
    ['a cost below nothing', () => ({ costPerKg: -0.1 }), ['/costPerKg']],
  ])('refuses %s', async (_, wrongOf, pointers) => {
    const wrong = wrongOf({ barrow: barrow.id, bucket: programme.containers.bucket.id });
    const answer = await post(body('husks', { mass: kg(1) }, wrong));
    expect(answer.status).toBe(422);
    expect(pointersOf(answer)).toEqual(pointers);
    const [row] = await sqlOf(api).query<{ n: number }>(
      `SELECT count(*)::int AS n FROM stock_count WHERE material_code = 'husks' AND voided_at IS NULL`,
    );
    expect(row!.n).toBe(0);
  });

  it('refuses a container whose volume is not known, one that is retired, and a site that is no yard', async () => {
    const bin = { siteId: yard.yard.id, tare: kg(2) };
    const shapeless = await made(api, '/containers', { ...bin, code: 'X1' });
    const shape = await post(body('husks', { containerId: shapeless.id, count: 1 }));
    expect([shape.status, pointersOf(shape)]).toEqual([422, ['/amount/containerId']]);
    expect(shape.body.errors[0].detail).toContain('how much X1 holds is not known');
    const old = await made(api, '/containers', { ...bin, code: 'X2', volume: litres(60) });
    await api.call('PATCH', `/containers/${old.id}`, {
      ...{ as: api.coordinator, body: { retired: true }, headers: { 'if-match': '"1"' } },
    });
    expect(pointersOf(await post(body('husks', { containerId: old.id, count: 1 })))).toEqual([
      '/amount/containerId',
    ]);
    const atHub = await post(body('husks', { mass: kg(1) }, { siteId: programme.hub1.id }));
    expect([atHub.status, pointersOf(atHub)]).toEqual([422, ['/siteId']]);
  });

  it('lists the latest first by yard and material, page by page', async () => {
    const ids: string[] = [];
    for (const day of [8, 7, 6])
      ids.unshift((await count('straw-bales', { mass: kg(day) }, { occurredAt: ago(day) })).id);
    const list = (query: string, as = yard.operator.token) =>
      api.call('GET', `/stock-counts?material=straw-bales${query}`, { as });
    const idsOf = (answer: { body: { items: { id: string }[] } }) => answer.body.items.map(({ id }) => id);
    expect(idsOf(await list(''))).toEqual(ids);
    const first = await list('&limit=2');
    expect(idsOf(await list(`&limit=2&cursor=${first.body.next as string}`))).toEqual(ids.slice(2));
    expect(idsOf(await list(`&siteId=${programme.yard1.id}`))).toEqual([]);
    expect(idsOf(await list('', programme.people.otherManager.token))).toEqual([]);
    expect(pointersOf(await list('&siteId=here'))).toEqual(['/siteId']);
    expect(pointersOf(await list('&cursor=nonsense'))).toEqual(['/cursor']);
  });

  it('lets in who works at that yard', async () => {
    const kept = await count('straw-bales', { mass: kg(1) });
    const { volunteer, otherManager } = programme.people;
    const paths = [
      ['POST', '/stock-counts'],
      ['GET', '/stock-counts'],
      ['POST', `/stock-counts/${kept.id}/void`],
      ['GET', `/sites/${yard.yard.id}/stock`],
    ] as const;
    for (const [method, path] of paths) {
      expect((await api.call(method, path)).status).toBe(401);
      const sent = method === 'POST' ? { body: body('husks', { mass: kg(1) }) } : {};
      const low = await api.call(method, path, { as: volunteer.token, ...sent });
      expect([low.status, low.body.type], path).toEqual([403, 'urn:heapwright:problem:not-allowed']);
      if (method === 'GET' && path === '/stock-counts') continue;
      const far = await api.call(method, path, { as: otherManager.token, ...sent });
      expect([far.status, far.body.type], path).toEqual([403, 'urn:heapwright:problem:other-site']);
    }
    expect((await api.call('GET', `/sites/${v7()}/stock`, { as: api.coordinator })).status).toBe(404);
  });

  describe('as what may be added', () => {
    const toAdd = async () => {
      const figures = await api.app.get(SiteFactsService, { strict: false }).materialFigures();
      const byCode = new Map(figures.map((material) => [material.code, material]));
      return api.app.get(StockService).candidates(programme.yard1.id, byCode);
    };
    const candidates = async () => (await toAdd()).candidates;
    const at1 = (material: string, amount: object, changes: object = {}) =>
      made(api, '/stock-counts', { ...body(material, amount), siteId: programme.yard1.id, ...changes });

    it('has water from the tap without limit, until it is counted', async () => {
      expect(await candidates()).toMatchObject([
        { material: { code: 'water', kind: 'water' }, availableG: null, costPerKg: null, measure: null },
      ]);
      await at1('water', { containerId: programme.containers.tote.id, count: 2 }, { occurredAt: ago(2) });
      const [batch] = [
        await made(api, '/batches', {
          ...{ siteId: programme.yard1.id, bay: 'A1', method: 'turned-windrow', occurredAt: ago(3) },
        }),
      ];
      await made(api, `/batches/${batch.id}/amendments`, {
        from: 'water',
        volume: litres(100),
        occurredAt: ago(1),
      });
      await made(api, `/batches/${batch.id}/waterings`, { volume: litres(40), occurredAt: ago(1) });
      // Two totes of 240 L, less what was mixed in and what was watered.
      expect(await candidates()).toMatchObject([
        { material: { code: 'water' }, availableG: 340_000, measure: { code: 'T-01', volumeMl: 240_000 } },
      ]);
    });

    it('has what is counted, with what is left, its cost and its measure, and not what is retired or weightless', async () => {
      await at1('own-chips', { containerId: programme.containers.tote.id, count: 1 }, { costPerKg: 0.2 });
      await at1('husks', { volume: litres(500) });
      await at1('own-leaves', { mass: kg(80) });
      const left = await api.call('PATCH', '/materials/own-leaves', {
        ...{ as: api.coordinator, body: { retired: true }, headers: { 'if-match': '"1"' } },
      });
      expect(left.status).toBe(200);
      const codes = (await candidates()).map(({ material, availableG, costPerKg, measure }) => [
        ...[material.code, availableG, costPerKg, measure?.code],
      ]);
      expect(codes).toEqual([
        ['own-chips', 60_000, 0.2, 'T-01'],
        ['water', 340_000, null, 'T-01'],
      ]);
      expect((await toAdd()).unweighed.map(({ code }) => code)).toEqual(['husks']);
    });
  });
});
