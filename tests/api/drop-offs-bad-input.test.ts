import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { intakeRows, lotBody, pointersOf } from '../support/intake.js';
import { makeProgramme, type Programme } from '../support/programme.js';

const lb = (value: number) => ({ value, unit: 'lb' });

describe('bad input at the hub', () => {
  let api: TestApi;
  let programme: Programme;
  let rows: Record<string, number>;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    rows = await intakeRows(api);
  });
  afterAll(async () => {
    // Nothing of all this was kept, not even half of it.
    expect(await intakeRows(api)).toEqual(rows);
    await api.stop();
  });

  const lot = (changes: object = {}) => lotBody(programme, changes);
  const post = (body: unknown, path = '/drop-offs') =>
    api.call('POST', path, { as: programme.people.volunteer.token, body });
  /** As text, for what no object can say. */
  const postText = (text: string | Buffer, type = 'application/json', path = '/drop-offs') =>
    api.call('POST', path, {
      as: programme.people.volunteer.token,
      body: text,
      headers: { 'content-type': type },
    });

  it.each<[string, object, string[]]>([
    ['an unknown field', { colour: 'green' }, ['/colour']],
    ['an unknown field inside', { weight: { net: { ...lb(3), scale: 'A' } } }, ['/weight/net/scale']],
    ['a mass below nothing', { weight: { net: lb(-1) } }, ['/weight/net/value']],
    ['a mass beyond any load', { weight: { net: { value: 51, unit: 't' } } }, ['/weight/net']],
    ['a mass beyond counting', { weight: { net: { value: 1e300, unit: 'g' } } }, ['/weight/net/value']],
    ['a mass in words', { weight: { net: { value: '3', unit: 'lb' } } }, ['/weight/net/value']],
    ['a mass of no unit', { weight: { net: { value: 3 } } }, ['/weight/net/unit']],
    ['a unit that is none', { weight: { net: { value: 3, unit: 'stone' } } }, ['/weight/net/unit']],
    ['a tare above the gross', { weight: { gross: lb(2), tare: lb(3) } }, ['/weight/tare']],
    ['mixed units', { weight: { gross: lb(20), tare: { value: 1, unit: 'kg' } } }, ['/weight/tare/unit']],
    ['gross alone', { weight: { gross: lb(20) } }, ['/weight']],
    ['net and gross', { weight: { gross: lb(20), net: lb(18) } }, ['/weight']],
    ['tare alone', { weight: { tare: lb(2) } }, ['/weight']],
    ['an empty weight', { weight: {} }, ['/weight']],
    ['a weight that is a number', { weight: 12 }, ['/weight']],
    ['a weight that is null', { weight: null }, ['/weight']],
    ['neither weight nor volume', { weight: undefined }, ['/weight']],
    ['weight and volume', { volume: { value: 5, unit: 'gal' } }, ['/volume']],
    ['a volume of nothing', { weight: undefined, volume: { value: 0, unit: 'gal' } }, ['/volume']],
    ['a volume beyond any load', { weight: undefined, volume: { value: 300, unit: 'm3' } }, ['/volume']],
    ['a depositor by name', { depositor: 'Mr Alder' }, ['/depositor']],
    ['a material in capitals', { material: 'Food Scraps' }, ['/material']],
    ['an id that is none', { id: 'seven' }, ['/id']],
    ['a day that no calendar has', { occurredAt: '2026-02-30T10:00:00Z' }, ['/occurredAt']],
    ['an hour that no clock has', { occurredAt: '2026-02-03T25:00:00Z' }, ['/occurredAt']],
    ['a time of no offset', { occurredAt: '2026-02-03T10:00:00' }, ['/occurredAt']],
    ['a date alone', { occurredAt: '2026-02-03' }, ['/occurredAt']],
    ['a time as a number', { occurredAt: 1_770_000_000 }, ['/occurredAt']],
    ['a year of the Romans', { occurredAt: '0026-02-03T10:00:00Z' }, ['/occurredAt']],
    ['the year nought', { occurredAt: '0000-02-03T10:00:00Z' }, ['/occurredAt']],
    ['a time ahead of us', { occurredAt: new Date(Date.now() + 6 * 60_000).toISOString() }, ['/occurredAt']],
    ['a note without end', { note: 'x'.repeat(1001) }, ['/note']],
    ['a note with a NUL', { note: 'a\u0000b' }, ['/note']],
    ['a note with half a character', { note: 'a\ud83e' }, ['/note']],
    ['rejects that are no list', { rejects: { contaminant: 'glass' } }, ['/rejects']],
    [
      'a reject of nothing',
      { rejects: [{ contaminant: 'glass', mass: lb(0), wentTo: 'landfill' }] },
      ['/rejects/0/mass'],
    ],
    [
      'a reject unknown',
      { rejects: [{ contaminant: 'ghost', mass: lb(1), wentTo: 'Mars' }] },
      ['/rejects/0/contaminant', '/rejects/0/wentTo'],
    ],
    [
      'rejects heavier than the lot',
      { rejects: [{ contaminant: 'glass', mass: lb(30), wentTo: 'landfill' }] },
      ['/rejects'],
    ],
    ['a constructor', { note: { constructor: 1 } }, ['']],
    ['a field by a name that every object knows', { hasOwnProperty: 1 }, ['']],
  ])('refuses %s', async (_, changes, pointers) => {
    const answer = await post(lot(changes));
    expect(answer.status, answer.text).toBe(422);
    expect(answer.headers['content-type']).toContain('application/problem+json');
    expect(answer.body.type).toBe('urn:heapwright:problem:invalid');
    expect(pointersOf(answer)).toEqual(pointers);
  });

  it('refuses a gross below the tare of its container', async () => {
    const answer = await post(lot({ weight: { gross: lb(2), containerId: programme.containers.bucket.id } }));
    expect(answer.status).toBe(422);
    expect(answer.body.errors).toEqual([
      { pointer: '/weight/gross', detail: 'is less than the container weighs empty, 2.10 lb' },
    ]);
  });

  it('refuses a volume of a material whose density is not known', async () => {
    const material = { code: 'test-sludge', name: 'Sludge', class: 'nitrogen' };
    const added = await api.call('POST', '/materials', { as: api.coordinator, body: material });
    expect(added.status, added.text).toBe(201);
    rows = await intakeRows(api);
    const answer = await post(
      lot({ material: 'test-sludge', weight: undefined, volume: { value: 5, unit: 'gal' } }),
    );
    expect([answer.status, ...pointersOf(answer)]).toEqual([422, '/volume']);
  });

  it('refuses numbers that JSON has none for, and one beyond all', async () => {
    const text = (value: string) =>
      JSON.stringify(lot({ weight: { net: lb(0) } })).replace('"value":0', `"value":${value}`);
    for (const value of ['NaN', 'Infinity', '-', '0x10', '.5']) {
      const answer = await postText(text(value));
      expect([answer.status, answer.body.type]).toEqual([400, 'urn:heapwright:problem:malformed-json']);
    }
    for (const value of ['1e999', '-1e999', 'null', 'true', '[1]']) {
      const answer = await postText(text(value));
      expect(answer.status, value).toBe(422);
      expect(pointersOf(answer)).toEqual(['/weight/net/value']);
    }
  });

  it('refuses what is no JSON, or no object', async () => {
    for (const text of ['{', '{"siteId":', 'siteId=1', '{"a":1}}', '\u0000']) {
      const answer = await postText(text);
      expect([answer.status, answer.body.type], text).toEqual([400, 'urn:heapwright:problem:malformed-json']);
    }
    for (const text of ['', '{"__proto__":{"siteId":1}}']) expect((await postText(text)).status).toBe(400);
    for (const text of ['[]', '[1]', '"text"', '7', 'null', 'true']) {
      const answer = await postText(text);
      expect(answer.status, text).toBe(422);
      expect(answer.headers['content-type']).toContain('application/problem+json');
    }
  });

  it('refuses a body that is nested without end', async () => {
    const deep = '['.repeat(100_000) + ']'.repeat(100_000);
    for (const text of [
      JSON.stringify(lot()).replace('{', `{"note":${deep},`),
      JSON.stringify(lot()).replace('{', `{"other":${deep},`),
    ]) {
      const answer = await postText(text);
      expect([answer.status, answer.body.errors[0].detail]).toEqual([422, 'is nested too deep']);
    }
  });

  it('refuses another content type, and a body beyond a megabyte', async () => {
    const text = JSON.stringify(lot());
    for (const type of [
      'text/plain',
      'application/xml',
      'application/x-www-form-urlencoded',
      'multipart/form-data',
    ]) {
      const answer = await postText(text, type);
      expect([answer.status, answer.body.type], type).toEqual([
        415,
        'urn:heapwright:problem:wrong-content-type',
      ]);
    }
    const large = await post(lot({ note: 'x'.repeat(1_100_000) }));
    expect([large.status, large.body.type]).toEqual([413, 'urn:heapwright:problem:too-large']);
    const long = await post(lot({ note: 'x'.repeat(1_000_000) }));
    expect([long.status, ...pointersOf(long)]).toEqual([422, '/note']);
    const latin = await postText(Buffer.from(JSON.stringify(lot({ note: 'é' })), 'latin1'));
    expect([latin.status, latin.body.type]).toEqual([400, 'urn:heapwright:problem:malformed-json']);
  });

  it('tells every fault of a body at once', async () => {
    const answer = await post({
      siteId: programme.hub1.id,
      weight: { net: { value: -1, unit: 'x' } },
      hat: 1,
    });
    expect(answer.status).toBe(422);
    expect(pointersOf(answer)).toEqual([
      '/depositor',
      '/hat',
      '/material',
      '/weight/net/unit',
      '/weight/net/value',
    ]);
  });

  it('refuses a site that is none before it asks for anything else', async () => {
    for (const siteId of [undefined, 'here', 7, null]) {
      const answer = await post(lot({ siteId }));
      expect([answer.status, ...pointersOf(answer)]).toEqual([422, '/siteId']);
    }
  });

  it('refuses bad input of shifts, refusals and rejects alike', async () => {
    const siteId = programme.hub1.id;
    const refusal = { siteId, material: 'food-scraps', contaminant: 'glass', reason: 'Full of glass' };
    const cases: [string, object, string[]][] = [
      ['/shifts', { siteId, instrumentId: programme.instruments.thermometer.id }, ['/instrumentId']],
      ['/shifts', { siteId, occurredAt: '2126-01-01T00:00:00Z' }, ['/occurredAt']],
      ['/shifts', { siteId, hat: 1 }, ['/hat']],
      ['/refusals', { ...refusal, material: 'moon-dust' }, ['/material']],
      ['/refusals', { ...refusal, contaminant: 'ghosts' }, ['/contaminant']],
      ['/refusals', { ...refusal, mass: lb(0) }, ['/mass']],
      ['/refusals', { ...refusal, shiftId: v7() }, ['/shiftId']],
      ['/refusals', { ...refusal, reason: '' }, ['/reason']],
      ['/drop-offs/bulk', { items: [] }, ['/items']],
      ['/drop-offs/bulk', { items: Array.from({ length: 501 }, () => ({})) }, ['/items']],
      ['/drop-offs/bulk', { items: 'all' }, ['/items']],
      ['/drop-offs/bulk', {}, ['/items']],
    ];
    for (const [path, body, pointers] of cases) {
      const answer = await post(body, path);
      expect(answer.status, `${path} ${answer.text}`).toBe(422);
      expect(pointersOf(answer)).toEqual(pointers);
    }
  });
});
