import { createHash } from 'node:crypto';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  canonicalJson,
  checkDocument,
  type DiversionReport,
  type ReportChange,
  sealOf,
} from '#libs/documents';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { made, makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { bringLoads, issueBody, LATE, lotOf } from '../support/reports.js';

interface Issued {
  id: string;
  versions: { version: number; seal: string; reason: string | null; issuedBy: string }[];
}

/** A line without what tells which movement it is of. */
const lineOf = ({ change, kind, material, beforeKg, afterKg, what, reason }: ReportChange) => ({
  ...{ change, kind, material, beforeKg, afterKg, what, reason },
});

describe('diversion reports', () => {
  let api: TestApi;
  let programme: Programme;
  let lots: string[];
  let coordinator: string;
  let report: Issued;

  const get = (path: string, as = coordinator) => api.call('GET', `/diversion-reports${path}`, { as });
  const post = (path: string, body: object, as = coordinator) =>
    api.call('POST', `/diversion-reports${path}`, { as, body });
  const again = (body: object) =>
    post(`/${report.id}/versions`, { password: PASSWORD, reason: 'The records were mended', ...body });
  const json = async (query = ''): Promise<DiversionReport> => (await get(`/${report.id}.json${query}`)).body;

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    coordinator = programme.people.coordinator.token;
    lots = await bringLoads(api, programme);
  });
  afterAll(() => api.stop());

  it('drafts what would be issued, and keeps nothing of it', async () => {
    const query = new URLSearchParams({
      jurisdictionId: programme.jurisdictions.larkHollow.id,
      yearOf: '2026-01-01',
    });
    const draft = await get(`/draft.json?${query.toString()}`);
    expect(draft.body).toMatchObject({ version: 1, amends: null, printed: { acceptedShortTons: '13.94' } });
    const pdf = await get(`/draft.pdf?${query.toString()}`);
    expect([pdf.status, pdf.bytes.subarray(0, 5).toString()]).toEqual([200, '%PDF-']);
    expect((await get('')).body).toEqual({ items: [], next: null });
  });

  it('issues a year once: sealed, with the rows it was made of', async () => {
    const body = { id: v7(), ...issueBody(programme) };
    const answer = await post('', body);
    expect(answer.status).toBe(201);
    report = answer.body as Issued;
    expect(report).toMatchObject({
      ...{
        id: body.id,
        jurisdiction: 'Town of Lark Hollow',
        from: '2025-07-01',
        to: '2026-07-01',
        wholeYear: true,
      },
      versions: [{ version: 1, reason: null, issuedBy: 'C. W.' }],
    });
    const again = await post('', body);
    expect([again.status, again.body]).toEqual([200, report]);
    const other = await post('', { ...body, yearOf: '2025-12-01' });
    expect([other.status, other.body.type]).toEqual([409, 'urn:heapwright:problem:other-body']);

    const file = await get(`/${report.id}.json`);
    const { seal } = report.versions[0]!;
    expect(file.headers.etag).toBe(`"${seal}"`);
    expect(sealOf(file.body)).toBe(seal);
    expect(file.text).toBe(canonicalJson(file.body));
    expect(file.body).toMatchObject({
      ...{ version: 1, amends: null, rate: null, greenhouse: null },
      printed: { acceptedShortTons: '13.94', divertedShortTons: '13.94' },
      rows: { count: 6 },
    });
    const rows = await get(`/${report.id}/rows.csv`);
    expect(rows.text.split('\r\n').slice(0, 2)).toEqual([
      'kind,source_id,part,revision,occurred_at,site,material,basis,from,to,mass_g',
      `drop-off,${lots[0]!},,1,2025-07-12T19:00:00.000Z,QS,food-scraps,scale,origin,site,1909851`,
    ]);
    expect(createHash('sha256').update(rows.bytes).digest('hex')).toBe(file.body.rows.sha256);
    const known = await api.call('GET', `/seals/${seal}`, { as: coordinator });
    expect(known.body).toMatchObject({ kind: 'diversion-report', version: 1, intact: true });
    expect(await auditOf(api, 'diversion-report.issued')).toMatchObject([
      { subjectId: report.id, detail: { version: 1, seal, rows: 6 } },
    ]);
  });

  it('fits the schema that is published', async () => {
    const schema = (await api.call('GET', '/schemas/diversion-report.json')).body as object;
    const validate = new Ajv2020({ strict: false, validateFormats: false }).compile(schema);
    expect(validate(await json()), JSON.stringify(validate.errors)).toBe(true);
  });

  it('hands it out as figures and on paper', async () => {
    const csv = await get(`/${report.id}.csv`);
    expect(csv.headers['content-type']).toContain('text/csv');
    expect(csv.text).toContain('13.94');
    const pdf = await get(`/${report.id}.pdf?version=1`);
    expect([pdf.status, pdf.bytes.subarray(0, 8).toString()]).toEqual([200, '%PDF-1.7']);
    const { seal } = report.versions[0]!;
    for (const { bytes } of [pdf, await get(`/${report.id}.json`)]) {
      expect(await checkDocument(bytes, seal)).toMatchObject({ ok: true });
    }
    expect((await get(`/${report.id}.json?version=2`)).status).toBe(404);
  });

  it('issues nothing anew while nothing changed, nor the same period twice', async () => {
    const same = await again({});
    expect([same.status, same.body.type]).toEqual([409, 'urn:heapwright:problem:nothing-changed']);
    const twice = await post('', issueBody(programme));
    expect([twice.status, twice.body.type]).toEqual([409, 'urn:heapwright:problem:report-issued']);
    expect(twice.body.detail).toContain(report.id);
  });

  it('keeps what was issued when a row comes in late, and lists that row in the next version', async () => {
    const before = await get(`/${report.id}.json`);
    const late = await made<{ id: string }>(api, '/drop-offs', lotOf(programme, LATE));
    expect((await get(`/${report.id}.json`)).bytes.equals(before.bytes)).toBe(true);

    const id = v7();
    const answer = await again({ id, reason: 'One load of February was not typed in' });
    expect(answer.status).toBe(201);
    expect(answer.body.versions.map(({ version }: any) => version)).toEqual([1, 2]);
    expect((await again({ id, reason: 'One load of February was not typed in' })).status).toBe(200);
    expect((await again({ id, reason: 'Another reason altogether' })).body.type).toContain('other-body');
    const now = await json();
    expect(now).toMatchObject({ version: 2, printed: { acceptedShortTons: '13.97' }, rows: { count: 7 } });
    const masses = { before: 12_646.156, after: 12_672.918, unit: 'kg' };
    expect(now.amends).toEqual({
      ...{ version: 1, seal: report.versions[0]!.seal, issuedAt: before.body.asOf },
      reason: 'One load of February was not typed in',
      totals: [
        ...['accepted', 'diverted'].flatMap((name) => [
          { figure: `${name}, as printed`, before: '13.94', after: '13.97', unit: 'short ton' },
          { figure: `${name}, as printed in tonnes`, before: '12.646', after: '12.673', unit: 't' },
        ]),
        { figure: 'drop-offs', before: 6, after: 7, unit: '' },
        { figure: 'accepted', ...masses },
        { figure: 'weighed', ...masses },
        { figure: 'diverted', ...masses },
        { figure: 'visits', before: 6, after: 7, unit: '' },
        { figure: 'by depositor: household: visits', before: 6, after: 7, unit: '' },
        { figure: 'by depositor: household: accepted', ...masses },
        { figure: 'in stock at the end: waiting', ...masses },
      ],
      changes: [
        {
          ...{ change: 'added', kind: 'drop-off', sourceId: late.id, occurredAt: '2026-02-09T19:00:00.000Z' },
          ...{ localDay: '2026-02-09', timeZone: 'America/Denver' },
          ...{
            site: 'QS',
            material: 'Food scraps, mixed',
            beforeKg: null,
            afterKg: 26.762,
            what: [],
            reason: null,
          },
        },
      ],
    });
    const first = await get(`/${report.id}.json?version=1`);
    expect(first.bytes.equals(before.bytes)).toBe(true);
  });

  it('lists what was corrected, voided, pulled and moved, each with the reason that was given', async () => {
    const stated = {
      ...{ material: 'food-scraps', depositor: 'household', rejects: [] },
      jurisdictionId: programme.jurisdictions.larkHollow.id,
    };
    const correct = (lot: string, body: object) =>
      made(api, `/drop-offs/${lot}/corrections`, { ...stated, ...body });
    const weight = (value: number) => ({ net: { value, unit: 'kg' } });
    await correct(lots[0]!, {
      ...{ occurredAt: '2025-07-12T12:00:00-07:00', weight: weight(1_000), depositor: 'school' },
      reason: 'Typed in pounds as kilograms',
    });
    await api.call('POST', `/drop-offs/${lots[1]!}/void`, {
      as: coordinator,
      body: { reason: 'Entered twice' },
    });
    const glass = { contaminant: 'glass', mass: { value: 2, unit: 'kg' }, wentTo: 'landfill' };
    await made(api, `/drop-offs/${lots[2]!}/rejects`, glass);
    await correct(lots[3]!, {
      ...{ occurredAt: '2025-06-30T12:00:00-07:00', weight: weight(2_000) },
      reason: 'It came in the year before',
    });
    await correct(lots[4]!, {
      ...{ occurredAt: '2026-03-08T12:00:00-07:00', weight: weight(1_965.779) },
      jurisdictionId: programme.jurisdictions.thistleFord.id,
      reason: 'It was of Thistle Ford',
    });
    await correct(lots[5]!, {
      ...{ occurredAt: '2026-06-30T13:00:00-07:00', weight: { net: { value: 4_300, unit: 'lb' } } },
      ...{ material: 'leaves', reason: 'These were leaves' },
    });
    expect((await again({})).status).toBe(201);
    const { amends } = await json();
    expect(amends!.version).toBe(2);
    expect(amends!.changes.map(lineOf)).toEqual([
      {
        ...{
          change: 'corrected',
          kind: 'drop-off',
          material: 'Food scraps, mixed',
          beforeKg: 1_909.851,
          afterKg: 1_000,
        },
        ...{ what: ['depositor'], reason: 'Typed in pounds as kilograms' },
      },
      {
        ...{
          change: 'removed',
          kind: 'drop-off',
          material: 'Food scraps, mixed',
          beforeKg: 2_283.021,
          afterKg: null,
        },
        ...{ what: [], reason: 'Entered twice' },
      },
      {
        ...{ change: 'added', kind: 'pulled', material: 'Food scraps, mixed', beforeKg: null, afterKg: 2 },
        ...{ what: [], reason: 'Pulled out: glass' },
      },
      {
        ...{
          change: 'removed',
          kind: 'drop-off',
          material: 'Food scraps, mixed',
          beforeKg: 2_767.685,
          afterKg: null,
        },
        ...{ what: [], reason: 'It came in the year before' },
      },
      {
        ...{
          change: 'removed',
          kind: 'drop-off',
          material: 'Food scraps, mixed',
          beforeKg: 1_965.779,
          afterKg: null,
        },
        ...{ what: [], reason: 'It was of Thistle Ford' },
      },
      {
        ...{ change: 'corrected', kind: 'drop-off', beforeKg: 1_950.447, afterKg: 1_950.447 },
        material: expect.stringContaining('eaves') as string,
        what: ['material, was food-scraps', 'time, was 2026-06-30 13:00'],
        reason: 'These were leaves',
      },
    ]);
    expect(amends!.totals.map(({ figure }) => figure)).toEqual(
      expect.arrayContaining(['accepted', 'pulled', 'diverted', 'in stock at the start: waiting']),
    );
  });

  it('takes settings over from the version before, changes them, and takes them away', async () => {
    const factors = await again({ greenhouse: { set: 'us-epa-warm-16' }, residueTo: 'site' });
    expect(factors.status).toBe(201);
    const estimated = await json();
    expect(estimated.greenhouse).toMatchObject({ set: 'us-epa-warm-16' });
    expect(estimated.figures.residueTo).toBe('site');
    expect(estimated.amends!.changes).toEqual([]);
    const told = new Map(
      estimated.amends!.totals.map(({ figure, before, after }) => [figure, [before, after]]),
    );
    expect(told.get('greenhouse: set')).toEqual([null, 'us-epa-warm-16']);
    expect(told.get('greenhouse: difference')).toEqual([null, estimated.greenhouse!.total.differenceTCo2e]);
    expect(told.get('residue is booked by')).toEqual(['traced', 'site']);
    expect(estimated.factors.length).toBeGreaterThan(1);
    expect((await again({})).status).toBe(409);
    expect((await again({ greenhouse: null })).status).toBe(201);
    expect(await json()).toMatchObject({ greenhouse: null, figures: { residueTo: 'site' } });
  });

  it('takes a lot that was corrected to what it was for no change', async () => {
    const same = {
      ...{ occurredAt: '2025-09-03T12:00:00-07:00', material: 'food-scraps', rejects: [] },
      ...{ depositor: 'household', weight: { net: { value: 20, unit: 'kg' } } },
      jurisdictionId: programme.jurisdictions.larkHollow.id,
    };
    const lot = await made<{ id: string }>(api, '/drop-offs', { ...same, siteId: programme.hub1.id });
    expect((await again({})).status).toBe(201);
    await made(api, `/drop-offs/${lot.id}/corrections`, { ...same, reason: 'The note was misread' });
    expect((await again({})).body.type).toBe('urn:heapwright:problem:nothing-changed');
  });

  it('names the rate that is other, its formula and each of its terms', async () => {
    const rate = {
      formula: 'us-epa-1997',
      disposed: { value: 100, unit: 'short-ton' },
      source: 'Town clerk of Lark Hollow',
    };
    await again({ rate });
    const first = await json();
    await again({
      rate: { ...rate, formula: 'us-ca-2006', disposed: { value: 50, unit: 'short-ton' }, source: 'Letter' },
    });
    const { amends, rate: now } = await json();
    expect(amends!.changes).toEqual([]);
    expect(amends!.totals).toEqual([
      { figure: 'rate', before: first.rate!.percent, after: now!.percent, unit: '%' },
      {
        ...{ figure: 'rate: formula', before: 'us-epa-1997: recycled / (recycled + disposed)' },
        ...{ after: 'us-ca-2006: diverted / (diverted + disposed)', unit: '' },
      },
      { figure: 'rate: disposed', before: 90_718.474, after: 45_359.237, unit: 'kg' },
      { figure: 'rate: disposed: from', before: 'Town clerk of Lark Hollow', after: 'Letter', unit: '' },
    ]);
    const { id } = programme.jurisdictions.larkHollow;
    const draft = await get(`/draft.json?jurisdictionId=${id}&yearOf=2026-01-01`);
    expect(draft.body.rate).toEqual(now);
  });

  it('lists reports by period, and of one jurisdiction', async () => {
    const { larkHollow, thistleFord } = programme.jurisdictions;
    const quarter = {
      jurisdictionId: thistleFord.id,
      from: '2026-01-01',
      to: '2026-04-01',
      password: PASSWORD,
    };
    expect((await post('', quarter)).body).toMatchObject({ wholeYear: false });
    const periods = async (query: string) => (await get(query)).body.items.map(({ from }: any) => from);
    expect(await periods('')).toEqual(['2026-01-01', '2025-07-01']);
    expect(await periods(`?jurisdictionId=${larkHollow.id}`)).toEqual(['2025-07-01']);
    const first = (await get('?limit=1')).body;
    expect(await periods(`?limit=1&cursor=${first.next as string}`)).toEqual(['2025-07-01']);
  });
});
