/**
 * Bucket test: 20 L, 1 kg empty and 10 kg full are 0.45 kg/L (Zabaleta, supplementary material on composting, after
 * Cooperband 2002). Drying: 10 g of grass in a 4 g dish, 6.3 g after drying, are 77 % (Cornell Composting, "Measuring
 * Moisture Content"). Ash: C = (100 − ash) / 1.8 (Cornell Composting, "Determining the Carbon Content").
 */
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SiteFactsService } from '../../apps/api/sites/site-facts.service.js';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { figuresFrom } from '../support/figures-from.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { sqlOf } from '../support/yard-work.js';

const PATH = '/material-measurements';
const kg = (value: number) => ({ value, unit: 'kg' });
const g = (value: number) => ({ value, unit: 'g' });
const litres = (value: number) => ({ value, unit: 'L' });
const bucket = { full: kg(10), empty: kg(1), volume: litres(20) };

let api: TestApi;
let programme: Programme;
let manager: string;
let operator: string;
beforeAll(async () => {
  api = await startApi();
  programme = await makeProgramme(api);
  manager = programme.people.manager.token;
  operator = programme.people.operator.token;
});
afterAll(() => api.stop());

const of = (body: object) => ({
  ...{ siteId: programme.yard1.id, material: 'grass-clippings', occurredAt: '2026-05-02T15:00:00Z' },
  by: 'Fell Laboratory',
  ...body,
});
const post = (body: object, as = manager) => api.call('POST', PATH, { as, body: of(body) });
const voided = (id: string, reason: string, as = manager) =>
  api.call('POST', `${PATH}/${id}/void`, { as, body: { reason } });
const pointersOf = (answer: { body: { errors: { pointer: string }[] } }) =>
  answer.body.errors.map(({ pointer }) => pointer);

describe('measurements of materials', () => {
  it('keep what a laboratory found, and who entered it', async () => {
    const figures = { nitrogenPercentDry: 3.1, carbonPercentDry: 46.5, ashPercentDry: 12.5 };
    const answer = await post({ ...figures, reference: 'FL-204', note: 'First cut' });
    expect(answer.status, answer.text).toBe(201);
    expect(answer.body).toEqual({
      ...{ ...figures, carbonToNitrogen: null, moisturePercent: null, bulkDensityKgM3: null },
      ...{ id: answer.body.id, siteId: programme.yard1.id, material: 'grass-clippings' },
      ...{ occurredAt: '2026-05-02T15:00:00.000Z', by: 'Fell Laboratory', reference: 'FL-204' },
      ...{ note: 'First cut', entered: {}, warnings: [], voidedAt: null, voidReason: null },
      ...{ recordedAt: answer.body.recordedAt, recordedBy: programme.people.manager.id },
    });
    const path = `${PATH}/${answer.body.id as string}`;
    expect((await api.call('GET', path, { as: operator })).body).toEqual(answer.body);
    const [line] = (await auditOf(api, 'material-measurement.recorded')).slice(-1);
    expect(line).toMatchObject({
      ...{ subjectId: answer.body.id, siteId: programme.yard1.id, detail: { material: 'grass-clippings' } },
      personId: programme.people.manager.id,
    });
  });

  it('work moisture out of a sample weighed wet and dry, and density out of a bucket', async () => {
    const moisture = { wet: g(10), dry: g(2.3) };
    const answer = await post({ by: 'bucket test', moisture, bulkDensity: bucket });
    expect(answer.body).toMatchObject({
      ...{ moisturePercent: 77, bulkDensityKgM3: 450 },
      entered: { moisture, bulkDensity: bucket },
    });
    const ounces = { wet: { value: 1, unit: 'oz' }, dry: { value: 0.4, unit: 'oz' } };
    const plain = await post({ moisture: ounces, bulkDensity: { kgM3: 380 } });
    expect(plain.body).toMatchObject({ moisturePercent: 60, bulkDensityKgM3: 380 });
  });

  it('are answered with the first when they are sent again, also at the same moment', async () => {
    const body = { id: v7(), moisture: { percent: 70 } };
    const answers = await Promise.all([1, 2, 3].map(() => post(body)));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    for (const answer of answers) expect(answer.body).toEqual(answers[0]!.body);
    const other = await post({ ...body, moisture: { percent: 71 } });
    expect([other.status, other.body.type]).toEqual([409, 'urn:heapwright:problem:other-body']);
    const elsewhere = { ...body, siteId: programme.hub1.id };
    expect((await post(elsewhere)).body.type).toBe('urn:heapwright:problem:other-body');
  });

  it('say what is worth a second look, and are kept all the same', async () => {
    const sample = { bulkDensity: { kgM3: 4950 }, nitrogenPercentDry: 31 };
    const { status, body } = await post({ material: 'leaves', ...sample }, manager);
    expect(status).toBe(201);
    expect(body.warnings).toEqual([
      {
        ...{ code: 'far-from-list', pointer: '/nitrogenPercentDry' },
        text: 'Nitrogen of 31 % of the dry matter is more than twice what the list has of Leaves, mixed: 0.5 to 1.3 % of the dry matter.',
      },
      {
        ...{ code: 'far-from-list', pointer: '/bulkDensity' },
        text: 'Bulk density of 4950 kg/m³ is more than twice what the list has of Leaves, mixed: 60 to 297 kg/m³.',
      },
      expect.objectContaining({ code: 'too-dense', pointer: '/bulkDensity' }),
      expect.objectContaining({ code: 'too-much-nitrogen', pointer: '/nitrogenPercentDry' }),
      expect.objectContaining({ code: 'list-left-out', pointer: '/nitrogenPercentDry' }),
    ]);
    const path = `${PATH}/${body.id as string}`;
    expect((await api.call('GET', path, { as: operator })).body.warnings).toEqual(body.warnings);
    const query = `?siteId=${programme.yard1.id}&material=leaves`;
    const { items } = (await api.call('GET', PATH + query, { as: operator })).body;
    expect(items).toEqual([body]);
    expect((await voided(body.id as string, 'Whole bucket weighed')).body.warnings).toEqual(body.warnings);
  });

  it('are taken back once, with a reason, and stay in the list', async () => {
    const { id } = (await post({ ashPercentDry: 20 })).body as { id: string };
    expect((await voided(id, 'Wrong bag')).body).toMatchObject({
      ...{ id, voidReason: 'Wrong bag', voidedAt: expect.any(String) },
    });
    expect((await voided(id, 'Wrong bag')).status).toBe(200);
    expect((await voided(id, 'Other reason')).status).toBe(409);
    const query = `?siteId=${programme.yard1.id}&material=grass-clippings&limit=200`;
    const { items } = (await api.call('GET', PATH + query, { as: operator })).body;
    expect(items.find((item: { id: string }) => item.id === id)).toMatchObject({ voidReason: 'Wrong bag' });
    const lines = await auditOf(api, 'material-measurement.voided');
    expect(lines.filter(({ subjectId }) => subjectId === id)).toHaveLength(1);
    const change = sqlOf(api).query(`UPDATE material_measurement SET ash_percent_dry = 21 WHERE id = $1`, [
      id,
    ]);
    await expect(change).rejects.toMatchObject({ constraint: 'records_keep' });
  });

  it('are listed latest sample first, by site and by material, page by page', async () => {
    const { yard2 } = programme;
    const at = (hour: number) => `2026-04-01T1${hour}:00:00Z`;
    for (const hour of [1, 3, 2]) {
      const body = { siteId: yard2.id, material: 'straw-oat', occurredAt: at(hour), ashPercentDry: 5 + hour };
      await post(body, api.coordinator);
    }
    await post({ siteId: yard2.id, material: 'leaves', ashPercentDry: 9 }, api.coordinator);
    const list = (query: string, as: string) => api.call('GET', `${PATH}?siteId=${yard2.id}${query}`, { as });
    const { otherManager } = programme.people;
    const first = (await list('&material=straw-oat&limit=2', otherManager.token)).body;
    expect(first.items.map((item: { ashPercentDry: number }) => item.ashPercentDry)).toEqual([8, 7]);
    const rest = (await list(`&material=straw-oat&cursor=${first.next as string}`, otherManager.token)).body;
    expect(rest.items).toMatchObject([{ ashPercentDry: 6, occurredAt: '2026-04-01T11:00:00.000Z' }]);
    expect((await list('', otherManager.token)).body.items).toHaveLength(4);
    expect((await list('', operator)).body.items).toEqual([]);
  });

  it('are entered by a manager of the site, and shown to its operators', async () => {
    const { people, yard2 } = programme;
    expect((await api.call('POST', PATH, { body: of({ ashPercentDry: 3 }) })).status).toBe(401);
    expect((await api.call('GET', PATH)).status).toBe(401);
    expect((await post({ ashPercentDry: 3 }, operator)).status).toBe(403);
    expect((await post({ ashPercentDry: 3, siteId: yard2.id })).body.type).toBe(
      'urn:heapwright:problem:other-site',
    );
    expect((await api.call('GET', PATH, { as: people.volunteer.token })).status).toBe(403);
    const { id } = (await post({ ashPercentDry: 3 })).body as { id: string };
    expect((await voided(id, 'Mine now', operator)).status).toBe(403);
    expect((await voided(id, 'Mine now', people.otherManager.token)).status).toBe(403);
    const get = (one: string, as: string) => api.call('GET', `${PATH}/${one}`, { as });
    expect((await get(id, people.otherManager.token)).status).toBe(403);
    expect((await get(v7(), operator)).status).toBe(404);
  });

  it.each<[object, string[]]>([
    [{}, ['']],
    [{ material: 'moonstone', ashPercentDry: 1 }, ['/material']],
    [{ occurredAt: '2126-01-01T00:00:00Z', ashPercentDry: 1 }, ['/occurredAt']],
    [{ by: 'two\nlines', ashPercentDry: 1 }, ['/by']],
    [{ nitrogenPercentDry: -1 }, ['/nitrogenPercentDry']],
    [{ carbonToNitrogen: 0 }, ['/carbonToNitrogen']],
    [{ moisture: {} }, ['/moisture']],
    [{ moisture: { percent: 100 } }, ['/moisture']],
    [{ moisture: { wet: g(10), dry: g(0) } }, ['/moisture']],
    [{ moisture: { percent: 50, wet: g(10), dry: g(5) } }, ['/moisture']],
    [{ moisture: { wet: g(10) } }, ['/moisture']],
    [{ moisture: { wet: g(10), dry: g(11) } }, ['/moisture/dry']],
    [{ moisture: { wet: g(0), dry: g(0) } }, ['/moisture/dry']],
    [{ bulkDensity: { kgM3: 400, volume: litres(20) } }, ['/bulkDensity']],
    [{ bulkDensity: { full: kg(10), volume: litres(20) } }, ['/bulkDensity']],
    [{ bulkDensity: { ...bucket, full: kg(1) } }, ['/bulkDensity/full']],
    [{ bulkDensity: { ...bucket, volume: litres(0) } }, ['/bulkDensity/volume']],
    [{ bulkDensity: { ...bucket, volume: litres(0.1) } }, ['/bulkDensity']],
    [{ nitrogenPercentDry: 6, carbonToNitrogen: 17 }, ['/carbonToNitrogen']],
    [{ carbonPercentDry: 60, ashPercentDry: 41 }, ['/carbonPercentDry']],
    [{ nitrogenPercentDry: 2, carbonPercentDry: 40, carbonToNitrogen: 25 }, ['/carbonToNitrogen']],
    [{ material: 'wood-ash', nitrogenPercentDry: 1 }, ['/nitrogenPercentDry']],
    [{ material: 'water', ashPercentDry: 1, moisture: { percent: 99 } }, ['/ashPercentDry', '/moisture']],
  ])('that cannot be are refused at their place: %j', async (wrong, pointers) => {
    const before = await sqlOf(api).query('SELECT count(*) FROM material_measurement');
    const answer = await post(wrong);
    expect([answer.status, ...pointersOf(answer)]).toEqual([422, ...pointers]);
    expect(await sqlOf(api).query('SELECT count(*) FROM material_measurement')).toEqual(before);
  });
});

describe('the figures that a site’s batches use', () => {
  let facts: SiteFactsService;
  let n = 0;
  const at = (text: string) => Date.parse(text);
  beforeAll(() => {
    facts = api.app.get(SiteFactsService, { strict: false });
  });
  /** A material of its own for each case. */
  const add = async (figures: Parameters<typeof figuresFrom>[1]) => {
    n += 1;
    const code = `bran-${n}`;
    const body = { code, name: 'Bran', class: 'nitrogen', ...figuresFrom('A handbook', figures) };
    await made(api, '/materials', body);
    return code;
  };
  const figuresOf = async (code: string, moment = '2026-06-01T00:00:00Z', siteId = programme.yard1.id) => {
    const [material] = await facts.materialFigures([code], { siteId, atMs: at(moment) });
    return material!;
  };

  it('are its own from the moment of the sample, those of the list before and elsewhere', async () => {
    const code = await add({ moisturePercent: 12, nitrogenPercentDry: 2.5, carbonToNitrogen: 18 });
    // 23:30 of the first of May in Denver.
    const sampled = '2026-05-02T05:30:00Z';
    const body = { material: code, occurredAt: sampled, moisture: { percent: 14 }, reference: 'FL-9' };
    const { id } = (await post(body)).body as { id: string };
    const [listed] = await facts.materialFigures([code]);
    expect(await figuresOf(code)).toEqual({
      ...listed,
      moisturePercent: {
        ...{ typical: 14, min: null, max: null, verification: 'local', measuredOn: '2026-05-01' },
        source: 'Measured at the site: Fell Laboratory (FL-9)',
      },
    });
    expect(await figuresOf(code, sampled)).toEqual(await figuresOf(code));
    expect(await figuresOf(code, '2026-05-02T05:29:59Z')).toEqual(listed);
    expect(await figuresOf(code, undefined, programme.yard2.id)).toEqual(listed);
    await voided(id, 'Other bag');
    expect(await figuresOf(code)).toEqual(listed);
  });

  it('are those of the latest sample that gave them, figure by figure', async () => {
    const code = await add({ moisturePercent: 12 });
    const sample = (day: number, body: object) =>
      post({ material: code, occurredAt: `2026-05-0${day}T12:00:00Z`, by: `bag ${day}`, ...body });
    await sample(3, { moisture: { percent: 20 } });
    await sample(2, { moisture: { percent: 30 }, bulkDensity: { kgM3: 300 } });
    await sample(1, { bulkDensity: { kgM3: 200 }, ashPercentDry: 5 });
    const { moisturePercent, bulkDensityKgM3, ashPercentDry } = await figuresOf(code);
    expect([moisturePercent, bulkDensityKgM3, ashPercentDry]).toMatchObject([
      { typical: 20, measuredOn: '2026-05-03', source: 'Measured at the site: bag 3' },
      { typical: 300, measuredOn: '2026-05-02' },
      { typical: 5, measuredOn: '2026-05-01' },
    ]);
  });

  it('have the carbon that ash leaves, where the same sample gave none and nothing that says it', async () => {
    const carbonOf = async (body: object) => {
      const code = await add({ nitrogenPercentDry: 2 });
      expect((await post({ material: code, ashPercentDry: 10, ...body })).status).toBe(201);
      const { carbonPercentDry, carbonToNitrogen } = await figuresOf(code);
      return [carbonPercentDry?.typical ?? null, carbonToNitrogen?.typical ?? null];
    };
    expect(await carbonOf({})).toEqual([50, 25]);
    expect(await carbonOf({ nitrogenPercentDry: 4 })).toEqual([50, 12.5]);
    expect(await carbonOf({ carbonPercentDry: 44 })).toEqual([44, 22]);
    expect(await carbonOf({ nitrogenPercentDry: 4, carbonToNitrogen: 11 })).toEqual([null, 11]);
  });

  it('leave no published C:N beside nitrogen and carbon that were measured', async () => {
    const code = await add({ nitrogenPercentDry: 2.4, carbonToNitrogen: 15 });
    await post({ material: code, nitrogenPercentDry: 3 });
    expect((await figuresOf(code)).carbonToNitrogen).toMatchObject({ typical: 15, source: 'A handbook' });
    await post({ material: code, carbonPercentDry: 45, occurredAt: '2026-05-05T12:00:00Z' });
    expect((await figuresOf(code)).carbonToNitrogen).toMatchObject({
      ...{ typical: 15, verification: 'derived', measuredOn: '2026-05-05' },
    });
    await post({ material: code, carbonPercentDry: 42, occurredAt: '2026-05-06T12:00:00Z' });
    expect((await figuresOf(code)).carbonToNitrogen?.typical).toBe(14);
  });
});
