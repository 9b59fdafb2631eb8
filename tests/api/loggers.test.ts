import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { hoursAfter } from '../support/heat.js';
import { type DeviceKey, makeDevice, minutes, reading, send } from '../support/loggers.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { BEGUN_AT, makeYard, sqlOf, type Yard } from '../support/yard-work.js';

const AT = hoursAfter(BEGUN_AT, 24);

describe('readings of loggers', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let batch: { id: string; code: string };
  let bay: string;
  let device: DeviceKey;
  let loggers = 0;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    bay = yard.freeBay();
    batch = await yard.begin({ bay });
    device = await newDevice({ bays: [bay] });
  });
  afterAll(() => api.stop());

  const newDevice = (targets: { bays?: string[]; batchIds?: string[] }) => {
    loggers += 1;
    return makeDevice(api, { siteId: yard.yard.id, code: `L-${loggers}`, ...targets }, yard.manager.token);
  };
  const stored = async (id: string) => {
    const rows = await sqlOf(api).query<{ position: string; at: Date; deciC: number }>(
      `SELECT p.position, r.at, r.temperature_deci_c AS "deciC" FROM logger_reading r
       JOIN logger_probe p ON p.id = r.probe_id JOIN device_target t ON t.id = p.target_id
       WHERE t.device_id = $1 ORDER BY r.at, p.position`,
      [id],
    );
    return rows.map(({ position, at, deciC }) => [position, at.toISOString(), deciC]);
  };

  it('are kept, told of, and known when they come again', async () => {
    const readings = [
      reading({ bay, occurredAt: AT, zone: 'core', depth: { value: 18, unit: 'in' } }),
      reading({ bay, occurredAt: AT, position: 'edge-1', temperature: { value: 140.9, unit: 'F' } }),
    ];
    const first = await send(api, device.key, readings);
    expect([first.status, first.body]).toEqual([
      201,
      { new: 2, known: 0, warned: 0, withoutBatch: 0, refused: [] },
    ]);
    const again = await send(api, device.key, readings);
    expect([again.status, again.body]).toEqual([
      200,
      { new: 0, known: 2, warned: 0, withoutBatch: 0, refused: [] },
    ]);
    // (140.9 − 32) × 5/9 = 60.5 °C
    expect(await stored(device.id)).toEqual([
      ['core-1', AT, 600],
      ['edge-1', AT, 605],
    ]);
    const placements = await sqlOf(api).query(
      `SELECT zone, depth_mm AS "depthMm" FROM logger_placement ORDER BY depth_mm`,
    );
    expect(placements).toEqual([
      { zone: 'core', depthMm: 457 },
      { zone: null, depthMm: null },
    ]);
  });

  it('of one probe and instant say one thing: another temperature, depth or zone is refused, and the first stands', async () => {
    const own = await newDevice({ batchIds: [batch.id] });
    const kept = reading({ batchId: batch.id, occurredAt: AT, zone: 'core' });
    await send(api, own.key, [kept]);
    const other = { ...kept, temperature: { value: 61, unit: 'C' } };
    const deeper = { ...kept, depth: { value: 50, unit: 'cm' } };
    const { status, body } = await send(api, own.key, [
      other,
      kept,
      deeper,
      { ...kept, occurredAt: hoursAfter(AT, 1) },
    ]);
    expect(status).toBe(201);
    expect(body).toEqual({
      ...{ new: 1, known: 1, warned: 0, withoutBatch: 0 },
      refused: [
        {
          index: 0,
          pointer: '/readings/0/temperature',
          detail: 'was kept before for this probe and time with 60 C',
        },
        {
          index: 2,
          pointer: '/readings/2/position',
          detail: 'was kept before for this probe and time in another zone or depth',
        },
      ],
    });
    expect(await stored(own.id)).toEqual([
      ['core-1', AT, 600],
      ['core-1', hoursAfter(AT, 1), 600],
    ]);
  });

  it('told twice in one delivery are known or refused in the same way', async () => {
    const own = await newDevice({ batchIds: [batch.id] });
    const one = reading({ batchId: batch.id, occurredAt: AT });
    const { body } = await send(api, own.key, [one, one, { ...one, temperature: { value: 12, unit: 'C' } }]);
    expect([body.new, body.known]).toEqual([1, 1]);
    expect(body.refused).toEqual([
      {
        index: 2,
        pointer: '/readings/2/temperature',
        detail: 'was kept before for this probe and time with 60 C',
      },
    ]);
  });

  it.each<[string, object, string]>([
    ['no bay of the device', { bay: 'A1' }, '/readings/1/bay'],
    ['no batch of the device', { bay: undefined, batchId: v7() }, '/readings/1/batchId'],
    ['neither bay nor batch', { bay: undefined }, '/readings/1/bay'],
    ['both of them', { batchId: v7() }, '/readings/1/bay'],
    ['colder than can be', { temperature: { value: -127, unit: 'C' } }, '/readings/1/temperature'],
    ['below absolute zero', { temperature: { value: -999, unit: 'C' } }, '/readings/1/temperature'],
    [
      '140 °F taken for °C, twice over',
      { temperature: { value: 284, unit: 'C' } },
      '/readings/1/temperature',
    ],
    ['beyond all measure', { temperature: { value: 65535, unit: 'F' } }, '/readings/1/temperature'],
    ['18 m of depth', { depth: { value: 18, unit: 'm' } }, '/readings/1/depth'],
    [
      'ten minutes ahead',
      { occurredAt: new Date(Date.now() + 600_000).toISOString() },
      '/readings/1/occurredAt',
    ],
    ['a clock that was never set', { occurredAt: '2000-01-01T00:12:00Z' }, '/readings/1/occurredAt'],
  ])('are refused one by one, the good ones kept: %s', async (_, wrong, pointer) => {
    loggers += 1;
    const at = hoursAfter(AT, 24 + loggers);
    const good = reading({ bay, occurredAt: at });
    const { status, body } = await send(api, device.key, [
      good,
      { ...reading({ bay, occurredAt: at, position: 'wrong' }), ...wrong },
    ]);
    expect([status, body.new, body.known]).toEqual([201, 1, 0]);
    expect(body.refused).toEqual([{ index: 1, pointer, detail: expect.stringMatching(/\w{2} \w+/) }]);
    expect((await stored(device.id)).filter(([position]) => position === 'wrong')).toEqual([]);
  });

  it('before the batch began, or of one that is closed, are refused with the reason', async () => {
    const doomed = await yard.begin();
    const own = await newDevice({ batchIds: [doomed.id] });
    const early = await send(api, own.key, [
      reading({ batchId: doomed.id, occurredAt: hoursAfter(BEGUN_AT, -1) }),
    ]);
    expect(early.body.refused[0].detail).toBe(
      `is before ${doomed.code} was begun, at ${new Date(BEGUN_AT).toISOString()}`,
    );
    const closing = { to: 'condemned', reason: 'Sprayed hedge clippings' };
    await made(api, `/batches/${doomed.id}/stage`, closing, yard.manager.token);
    const late = await send(api, own.key, [reading({ batchId: doomed.id, occurredAt: AT })]);
    expect([late.status, late.body.new]).toEqual([200, 0]);
    expect(late.body.refused[0].detail).toBe(
      `is of ${doomed.code}, which is condemned: nothing is recorded of it any more`,
    );
  });

  it('of a bay belong to the closed batch that stood there only as long as it was open', async () => {
    const place = yard.freeBay();
    const doomed = await yard.begin({ bay: place });
    const own = await newDevice({ bays: [place] });
    const closedAt = hoursAfter(BEGUN_AT, 48);
    const closing = { to: 'condemned', reason: 'Sprayed hedge clippings', occurredAt: closedAt };
    await made(api, `/batches/${doomed.id}/stage`, closing, yard.manager.token);
    const { body } = await send(api, own.key, [
      reading({ bay: place, occurredAt: hoursAfter(BEGUN_AT, -1) }),
      reading({ bay: place, occurredAt: AT }),
      reading({ bay: place, occurredAt: closedAt }),
      reading({ bay: place, occurredAt: hoursAfter(closedAt, 1) }),
    ]);
    expect([body.new, body.refused.map(({ index }: { index: number }) => index)]).toEqual([3, [1]]);
    expect(await stored(own.id)).toHaveLength(3);
  });

  it('of a bay in which no batch lay are kept, and told how many', async () => {
    const place = yard.freeBay();
    const own = await newDevice({ bays: [place] });
    const at = (hours: number) => reading({ bay: place, occurredAt: hoursAfter(BEGUN_AT, hours) });
    const told = [at(-2), at(-1), at(0), at(1), { ...at(-1), temperature: { value: 61, unit: 'C' } }];
    const empty = await send(api, own.key, told);
    expect(empty.body).toMatchObject({ new: 4, withoutBatch: 4, refused: [{ index: 4 }] });
    await yard.begin({ bay: place });
    expect((await send(api, own.key, told)).body).toMatchObject({ new: 0, known: 4, withoutBatch: 2 });
    expect(await stored(own.id)).toHaveLength(4);
  });

  it('are of probes and zones that are named in one line', async () => {
    const own = await newDevice({ batchIds: [batch.id] });
    const one = reading({ batchId: batch.id, occurredAt: AT });
    const { status, body } = await send(api, own.key, [
      { ...one, position: 'a\nb', zone: 'c' },
      { ...one, position: 'a', zone: 'b\rc' },
    ]);
    expect([status, body.errors]).toEqual([
      422,
      [
        { pointer: '/readings/0/position', detail: 'must be one line' },
        { pointer: '/readings/1/zone', detail: 'must be one line' },
      ],
    ]);
  });

  it('above 100 °C, and exactly −40, are kept and warned of', async () => {
    const own = await newDevice({ batchIds: [batch.id] });
    const values = [99.9, 100, 100.1, 150, -40, -39.9];
    const told = (occurredAt: string) =>
      values.map((value, index) =>
        reading({
          batchId: batch.id,
          position: `p-${index}`,
          temperature: { value, unit: 'C' },
          occurredAt,
        }),
      );
    const { body } = await send(api, own.key, told(AT));
    const warned = { warned: 3, withoutBatch: 0, refused: [] };
    expect(body).toEqual({ new: 6, known: 0, ...warned });
    expect((await send(api, own.key, told(AT))).body).toEqual({ new: 0, known: 6, ...warned });
  });

  it('may be 5,000 at once and no more', async () => {
    const own = await newDevice({ batchIds: [batch.id] });
    const positions = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'];
    const most = minutes({ batchId: batch.id, from: AT, count: 625 }, positions);
    const { status, body } = await send(api, own.key, most);
    expect([status, body]).toEqual([201, { new: 5000, known: 0, warned: 0, withoutBatch: 0, refused: [] }]);
    const again = await send(api, own.key, most);
    expect([again.status, again.body]).toEqual([
      200,
      { new: 0, known: 5000, warned: 0, withoutBatch: 0, refused: [] },
    ]);
    const tooMany = await send(api, own.key, [...most, most[0]!]);
    expect([tooMany.status, tooMany.body.errors]).toEqual([
      422,
      [{ pointer: '/readings', detail: 'must hold at most 5000' }],
    ]);
    expect((await send(api, own.key, [])).status).toBe(422);
  });

  it('sent twice at the same moment are kept once', async () => {
    const own = await newDevice({ batchIds: [batch.id] });
    const readings = minutes({ batchId: batch.id, from: AT, count: 200 }, ['a', 'b']);
    const answers = await Promise.all(
      [readings, readings.toReversed(), readings].map((sent) => send(api, own.key, sent)),
    );
    const sum = (name: string) => answers.reduce((total, { body }) => total + (body[name] as number), 0);
    expect([sum('new'), sum('known'), sum('warned')]).toEqual([400, 800, 0]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    expect(await stored(own.id)).toHaveLength(400);
  });

  it('are told hour by hour, and the hours agree with the readings', async () => {
    const own = await newDevice({ batchIds: [batch.id] });
    const warm = (from: string, value: number, count: number) =>
      minutes({ batchId: batch.id, from, count, temperature: { value, unit: 'C' } }, ['a', 'b']);
    await send(api, own.key, [...warm(AT, 50, 90), ...warm(hoursAfter(AT, 1.5), 55, 90)]);
    await send(api, own.key, warm(hoursAfter(AT, 3), 20, 1));
    const page = await api.call('GET', `/logger-readings?deviceId=${own.id}&limit=5`, {
      as: yard.operator.token,
    });
    expect(page.status).toBe(200);
    expect(page.body.items).toHaveLength(5);
    const next = await api.call(
      'GET',
      `/logger-readings?deviceId=${own.id}&limit=5&cursor=${page.body.next as string}`,
      { as: yard.operator.token },
    );
    const items = [...page.body.items, ...next.body.items];
    expect(next.body.next).toBeNull();
    expect(items.map(({ hour, position }) => [hour, position])).toEqual(
      [3, 2, 1, 0].flatMap((hour) => [
        [hoursAfter(AT, hour), 'b'],
        [hoursAfter(AT, hour), 'a'],
      ]),
    );
    expect(items[4]).toMatchObject({
      ...{ hour: hoursAfter(AT, 1), readings: 60, minC: 50, maxC: 55, meanC: 52.5 },
      ...{ bay: null, batchId: batch.id, firstAt: hoursAfter(AT, 1), lastAt: hoursAfter(AT, 119 / 60) },
    });
    const derived = await sqlOf(api).query(
      `SELECT probe_id, hour, readings, min_deci_c, max_deci_c, sum_deci_c, first_at, last_at FROM logger_hour
       EXCEPT SELECT probe_id, date_trunc('hour', at), count(*), min(temperature_deci_c), max(temperature_deci_c),
         sum(temperature_deci_c), min(at), max(at) FROM logger_reading GROUP BY 1, 2`,
    );
    expect(derived).toEqual([]);
    const asked = `from=${hoursAfter(AT, 1)}&to=${hoursAfter(AT, 2)}`;
    const part = await api.call('GET', `/logger-readings?deviceId=${own.id}&${asked}`, {
      as: yard.operator.token,
    });
    expect(part.body.items).toHaveLength(2);
    const foreign = await api.call('GET', `/logger-readings?deviceId=${own.id}`, {
      as: programme.people.otherManager.token,
    });
    expect([foreign.status, foreign.body.items]).toEqual([200, []]);
  });

  it('leave one line in the audit trail for a delivery, told of the device', async () => {
    const own = await newDevice({ batchIds: [batch.id] });
    await send(api, own.key, [
      ...minutes({ batchId: batch.id, from: AT, count: 3 }, ['a']),
      reading({ bay: 'Z9', occurredAt: AT }),
    ]);
    const lines = await sqlOf(api).query(
      `SELECT person_id, action, subject_kind, site_id, detail FROM audit_event WHERE subject_id = $1 ORDER BY seq`,
      [own.id],
    );
    expect(lines).toMatchObject([
      { action: 'device-key.made' },
      {
        ...{ person_id: null, action: 'logger-readings.kept', subject_kind: 'device-key' },
        site_id: yard.yard.id,
        detail: {
          ...{ device: own.code, new: 3, known: 0, refused: 1 },
          sha256: expect.stringMatching(/^[0-9a-f]{64}$/),
        },
      },
    ]);
    expect(lines).toHaveLength(2);
  });

  it('are never changed, deleted or of a probe that is not there', async () => {
    const sql = sqlOf(api);
    for (const statement of [
      'UPDATE logger_reading SET temperature_deci_c = 700',
      'DELETE FROM logger_reading',
      'TRUNCATE logger_reading',
      'DELETE FROM logger_probe',
    ]) {
      await expect(sql.query(statement), statement).rejects.toMatchObject({ constraint: 'records_keep' });
    }
    await expect(
      sql.query(`INSERT INTO logger_reading VALUES (now(), 2000000000, 600, 0)`),
    ).rejects.toMatchObject({ constraint: 'logger_reading_probe' });
  });

  it('of a wrong shape are refused as a whole, each fault at its place', async () => {
    const { status, body } = await send(api, device.key, [
      reading({ bay, occurredAt: AT, position: 'fresh' }),
      { ...reading({ bay, occurredAt: '2026-02-30T10:00:00Z' }) },
    ]);
    expect([status, body.errors]).toEqual([
      422,
      [{ pointer: '/readings/1/occurredAt', detail: 'is no time of any calendar' }],
    ]);
    const wrong = await send(api, device.key, [
      { bay, position: 'fresh', temperature: { value: '60', unit: 'K' }, occurredAt: 'noon' },
    ]);
    expect(wrong.status).toBe(422);
    expect(wrong.body.errors.map(({ pointer }: { pointer: string }) => pointer).sort()).toEqual([
      '/readings/0/occurredAt',
      '/readings/0/temperature/unit',
      '/readings/0/temperature/value',
    ]);
    expect((await stored(device.id)).filter(([position]) => position === 'fresh')).toEqual([]);
  });
});
