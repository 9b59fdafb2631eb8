import http from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { v7 } from 'uuid';
import { FIRST, startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { makeProgramme, type Programme } from '../support/programme.js';

const HEADER = 'day,place,pounds,what,remark';

describe('imports', () => {
  let api: TestApi;
  let programme: Programme;

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterAll(() => api.stop());

  const settings = () => ({
    columns: { date: 'day', site: 'place', mass: 'pounds', material: 'what', note: 'remark' },
    massUnit: 'lb',
    sites: [
      { name: 'Quill', siteId: programme.hub1.id, instrumentId: programme.instruments.scale.id },
      { name: 'Wren', siteId: programme.hub2.id },
    ],
    materials: [{ name: 'Food', code: 'food-scraps' }],
    defaults: { depositor: 'household', material: 'leaves' },
  });
  const body = (lines: readonly string[], more: object = {}) => ({
    kind: 'drop-offs',
    fileName: 'history.csv',
    csv: [HEADER, ...lines, ''].join('\n'),
    dryRun: false,
    ...settings(),
    ...more,
  });
  const post = (sent: unknown, as = programme.people.coordinator.token) =>
    api.call('POST', '/imports', { as, body: sent });
  const lotsOn = async (day: string) => {
    const next = new Date(Date.parse(day) + 86_400_000).toISOString().slice(0, 10);
    const path = `/drop-offs?limit=200&from=${day}T00:00:00Z&to=${next}T12:00:00Z`;
    return (await api.call('GET', path, { as: api.coordinator })).body.items;
  };

  it('is for managers of every site that is named', async () => {
    const { manager, otherManager, operator, municipalReader, volunteer } = programme.people;
    const sent = body(['2025-04-01,Quill,10,Food,'], { dryRun: true });
    expect((await api.call('POST', '/imports', { body: sent })).status).toBe(401);
    for (const person of [operator, volunteer, municipalReader]) {
      expect((await post(sent, person.token)).body.type).toBe('urn:heapwright:problem:not-allowed');
    }
    for (const person of [manager, otherManager]) {
      expect((await post(sent, person.token)).body.type).toBe('urn:heapwright:problem:other-site');
    }
    const own = { ...sent, sites: [{ ...settings().sites[0]! }] };
    expect((await post(own, manager.token)).status).toBe(200);
    expect((await api.call('GET', '/imports')).status).toBe(401);
    expect((await api.call('GET', '/imports', { as: operator.token })).status).toBe(403);
  });

  it('reads no body of somebody who does not so much as claim a session', async () => {
    await api.app.listen(0, '127.0.0.1');
    const headers = { 'content-type': 'application/json', 'content-length': String(16 * 1024 * 1024) };
    const status = await new Promise((resolve, reject) => {
      const options = { method: 'POST', agent: false, headers, timeout: 5_000 };
      const { port } = api.app.getHttpServer().address() as AddressInfo;
      const request = http.request(`http://127.0.0.1:${port}/api/imports`, options, (answer) => {
        resolve(answer.statusCode);
        request.destroy();
      });
      request.once('timeout', () => request.destroy(new Error('it waits for the body')));
      request.once('error', reject);
      // The head alone: the body is never sent.
      request.flushHeaders();
    });
    expect(status).toBe(401);
  });

  it('takes a file from a page, which has its session in the cookie', async () => {
    const { headers } = await api.call('POST', '/sessions', { body: FIRST });
    const cookie = String(headers['set-cookie']).split(';')[0]!;
    const sent = body(['2025-04-01,Quill,10,Food,'], { dryRun: true });
    const answer = await api.call('POST', '/imports', { body: sent, headers: { cookie } });
    expect(answer.status).toBe(200);
  });

  it('tells in a dry run what would become of every line, and keeps nothing', async () => {
    const lines = [
      '2025-04-01,Quill,10.5,Food,',
      '2025-02-01,Quill,11,Food,from before the hub opened',
      '2025-04-01,Wren,0,Food,',
      '2025-04-02,Quill,10.55,,no multiple of the division',
      '2025-04-02,Quill,,Food,blank',
      '2 April 2025,Quill,5,Food,month as text',
      '2025-04-31,Quill,5,Food,no such day',
      '2025-04-02,Mill,5,Food,a place nobody named',
      '2025-04-02,Quill,-5,Food,',
      '2025-04-02,Quill,5,brick,',
      '2025-04-02,Quill,5',
      '2125-04-02,Quill,5,Food,',
      '2025-04-02,Quill,"1,234.5",Food,a comma in quotes',
      '2025-04-01,Quill,10.5,Food,the same again',
      '2025-04-02,Quill,999999,Food,',
      '2025-04-02,Quill,5"x,Food,',
    ];
    const report = await post(body(lines, { dryRun: true }));
    expect(report.status).toBe(200);
    expect(report.body).toMatchObject({ id: null, dryRun: true, fileName: 'history.csv', notes: [] });
    expect(report.body.counts).toMatchObject({
      lines: 16,
      new: 6,
      known: 0,
      refused: 10,
      leftOut: 0,
      warned: 5,
    });
    const told = report.body.lines.map((line: any) => [
      line.line,
      line.outcome,
      [...line.faults, ...line.warnings].join(' | '),
    ]);
    expect(told).toEqual([
      [2, 'new', ''],
      [3, 'new', expect.stringContaining('The site opened on 2025-03-01')],
      [4, 'new', expect.stringContaining('weighs nothing')],
      [5, 'new', expect.stringContaining("no multiple of the scale's division, 0.1 lb")],
      [6, 'refused', 'the mass is blank, and blank is not zero'],
      [7, 'refused', '"2 April 2025" is no date written as year-month-day in digits'],
      [8, 'refused', '"2025-04-31" is a day or time that does not exist'],
      [9, 'refused', 'no site is named for "Mill"'],
      [10, 'refused', expect.stringContaining('"-5" is no plain number of zero or more')],
      [11, 'refused', 'material is not on the list of materials'],
      [12, 'refused', 'has 3 cells; the first line names 5 columns'],
      [13, 'refused', expect.stringContaining('in the future')],
      [14, 'new', expect.stringMatching(/household usually brings/)],
      [15, 'new', 'It says the same as line 2 of the file, and is kept as another lot.'],
      [16, 'refused', 'the mass is more than 50 t'],
      [17, 'refused', expect.stringContaining('quote')],
    ]);
    expect(report.body.lines[0]).toMatchObject({
      site: 'QS',
      occurredAt: '2025-04-01T18:00:00Z',
      netKg: 4.763,
    });
    expect(await lotsOn('2025-04-01')).toEqual([]);
    expect((await api.call('GET', '/imports', { as: api.coordinator })).body.items).toEqual([]);
  });

  it('keeps nothing while a line is refused', async () => {
    const refused = await post(body(['2025-04-03,Quill,10,Food,', '2025-04-03,Quill,ten,Food,']));
    expect(refused.status).toBe(422);
    expect(refused.body.detail).toMatch(/^Nothing was imported: 1 of 2 lines are refused/);
    expect(refused.body.errors).toEqual([
      { pointer: '/csv', detail: expect.stringMatching(/^line 3: "ten" is no plain number/) },
    ]);
    expect(await lotsOn('2025-04-03')).toEqual([]);
  });

  it('keeps all but what is left out, with its warnings, audited, once', async () => {
    const lines = [
      '2025-05-01,Quill,12.4,Food,first',
      '2025-05-01,Quill,12.4,Food,second of the same',
      '2025-05-01,Wren,0,Food,',
      '2025-05-01,Quill,ten,Food,',
      '2025-05-01T07:30,Wren,3,,',
    ];
    const id = v7();
    const sent = body(lines, { id, leaveOut: [5] });
    const made = await post(sent);
    expect(made.status).toBe(201);
    expect(made.body).toMatchObject({ id, dryRun: false });
    expect(made.body.counts).toEqual({
      ...{ lines: 5, new: 4, known: 0, refused: 0, leftOut: 1, warned: 3 },
      newKg: 12.611,
    });
    expect(made.body.lines[3]).toMatchObject({ line: 5, outcome: 'left-out' });

    const lots = await lotsOn('2025-05-01');
    expect(lots).toHaveLength(4);
    const second = lots.find((lot: any) => lot.note === 'second of the same');
    expect(second).toMatchObject({
      importId: id,
      material: 'food-scraps',
      occurredAt: '2025-05-01T18:00:00.000Z',
      netKg: 5.625,
      entered: { weight: { net: { value: 12.4, unit: 'lb' } } },
    });
    expect(second.warnings.map(({ code }: any) => code)).toContain('repeated-line');
    expect(lots.find((lot: any) => lot.material === 'leaves').occurredAt).toBe('2025-05-01T13:30:00.000Z');
    const [line] = await auditOf(api, 'import.committed');
    expect(line).toMatchObject({ subjectId: id, siteId: null, detail: { counts: { new: 4 } } });

    const again = await post(sent);
    expect(again.status).toBe(200);
    expect(again.body).toEqual(made.body);
    expect((await post({ ...sent, fileName: 'other.csv' })).body.type).toBe(
      'urn:heapwright:problem:other-body',
    );
    expect((await post({ ...sent, leaveOut: [] })).status).toBe(409);

    const anew = await post(body(lines, { leaveOut: [5] }));
    expect(anew.status).toBe(201);
    expect(anew.body.counts).toMatchObject({ new: 0, known: 4, newKg: 0 });
    expect(await lotsOn('2025-05-01')).toHaveLength(4);

    const grown = await post(body([...lines, '2025-05-01,Quill,12.4,Food,a third'], { leaveOut: [5] }));
    expect(grown.body.counts).toMatchObject({ new: 1, known: 4 });
    expect(await lotsOn('2025-05-01')).toHaveLength(5);
  });

  it('counts nothing twice when one file is sent from two desks at once', async () => {
    const lines = Array.from({ length: 40 }, (_, index) => `2025-05-10,Quill,${index + 1},Food,`);
    const answers = await Promise.all([1, 2, 3].map(() => post(body(lines))));
    expect(answers.map(({ status }) => status)).toEqual([201, 201, 201]);
    const fresh = answers.map(({ body: report }) => report.counts.new as number);
    expect(fresh.toSorted((a, b) => a - b)).toEqual([0, 0, 40]);
    expect(await lotsOn('2025-05-10')).toHaveLength(40);
  });

  it('says when a file that was imported would be counted again under other settings', async () => {
    const lines = ['2025-05-20,Quill,9,,'];
    expect((await post(body(lines))).status).toBe(201);
    const defaults = { depositor: 'school', material: 'leaves' };
    const other = await post(body(lines, { dryRun: true, defaults }));
    expect(other.body.counts.new).toBe(1);
    expect(other.body.notes).toEqual([expect.stringContaining('counted twice')]);
  });

  it('knows a summer day from a winter one, and a semicolon file with decimal commas', async () => {
    const csv = 'day;pounds\n15.07.2025;1.234,5\n15/11/2025;0,5\n';
    const report = await post(
      body([], {
        csv,
        dryRun: true,
        columns: { date: 'day', mass: 'pounds' },
        sites: [{ siteId: programme.hub1.id }],
        ...{ delimiter: ';', decimalMark: ',', dateForm: 'day-month-year', massUnit: 'kg' },
        defaults: { material: 'leaves', depositor: 'landscaper', localTime: '08:00' },
      }),
    );
    expect(report.body.lines).toMatchObject([
      { occurredAt: '2025-07-15T14:00:00Z', netKg: 1234.5 },
      { occurredAt: '2025-11-15T15:00:00Z', netKg: 0.5 },
    ]);
  });

  it('takes bytes, and refuses those that are no UTF-8', async () => {
    const bytes = (text: string, encoding: BufferEncoding) => Buffer.from(text, encoding).toString('base64');
    const text = `\uFEFF${HEADER}\r\n2025-06-01,Quill,8,Food,Café\r\n`;
    const sent = { ...body([], { dryRun: true }), csv: undefined };
    const good = await post({ ...sent, csvBase64: bytes(text, 'utf8') });
    expect(good.body.counts).toMatchObject({ lines: 1, new: 1 });
    const bad = await post({ ...sent, csvBase64: bytes(text.slice(1), 'latin1') });
    expect(bad.status).toBe(422);
    expect(bad.body.errors[0]).toMatchObject({
      pointer: '/csvBase64',
      detail: expect.stringContaining('line 2'),
    });
  });

  const wrong: [string, object, string][] = [
    ['both forms of a file', { csvBase64: 'YQ==' }, '/csv'],
    ['neither form', { csv: undefined }, '/csv'],
    ['an unclosed quote', { csv: `${HEADER}\n2025-04-01,Quill,"5,Food,\n` }, '/csv'],
    ['an empty file', { csv: '\n' }, '/csv'],
    ['a column named twice', { csv: 'day,day\n' }, '/csv'],
    ['a half character', { csv: `${HEADER}\n\ud800` }, '/csv'],
    ['a column that is not there', { columns: { date: 'day', mass: 'kilos' } }, '/columns/mass'],
    ['an unknown site', { sites: [{ name: 'Quill', siteId: v7() }] }, '/sites/0/siteId'],
    ['sites without names', { sites: [{}, {}] }, '/sites/0/siteId'],
    ['a line to leave out that is not there', { leaveOut: [2, 77] }, '/leaveOut/1'],
    ['a half line to leave out', { leaveOut: [2.5] }, '/leaveOut'],
    ['no depositor anywhere', { defaults: { material: 'leaves' } }, '/defaults/depositor'],
    ['an unknown unit', { massUnit: 'stone' }, '/massUnit'],
    ['an unknown field', { speed: 'high' }, '/speed'],
    ['another kind', { kind: 'batches' }, '/kind'],
    ['a list instead of text', { csv: ['a'] }, '/csv'],
  ];
  it.each(wrong)('refuses %s', async (_, change, pointer) => {
    const answer = await post({ ...body(['2025-04-01,Quill,5,Food,']), ...change });
    expect(answer.status).toBe(422);
    expect(answer.body.errors.map((fault: any) => fault.pointer)).toContain(pointer);
  });

  it('refuses a name that stands for two sites', async () => {
    const [quill, wren] = settings().sites;
    const answer = await post(
      body(['2025-04-01,Quill,5,Food,'], { sites: [quill, { ...wren, name: 'Quill ' }] }),
    );
    expect(answer.body.errors).toEqual([{ pointer: '/sites/1/name', detail: 'is named twice' }]);
  });

  it('tells a scale of another site, line by line', async () => {
    const sites = [{ name: 'Wren', siteId: programme.hub2.id, instrumentId: programme.instruments.scale.id }];
    const answer = await post(body(['2025-04-01,Wren,5,Food,'], { sites, dryRun: true }));
    expect(answer.body.lines[0].faults).toEqual(['instrumentId is no instrument of this site']);
  });

  it('takes a file larger than other bodies may be, up to a limit of its own', async () => {
    const line = `2025-06-05,Quill,1,Food,${'long '.repeat(40)}`;
    const large = await post(
      body(
        Array.from({ length: 6000 }, () => line),
        { dryRun: true },
      ),
    );
    expect(large.status).toBe(200);
    expect(large.body.counts).toMatchObject({ lines: 6000, new: 6000 });
    const tooLarge = await post(body(['x'.repeat(17 * 1_048_576)], { dryRun: true }));
    expect(tooLarge.status).toBe(413);
    const elsewhere = await api.call('POST', '/jurisdictions', {
      as: api.coordinator,
      body: { name: 'x'.repeat(1_100_000) },
    });
    expect(elsewhere.status).toBe(413);
  });

  it('lists what was imported to those it concerns, and tells its lines again', async () => {
    const { manager, otherManager } = programme.people;
    const own = { sites: [settings().sites[0]] };
    const made = await post(body(['2025-06-10,Quill,5,Food,'], own), manager.token);
    expect(made.status).toBe(201);
    const list = await api.call('GET', '/imports?limit=1', { as: manager.token });
    expect(list.body.items).toMatchObject([
      { id: made.body.id, siteId: programme.hub1.id, counts: { new: 1 }, recordedBy: manager.id },
    ]);
    const every = await api.call('GET', '/imports', { as: api.coordinator });
    expect(every.body.items.length).toBeGreaterThan(list.body.items.length);
    expect((await api.call('GET', `/imports/${made.body.id}`, { as: manager.token })).body).toEqual(
      made.body,
    );
    expect((await api.call('GET', `/imports/${made.body.id}`, { as: otherManager.token })).status).toBe(404);
    expect((await api.call('GET', '/imports', { as: otherManager.token })).body.items).toEqual([]);
    expect((await api.call('GET', `/imports/${v7()}`, { as: api.coordinator })).status).toBe(404);
  });
});
