import pg from 'pg';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

const code = (answer: any) => answer.body.type.replace('urn:heapwright:problem:', '');
const pointers = (answer: any) =>
  (answer.body.errors ?? []).map((fault: { pointer: string }) => fault.pointer).sort();

const F = (value: number) => ({ value, unit: 'F' });
const C = (value: number) => ({ value, unit: 'C' });
const reading = (temperature: object, position = 'core-1') => ({ position, temperature });

describe('checks, turns and waterings', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let operator: string;
  let manager: string;
  let batchId: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    operator = yard.operator.token;
    manager = yard.manager.token;
    batchId = (await yard.begin()).id;
  });
  afterAll(() => api.stop());

  const post = (path: string, body: unknown, as = operator) => api.call('POST', path, { as, body });
  const get = (path: string, as = operator) => api.call('GET', path, { as });
  const check = (facts: object, batch = batchId) =>
    post(`/batches/${batch}/checks`, { readings: [reading(F(140))], ...facts });

  describe('a check', () => {
    it('keeps every reading in metric, with what was typed beside it', async () => {
      const body = {
        id: v7(),
        occurredAt: '2026-03-04T08:00:00-07:00',
        readings: [
          { position: 'core-1', zone: 'core', depth: { value: 18, unit: 'in' }, temperature: F(140) },
          { position: 'core-2', temperature: F(131.5) },
        ],
        moisture: { percent: 55.5 },
        odour: 'earthy',
        ambient: F(41),
        oxygen: 12.5,
        signs: ['rodents', 'flies', 'rodents'],
        texture: 'clumpy',
        inputsVisible: true,
        note: 'steam on opening',
      };
      const answer = await post(`/batches/${batchId}/checks`, body);
      expect(answer.status).toBe(201);
      expect(answer.body).toEqual({
        id: body.id,
        batchId,
        occurredAt: '2026-03-04T15:00:00.000Z',
        readings: [
          { position: 'core-1', zone: 'core', depthCm: 45.7, temperatureC: 60, instrumentId: null },
          { position: 'core-2', zone: null, depthCm: null, temperatureC: 55.3, instrumentId: null },
        ],
        moisture: null,
        moisturePercent: 55.5,
        odour: 'earthy',
        oxygenPercent: 12.5,
        ambientC: 5,
        signs: ['rodents', 'flies'],
        texture: 'clumpy',
        inputsVisible: true,
        note: 'steam on opening',
        warnings: [],
        entered: {
          readings: [{ depth: { value: 18, unit: 'in' }, temperature: F(140) }, { temperature: F(131.5) }],
          ambient: F(41),
          moisture: { percent: 55.5 },
          oxygen: 12.5,
        },
        recordedAt: expect.any(String),
        recordedBy: yard.operator.id,
        voidedAt: null,
        voidReason: null,
      });
      expect((await get(`/batches/${batchId}/checks`)).body.items).toContainEqual(answer.body);
      const lines = await auditOf(api, 'check.recorded');
      expect(lines).toContainEqual(expect.objectContaining({ subjectId: body.id, siteId: yard.yard.id }));
    });

    it('tells a look that found nothing from no look at all', async () => {
      const looked = await check({ occurredAt: '2026-03-04T16:00:00Z', signs: [], inputsVisible: false });
      expect(looked.body).toMatchObject({ signs: [], texture: null, inputsVisible: false });
      const unlooked = await check({ occurredAt: '2026-03-04T16:01:00Z' });
      expect(unlooked.body).toMatchObject({ signs: null, texture: null, inputsVisible: null });
    });

    it('counts once, however often it is sent, even at the same moment', async () => {
      const body = { id: v7(), occurredAt: '2026-03-05T15:00:00Z', readings: [reading(C(58))] };
      const answers = await Promise.all([1, 2, 3, 4].map(() => post(`/batches/${batchId}/checks`, body)));
      expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 200, 201]);
      const again = await post(`/batches/${batchId}/checks`, body);
      expect(again.status).toBe(200);
      expect(again.body).toEqual(answers[0]!.body);
      const other = await post(`/batches/${batchId}/checks`, { ...body, odour: 'sour' });
      expect([other.status, code(other)]).toEqual([409, 'other-body']);
      const elsewhere = await yard.begin();
      const moved = await post(`/batches/${elsewhere.id as string}/checks`, body);
      expect([moved.status, code(moved)]).toEqual([409, 'other-body']);
    });

    it('takes a thermometer of the yard, and no other instrument', async () => {
      const at = (siteId: string, label: string, kind: object) =>
        made(api, '/instruments', { siteId, code: label, ...kind });
      const probe = { kind: 'thermometer', resolution: { value: 1, unit: 'F' } };
      const own = await at(yard.yard.id, 'P-9', probe);
      const scale = await at(yard.yard.id, 'S-9', { kind: 'scale', division: { value: 1, unit: 'lb' } });
      const withProbes = (...ids: string[]) =>
        check({
          occurredAt: '2026-03-06T15:00:00Z',
          readings: ids.map((instrumentId, index) => ({ ...reading(F(140), `core-${index}`), instrumentId })),
        });
      const taken = await withProbes(own.id.toUpperCase());
      expect(taken.body.readings[0].instrumentId).toBe(own.id);
      const refused = await withProbes(own.id, scale.id, programme.instruments.thermometer.id, v7());
      expect(refused.status).toBe(422);
      expect(pointers(refused)).toEqual([1, 2, 3].map((index) => `/readings/${index}/instrumentId`));
    });

    it.each([
      ['no reading', { readings: [] }, ['/readings']],
      ['a hotter pile than can be', { readings: [reading(C(150.1))] }, ['/readings/0/temperature']],
      ['a colder pile than can be', { readings: [reading(C(-41))] }, ['/readings/0/temperature']],
      ['air hotter than can be', { ambient: F(141) }, ['/ambient']],
      [
        'mixed units',
        { readings: [reading(F(140)), reading(C(60), 'core-2')], ambient: C(5) },
        ['/ambient/unit', '/readings/1/temperature/unit'],
      ],
      ['one probe told twice', { readings: [reading(F(140)), reading(F(150))] }, ['/readings/1/position']],
      [
        'a depth in the ground below',
        { readings: [{ ...reading(F(140)), depth: { value: 40, unit: 'ft' } }] },
        ['/readings/0/depth'],
      ],
      ['a time before the batch', { occurredAt: '2026-03-03T14:59:59Z' }, ['/occurredAt']],
      ['a time in the future', { occurredAt: '2999-01-01T00:00:00Z' }, ['/occurredAt']],
      ['a time without its offset', { occurredAt: '2026-03-05T15:00:00' }, ['/occurredAt']],
      ['a feeling of no kind', { moisture: 'soggy' }, ['/moisture']],
      ['a moisture above all water', { moisture: { percent: 101 } }, ['/moisture']],
      ['a moisture with more to it', { moisture: { percent: 50, by: 'hand' } }, ['/moisture']],
      ['no moisture at all', { moisture: null }, ['/moisture']],
      ['an odour of no kind', { odour: 'nice' }, ['/odour']],
      ['signs of no kind', { signs: ['flies', 'bears'] }, ['/signs']],
      ['a sign that is no list', { signs: 'flies' }, ['/signs']],
      ['a texture of no kind', { texture: 'fluffy', inputsVisible: 'no' }, ['/inputsVisible', '/texture']],
      ['a smell of numbers', { oxygen: 100.5, pile: 'big' }, ['/oxygen', '/pile']],
      ['a zone of no length', { readings: [{ ...reading(F(140)), zone: ' ' }] }, ['/readings/0/zone']],
      [
        'readings of other shapes',
        { readings: [{ position: '', temperature: { value: '140', unit: 'K' } }] },
        ['/readings/0/position', '/readings/0/temperature/unit', '/readings/0/temperature/value'],
      ],
    ])('refuses %s', async (_, facts, at) => {
      const answer = await check({ occurredAt: '2026-03-05T16:00:00Z', ...facts });
      expect(answer.status).toBe(422);
      expect(pointers(answer)).toEqual(at);
    });

    it('says what it takes the slip to be', async () => {
      const answer = await check({ readings: [reading(C(160))] });
      expect(answer.body.errors[0].detail).toBe('160 C is hotter than can be; is the unit right?');
    });

    it('keeps a pile hotter than boiling water, warns of fire and asks for the unit', async () => {
      const batch = (await yard.begin()).id as string;
      const at = (hour: string) => ({ occurredAt: `2026-03-07T${hour}:00:00Z` });
      const textOf = async (temperature: object, hour: string) => {
        const { status, body } = await check({ ...at(hour), readings: [reading(temperature)] }, batch);
        expect([status, body.warnings.length]).toEqual([201, 1]);
        expect(body.warnings[0]).toMatchObject({ code: 'too-hot', pointer: '/readings/0/temperature' });
        expect(body.warnings[0].text).toContain('about to burn: do not open it, keep people away');
        return body.warnings[0].text as string;
      };
      expect(await textOf(C(140), '10')).toContain('Is the unit right? 140 °F would be 60 °C.');
      expect(await textOf(C(150), '11')).toContain('Is the unit right?');
      for (const [temperature, hour] of [
        [C(100), '12'],
        [F(302), '13'],
      ] as const) {
        expect(await textOf(temperature, hour)).not.toContain('Is the unit right?');
      }
      const kept = (await get(`/batches/${batch}/checks`)).body.items;
      expect(kept.map((one: any) => one.readings[0].temperatureC)).toEqual([150, 100, 150, 140]);
    });

    it('keeps a probe at −40, whatever the unit, and asks for the probe', async () => {
      const batch = (await yard.begin()).id as string;
      for (const [temperature, hour] of [
        [C(-40), '10'],
        [F(-40), '11'],
        [C(-20), '12'],
      ] as const) {
        const occurredAt = `2026-03-07T${hour}:00:00Z`;
        const { status, body } = await check({ occurredAt, readings: [reading(temperature)] }, batch);
        expect([status, body.warnings]).toEqual([
          201,
          [
            {
              code: 'too-cold',
              pointer: '/readings/0/temperature',
              text: expect.stringContaining('Check the probe'),
            },
          ],
        ]);
      }
      const mild = { occurredAt: '2026-03-07T13:00:00Z', readings: [reading(C(-19.9))] };
      expect((await check(mild, batch)).body.warnings).toEqual([]);
    });

    it('takes 1e999 for no number', async () => {
      const answer = await api.call('POST', `/batches/${batchId}/checks`, {
        as: operator,
        headers: { 'content-type': 'application/json' },
        body: '{"readings":[{"position":"a","temperature":{"value":1e999,"unit":"F"}}]}',
      });
      expect(answer.status).toBe(422);
    });

    it('warns of a pile near burning, and keeps the check', async () => {
      const answer = await check({ occurredAt: '2026-03-07T15:00:00Z', readings: [reading(C(80))] });
      expect(answer.status).toBe(201);
      expect(answer.body.warnings).toEqual([
        {
          code: 'too-hot',
          pointer: '/readings/0/temperature',
          text: expect.stringContaining('do not open it, keep people away'),
        },
      ]);
      const cooler = await check({ occurredAt: '2026-03-07T16:00:00Z', readings: [reading(C(79.9))] });
      expect(cooler.body.warnings).toEqual([]);
    });

    it('is taken back once, by a manager, with a reason', async () => {
      const { body } = await check({ occurredAt: '2026-03-08T15:00:00Z' });
      const path = `/batches/${batchId}/checks/${body.id as string}/void`;
      const reason = { reason: 'the probe lay in the sun' };
      expect((await post(path, reason, operator)).status).toBe(403);
      expect(pointers(await post(path, {}, manager))).toEqual(['/reason']);
      const voided = await post(path, reason, manager);
      expect(voided.status).toBe(200);
      expect(voided.body).toEqual({ ...body, voidedAt: expect.any(String), voidReason: reason.reason });
      expect((await post(path, reason, manager)).body).toEqual(voided.body);
      const other = await post(path, { reason: 'another' }, manager);
      expect([other.status, code(other)]).toEqual([409, 'conflict']);
      const { body: second } = await check({ occurredAt: '2026-03-08T16:00:00Z' });
      const again = `/batches/${batchId}/checks/${second.id as string}/void`;
      const both = await Promise.all([1, 2, 3].map(() => post(again, reason, manager)));
      expect(both.map(({ status }) => status)).toEqual([200, 200, 200]);
      const lines = await auditOf(api, 'check.voided');
      expect(lines.filter(({ subjectId }) => subjectId === body.id)).toHaveLength(1);
      const elsewhere = await yard.begin();
      const wrong = `/batches/${elsewhere.id as string}/checks/${body.id as string}/void`;
      expect((await post(wrong, reason, manager)).status).toBe(404);
      expect((await post(`/batches/${batchId}/checks/${v7()}/void`, reason, manager)).status).toBe(404);
    });

    it('is listed by pages, the latest first', async () => {
      const batch = (await yard.begin()).id as string;
      const times = ['05', '09', '07', '06', '08'].map((day) => `2026-03-${day}T15:00:00.000Z`);
      for (const occurredAt of times) await check({ occurredAt }, batch);
      const first = await get(`/batches/${batch}/checks?limit=3`);
      const second = await get(`/batches/${batch}/checks?limit=3&cursor=${first.body.next as string}`);
      const listed = [...first.body.items, ...second.body.items].map(({ occurredAt }) => occurredAt);
      expect(listed).toEqual(times.toSorted().reverse());
      expect(second.body.next).toBeNull();
      const forged = Buffer.from('["yesterday","x"]').toString('base64url');
      expect((await get(`/batches/${batch}/checks?cursor=${forged}`)).status).toBe(422);
      expect((await get(`/batches/${batch}/checks?limit=201`)).status).toBe(422);
    });
  });

  describe('turns and waterings', () => {
    it('are kept once, with what was typed', async () => {
      const turn = { id: v7(), occurredAt: '2026-03-05T15:00:00Z', note: 'with the loader' };
      const turned = await post(`/batches/${batchId}/turns`, turn);
      expect(turned.status).toBe(201);
      expect(turned.body).toMatchObject({ ...turn, occurredAt: '2026-03-05T15:00:00.000Z', voidedAt: null });
      expect((await post(`/batches/${batchId}/turns`, turn)).status).toBe(200);
      expect(code(await post(`/batches/${batchId}/turns`, { ...turn, note: 'by hand' }))).toBe('other-body');

      const volume = { value: 50, unit: 'gal' };
      const watered = await post(`/batches/${batchId}/waterings`, {
        occurredAt: '2026-03-05T15:10:00Z',
        volume,
      });
      expect(watered.body).toMatchObject({ volumeL: 189.271, entered: { volume } });
      const unmeasured = await post(`/batches/${batchId}/waterings`, {});
      expect(unmeasured.body).toMatchObject({ volumeL: null, entered: {} });
      expect((await get(`/batches/${batchId}/waterings`)).body.items).toEqual([
        unmeasured.body,
        watered.body,
      ]);
      expect((await get(`/batches/${batchId}/turns`)).body.items).toEqual([turned.body]);
    });

    it('are refused before the batch, and with nothing in them', async () => {
      const early = { occurredAt: '2026-03-03T14:00:00Z' };
      expect(pointers(await post(`/batches/${batchId}/turns`, early))).toEqual(['/occurredAt']);
      expect(pointers(await post(`/batches/${batchId}/waterings`, early))).toEqual(['/occurredAt']);
      const none = await post(`/batches/${batchId}/waterings`, { volume: { value: 0, unit: 'L' } });
      expect(pointers(none)).toEqual(['/volume']);
      const sea = await post(`/batches/${batchId}/waterings`, { volume: { value: 201, unit: 'm3' } });
      expect(pointers(sea)).toEqual(['/volume']);
    });

    it.each(['turns', 'waterings'])('are taken back by a manager: %s', async (what) => {
      const { body } = await post(`/batches/${batchId}/${what}`, { occurredAt: '2026-03-09T15:00:00Z' });
      const path = `/batches/${batchId}/${what}/${body.id as string}/void`;
      expect((await post(path, { reason: 'twice' }, operator)).status).toBe(403);
      const voided = await post(path, { reason: 'twice' }, manager);
      expect(voided.body).toEqual({ ...body, voidedAt: expect.any(String), voidReason: 'twice' });
    });
  });

  it('answers 401, 403 and 404 before anything is read of a body', async () => {
    const routes = ['checks', 'turns', 'waterings'].map((what) => `/batches/${batchId}/${what}`);
    for (const path of [...routes, ...routes.map((route) => `${route}/${v7()}/void`)]) {
      expect((await api.call('POST', path, { body: {} })).status, path).toBe(401);
      expect((await post(path, {}, programme.people.volunteer.token)).status, path).toBe(403);
      expect((await post(path, {}, programme.people.otherManager.token)).status, path).toBe(403);
    }
    expect((await post(`/batches/${v7()}/checks`, {})).status).toBe(404);
  });

  it('leaves a condemned batch alone, but answers what was sent before', async () => {
    const { id } = await yard.begin();
    const body = { id: v7(), occurredAt: '2026-03-05T15:00:00Z', readings: [reading(F(140))] };
    const path = `/batches/${id as string}/checks`;
    const kept = await post(path, body);
    await made(api, `/batches/${id as string}/stage`, { to: 'condemned', reason: 'paint in it' }, manager);
    expect((await post(path, body)).body).toEqual(kept.body);
    for (const [route, facts] of [
      [path, { readings: [reading(F(140))] }],
      [`/batches/${id as string}/turns`, {}],
      [`/batches/${id as string}/waterings`, {}],
    ] as const) {
      const refused = await post(route, facts);
      expect([refused.status, code(refused)], route).toEqual([409, 'stage-closed']);
    }
    const voided = await post(`${path}/${body.id}/void`, { reason: 'why not' }, manager);
    expect(code(voided)).toBe('stage-closed');
  });

  it('keeps readings that a check has against the database’s own superuser', async () => {
    const client = new pg.Client({ connectionString: api.databaseUrl });
    await client.connect();
    try {
      await check({ occurredAt: '2026-03-10T15:00:00Z' });
      await expect(client.query(`UPDATE check_reading SET temperature_deci_c = 700`)).rejects.toThrow(
        /keeps/,
      );
      await expect(client.query(`DELETE FROM turn`)).rejects.toThrow(/keeps/);
      await expect(client.query(`UPDATE watering SET volume_ml = 1`)).rejects.toThrow(/keeps/);
    } finally {
      await client.end();
    }
  });

  it('counts measured water into the batch', async () => {
    const { id } = await yard.begin();
    const lot = await lotAtHub1(api, programme, 20_000);
    await made(api, `/batches/${id as string}/assignments`, { items: [{ dropOffId: lot }] }, manager);
    await post(`/batches/${id as string}/waterings`, { volume: { value: 10, unit: 'L' } });
    const { body } = await get(`/batches/${id as string}/balance`);
    expect(body.inputKg).toBe(30);
  });
});
