import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { bringLoads, issueBody } from '../support/reports.js';

const tons = (value: number) => ({ value, unit: 'short-ton' });
const rate = (changes: object = {}) => ({
  rate: { formula: 'us-epa-1997', disposed: tons(4_500), source: 'Scale house of Lark Hollow', ...changes },
});
const nextYear = String(new Date().getUTCFullYear() + 1);

describe('what is asked for when a report is issued', () => {
  let api: TestApi;
  let programme: Programme;
  let coordinator: string;
  const post = (body: object, path = '') =>
    api.call('POST', `/diversion-reports${path}`, {
      as: coordinator,
      body: { ...issueBody(programme), ...body },
    });

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    coordinator = programme.people.coordinator.token;
    await bringLoads(api, programme);
  });
  afterAll(() => api.stop());

  const none = { yearOf: undefined };
  it.each<[what: string, body: object, pointer: string]>([
    ['a jurisdiction that is none', { jurisdictionId: v7() }, '/jurisdictionId'],
    ['no period', none, '/from'],
    ['a period twice over', { from: '2025-07-01', to: '2026-07-01' }, '/from'],
    ['a period without its end', { ...none, from: '2025-07-01' }, '/from'],
    ['a period that ends before it begins', { ...none, from: '2026-07-01', to: '2025-07-01' }, '/to'],
    ['a period of no day', { ...none, from: '2025-07-01', to: '2025-07-01' }, '/to'],
    ['a day of no calendar', { yearOf: '2026-02-30' }, '/yearOf'],
    ['a period that is not over', { ...none, from: '2026-07-01', to: `${nextYear}-07-01` }, '/to'],
    ['a year that is not over', { yearOf: `${nextYear}-01-01` }, '/to'],
    ['a formula nobody knows', rate({ formula: 'ours' }), '/rate/formula'],
    ['a volume disposed of', rate({ disposed: { value: 900, unit: 'yd3' } }), '/rate/disposed/unit'],
    ['nothing disposed of', rate({ disposed: tons(0) }), '/rate/disposed'],
    ['pounds that are called tons', rate({ disposed: tons(900_000_000) }), '/rate/disposed'],
    ['less than nothing', rate({ disposed: tons(-3) }), '/rate/disposed/value'],
    ['a mass the formula has no place for', rate({ exported: tons(3) }), '/rate/exported'],
    ['a mass the formula cannot do without', rate({ formula: 'us-tx-reduction' }), '/rate/sourceReduced'],
    [
      'more imported than disposed of',
      rate({ formula: 'us-tx-recycling', imported: tons(5_000) }),
      '/rate/imported',
    ],
    ['no word on who said so', rate({ source: ' ' }), '/rate/source'],
    ['a year before there was anything', { yearOf: '2019-05-05' }, '/yearOf'],
    ['days before there was anything', { ...none, from: '2019-01-01', to: '2019-04-01' }, '/to'],
    ['a set of factors nobody knows', { greenhouse: { set: 'ours' } }, '/greenhouse/set'],
  ])('refuses %s', async (_, body, pointer) => {
    const { status, body: told } = await post(body);
    expect([status, told.errors?.map((fault: { pointer: string }) => fault.pointer)]).toEqual([
      422,
      [pointer],
    ]);
    const kept = await api.call('GET', '/diversion-reports', { as: coordinator });
    expect(kept.body.items).toEqual([]);
  });

  it('asks for the password of whoever issues it', async () => {
    const wrong = await post({ password: 'not the password' });
    expect([wrong.status, wrong.body.type]).toEqual([403, 'urn:heapwright:problem:wrong-password']);
  });

  it('shows the rate in a draft before anything is signed', async () => {
    const { password: _, ...draft } = { ...issueBody(programme), ...rate() };
    const as = { as: coordinator };
    const read = await api.call('POST', '/diversion-reports/draft.json', { ...as, body: draft });
    expect([read.status, read.body.rate.percent]).toEqual([200, 0.31]);
    const pdf = await api.call('POST', '/diversion-reports/draft.pdf', { ...as, body: draft });
    expect(pdf.bytes.subarray(0, 5).toString()).toBe('%PDF-');
    const body = { ...draft, ...rate({ exported: tons(3) }) };
    const refused = await api.call('POST', '/diversion-reports/draft.json', { ...as, body });
    expect([refused.status, refused.body.errors[0].pointer]).toEqual([422, '/rate/exported']);
    expect((await api.call('GET', '/diversion-reports', as)).body.items).toEqual([]);
  });

  it('prints a percentage only where the municipality said what it disposed of', async () => {
    const issued = await post(rate());
    expect(issued.status).toBe(201);
    const { id } = issued.body as { id: string };
    const read = async () =>
      (await api.call('GET', `/diversion-reports/${id}.json`, { as: coordinator })).body;
    // 27,880 lb are 13.94 short tons: 13.94 / (13.94 + 4,500) is 0.309 %.
    expect(await read()).toMatchObject({
      rate: { percent: 0.31, expression: 'recycled / (recycled + disposed)', terms: expect.any(Array) },
    });
    const reason = { reason: 'The figure was withdrawn', password: PASSWORD };
    await made(api, `/diversion-reports/${id}/versions`, { ...reason, rate: null }, coordinator);
    expect((await read()).rate).toBeNull();
    const versions = `/${id}/versions`;
    const refused = await api.call('POST', `/diversion-reports${versions}`, {
      as: coordinator,
      body: { ...reason, ...rate({ disposed: { value: 1, unit: 'gal' } }) },
    });
    expect(refused.body.errors[0].pointer).toBe('/rate/disposed/unit');
    expect(
      (await api.call('POST', `/diversion-reports/${v7()}/versions`, { as: coordinator, body: reason }))
        .status,
    ).toBe(404);
  });

  it('tells no mass in two reporting years', async () => {
    const { larkHollow } = programme.jurisdictions;
    const one = await api.call('GET', `/jurisdictions/${larkHollow.id}`, { as: coordinator });
    await api.call('PATCH', `/jurisdictions/${larkHollow.id}`, {
      ...{ as: coordinator, headers: { 'if-match': String(one.headers.etag) } },
      body: { reportingYearStart: '01-01' },
    });
    const overlapping = await post({ yearOf: '2025-05-01' });
    expect([overlapping.status, overlapping.body.type]).toEqual([
      409,
      'urn:heapwright:problem:report-issued',
    ]);
    expect(overlapping.body.detail).toContain('2025-07-01 to 2026-07-01');
    const quarter = await post({ ...none, from: '2026-01-01', to: '2026-04-01' });
    expect([quarter.status, quarter.body.wholeYear, quarter.body.warnings]).toEqual([201, false, []]);
  });

  it('names the reports that share days with it', async () => {
    const months = await post({ ...none, from: '2026-03-01', to: '2026-05-01' });
    const { limits } = (
      await api.call('GET', `/diversion-reports/${months.body.id as string}.json`, { as: coordinator })
    ).body as { limits: string[] };
    expect(limits.filter((text) => text.startsWith('It shares days'))).toEqual([
      expect.stringContaining('from 2025-07-01 up to and including 2026-06-30 (version 2)'),
      expect.stringContaining('from 2026-01-01 up to and including 2026-03-31 (version 1)'),
    ]);
  });

  it('asks to look again at a period that leaves out the last day of a month', async () => {
    const short = await post({ ...none, from: '2025-01-01', to: '2025-12-31' });
    const text = '2025-12-31 is not in the period, which has 364 days and ends before it.';
    expect([short.status, short.body.inWords, short.body.warnings]).toEqual([
      ...[201, 'from 2025-01-01 up to and including 2025-12-30', [{ code: 'last-day-left-out', text }]],
    ]);
    const query = `jurisdictionId=${programme.jurisdictions.larkHollow.id}&from=2025-01-01&to=2025-12-31`;
    const draft = await api.call('GET', `/diversion-reports/draft.json?${query}`, { as: coordinator });
    expect(draft.body.period.inWords).toBe(short.body.inWords);
    expect(draft.body.limits).toContain(text);
  });
});
