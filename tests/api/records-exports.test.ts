import http from 'node:http';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { v7 } from 'uuid';
import { Actor } from '../../apps/api/http/access/actor.js';
import { ExportsService } from '../../apps/api/records/exports.service.js';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';

const COLUMNS = [
  ...[
    'id',
    'site_code',
    'site',
    'local_time',
    'occurred_at',
    'material',
    'jurisdiction',
    'depositor',
    'basis',
  ],
  ...['gross_kg', 'tare_kg', 'net_kg', 'rejected_kg', 'accepted_kg', 'in_batches_kg', 'volume_l'],
  ...['density_kg_m3', 'density_source', 'entered_gross', 'entered_gross_unit', 'entered_tare'],
  ...['entered_tare_unit', 'entered_net', 'entered_net_unit', 'entered_volume', 'entered_volume_unit'],
  ...['container', 'scale', 'warnings', 'note', 'revision', 'import_id', 'recorded_at', 'recorded_by'],
];

describe('the export of drop-offs', () => {
  let api: TestApi;
  let programme: Programme;

  const get = (query = '', as = api.coordinator) => api.call('GET', `/exports/drop-offs.csv${query}`, { as });
  const rows = async (query = '', as = api.coordinator): Promise<Record<string, string>[]> =>
    parse((await get(query, as)).text, { columns: true });
  const lot = (changes: object = {}) =>
    made(api, '/drop-offs', {
      ...{ siteId: programme.hub1.id, occurredAt: '2025-08-15T16:00:00Z' },
      ...{ material: 'food-scraps', depositor: 'household', weight: { net: { value: 10.1, unit: 'kg' } } },
      ...changes,
    });

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterAll(() => api.stop());

  it('is for managers, each of their own sites', async () => {
    const { operator, municipalReader, manager } = programme.people;
    expect((await api.call('GET', '/exports/drop-offs.csv')).status).toBe(401);
    for (const { token } of [operator, municipalReader]) expect((await get('', token)).status).toBe(403);
    const elsewhere = await get(`?siteId=${programme.hub2.id}`, manager.token);
    expect(elsewhere.body.type).toBe('urn:heapwright:problem:other-site');
  });

  it('has its heading when there is nothing else', async () => {
    const answer = await get();
    expect(answer.status).toBe(200);
    expect(answer.headers['content-type']).toBe('text/csv; charset=utf-8; header=present');
    expect(answer.headers['content-disposition']).toBe('attachment; filename="drop-offs.csv"');
    expect(answer.text).toBe(`${COLUMNS.join(',')}\r\n`);
  });

  it('tells each lot as it stands, as it was kept and as it was typed', async () => {
    const gross = { value: 31.2, unit: 'lb' };
    const weighed = await lot({
      weight: { gross, containerId: programme.containers.bucket.id },
      ...{ instrumentId: programme.instruments.scale.id, note: '=SUM(A1), "quoted"\nand a second line' },
      rejects: [{ contaminant: 'glass', mass: { value: 0.5, unit: 'lb' }, wentTo: 'landfill' }],
    });
    await lot({ weight: undefined, volume: { value: 5, unit: 'gal' }, occurredAt: '2025-12-01T06:30:00Z' });
    const voided = await lot();
    const voiding = { as: api.coordinator, body: { reason: 'Entered twice' } };
    expect((await api.call('POST', `/drop-offs/${voided.id as string}/void`, voiding)).status).toBeLessThan(
      300,
    );

    const [first, second, ...none] = await rows();
    expect(none).toEqual([]);
    expect(Object.keys(first!)).toEqual(COLUMNS);
    expect(first).toMatchObject({
      ...{ id: weighed.id, site_code: 'QS', site: 'Quill Street hub', local_time: '2025-08-15 10:00:00' },
      ...{ occurred_at: '2025-08-15T16:00:00.000Z', material: 'food-scraps', basis: 'scale' },
      ...{ jurisdiction: 'Town of Lark Hollow', gross_kg: '14.152', tare_kg: '0.953', net_kg: '13.199' },
      ...{ rejected_kg: '0.227', accepted_kg: '12.972', in_batches_kg: '0', volume_l: '' },
      ...{
        entered_gross: '31.2',
        entered_gross_unit: 'lb',
        entered_net: '',
        container: 'B-07',
        scale: 'S-1',
      },
      ...{ revision: '1', import_id: '', note: `'=SUM(A1), "quoted"\nand a second line` },
    });
    expect(second).toMatchObject({
      ...{ basis: 'volume', volume_l: '18.927', entered_volume: '5', entered_volume_unit: 'gal' },
      local_time: '2025-11-30 23:30:00',
    });
    expect(Number(second!['density_kg_m3'])).toBeGreaterThan(0);
  });

  it('takes local days of the site, the last one excluded', async () => {
    expect(await rows('?from=2025-11-30&to=2025-12-01')).toHaveLength(1);
    expect(await rows('?from=2025-12-01')).toHaveLength(0);
    expect(await rows(`?siteId=${programme.hub2.id}`)).toHaveLength(0);
    expect(await rows(`?siteId=${programme.hub1.id}&to=2025-11-30`)).toHaveLength(1);
  });

  it.each(['siteId=7', 'from=2025-02-30', 'from=2025-03-01&to=2025-03-01', 'sheet=2'])(
    'refuses ?%s',
    async (query) => {
      const refused = await get(`?${query}`);
      expect(refused.status).toBe(422);
      expect(refused.headers['content-type']).toContain('application/problem+json');
    },
  );

  it('tells of a site that is not there', async () => {
    expect((await get('?siteId=0197f0a0-0000-7000-8000-00000000000a')).status).toBe(404);
  });

  it('reads on over many pages without losing or doubling a lot, also where times are equal', async () => {
    const lines = Array.from({ length: 2_600 }, (_, index) => `2025-09-${1 + (index % 3)},${index + 1}`);
    const made = await api.call('POST', '/imports', {
      as: programme.people.manager.token,
      body: {
        ...{ kind: 'drop-offs', fileName: 'many.csv', csv: ['day,lb', ...lines].join('\n'), dryRun: false },
        ...{ columns: { date: 'day', mass: 'lb' }, massUnit: 'lb', sites: [{ siteId: programme.hub1.id }] },
        defaults: { material: 'leaves', depositor: 'landscaper' },
      },
    });
    expect(made.body.counts.new).toBe(2_600);
    const exported = await rows('?from=2025-09-01&to=2025-09-04', programme.people.manager.token);
    expect(exported).toHaveLength(2_600);
    expect(new Set(exported.map(({ id }) => id)).size).toBe(2_600);
    expect(exported.map((row) => Number(row['entered_net'])).toSorted((a, b) => a - b)).toEqual(
      lines.map((_, index) => index + 1),
    );
    expect(exported.every((row) => row['import_id'] === made.body.id)).toBe(true);
  });

  it('has two read at once, so that slow readers leave connections to others', async () => {
    const exports = api.app.get(ExportsService, { strict: false });
    const everywhere = new Actor(v7(), 'Ada Quill', v7(), [
      { role: 'coordinator', siteId: null, jurisdictionId: null },
    ]);
    // The reader before may have its last byte a moment before its connection is free.
    const begin = () => vi.waitFor(() => exports.dropOffs(everywhere, {}));
    const slow = [await begin(), await begin()];
    const third = await get();
    expect([third.status, third.body.type]).toEqual([429, 'urn:heapwright:problem:too-many']);
    expect(third.headers['retry-after']).toBe('10');
    slow[0]!.destroy();
    await expect.poll(async () => (await get()).status).toBe(200);
    slow[1]!.destroy();
  });

  it('leaves no connection behind when the reader goes away', async () => {
    await api.app.listen(0, '127.0.0.1');
    const url = `${await api.app.getUrl()}/api/exports/drop-offs.csv`;
    const headers = { authorization: `Bearer ${api.coordinator}` };
    // More than the pool has connections, each gone after its first bytes.
    for (let reader = 0; reader < 6; reader += 1) {
      await new Promise<void>((resolve, reject) => {
        const request = http.get(url, { agent: false, headers }, (answer) => {
          answer.once('data', () => {
            request.destroy();
            resolve();
          });
        });
        request.once('error', reject);
      });
    }
    await expect.poll(async () => (await get()).status).toBe(200);
    expect((await api.call('GET', '/people/me', { as: api.coordinator })).status).toBe(200);
  });
});
