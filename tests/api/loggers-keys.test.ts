import { createHash } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Database } from '#libs/database';
import { startApi, type TestApi } from '../support/api.js';
import { hoursAfter } from '../support/heat.js';
import { makeDevice, reading, send } from '../support/loggers.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { BEGUN_AT, makeYard, sqlOf, type Yard } from '../support/yard-work.js';

describe('keys of devices', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let loggers = 0;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
  });
  afterAll(() => api.stop());

  const post = (body: object, as = yard.manager.token) => api.call('POST', '/device-keys', { as, body });
  const facts = (more: object = {}) => {
    loggers += 1;
    return { siteId: yard.yard.id, code: `L-${loggers}`, bays: [yard.freeBay()], ...more };
  };
  const revoke = (id: string, as = yard.manager.token) =>
    api.call('POST', `/device-keys/${id}/revoke`, { as });

  it('are shown once, kept as a digest, and told with what they are for', async () => {
    const probe = { siteId: yard.yard.id, code: 'P-9', kind: 'thermometer' };
    const instrument = await made(api, '/instruments', probe);
    const batch = await yard.begin();
    const body = facts({ name: 'Grey box', instrumentId: instrument.id, batchIds: [batch.id] });
    const { status, body: device } = await post(body);
    expect(status).toBe(201);
    const { key, ...shown } = device as { key: string; id: string };
    expect(shown).toMatchObject({
      ...{ siteId: yard.yard.id, code: body.code, name: 'Grey box', instrumentId: instrument.id },
      ...{ bays: body.bays, batches: [{ id: batch.id, code: batch.code }] },
      ...{ recordedBy: yard.manager.id, revokedAt: null, lastReadingAt: null },
    });
    const [row] = await sqlOf(api).query<{ digest: Buffer }>(
      `SELECT key_sha256 AS digest FROM device WHERE id = $1`,
      [shown.id],
    );
    expect(row!.digest.equals(createHash('sha256').update(key).digest())).toBe(true);
    const list = await api.call('GET', '/device-keys?limit=200', { as: yard.manager.token });
    expect(list.body.items[0]).toEqual(shown);
    expect(list.text).not.toContain(key);
    await send(api, key, [reading({ batchId: batch.id, occurredAt: hoursAfter(BEGUN_AT, 5) })]);
    const told = await api.call('GET', `/device-keys?siteId=${yard.yard.id}&limit=1`, {
      as: yard.manager.token,
    });
    expect(told.body.items[0].lastReadingAt).toBe(hoursAfter(BEGUN_AT, 5));
    expect(told.body.next).toBeNull();
  });

  it('open nothing but the door for readings', async () => {
    const { key } = await makeDevice(api, facts(), yard.manager.token);
    for (const [method, path] of [
      ['GET', '/device-keys'],
      ['GET', '/batches'],
      ['GET', '/people/me'],
      ['GET', '/sessions'],
      ['POST', '/drop-offs'],
    ] as const) {
      const answer = await api.call(method, path, { as: key, ...(method === 'POST' ? { body: {} } : {}) });
      expect([answer.status, answer.body.type], path).toEqual([403, 'urn:heapwright:problem:not-allowed']);
    }
    for (const as of [yard.manager.token, api.coordinator]) {
      const sent = await send(api, as, [reading({ bay: 'H1', occurredAt: BEGUN_AT })]);
      expect([sent.status, sent.body.detail]).toEqual([403, 'Only a device sends this, with its key.']);
    }
  });

  it('open nothing once revoked, and what came in under them stays', async () => {
    const body = facts();
    const batch = await yard.begin({ bay: body.bays[0] });
    const device = await makeDevice(api, body, yard.manager.token);
    const told = [reading({ bay: body.bays[0]!, occurredAt: hoursAfter(BEGUN_AT, 5) })];
    expect((await send(api, device.key, told)).status).toBe(201);
    const revoked = await revoke(device.id);
    expect([revoked.status, revoked.body.revokedAt === null]).toEqual([200, false]);
    expect((await revoke(device.id)).body).toEqual(revoked.body);
    expect((await send(api, device.key, told)).status).toBe(401);
    expect((await send(api, `${device.key}x`, told)).status).toBe(401);
    const process = await api.call('GET', `/batches/${batch.id as string}/process`, {
      as: yard.operator.token,
    });
    expect(process.status).toBe(200);
    const lines = await sqlOf(api).query<{ action: string; person_id: string | null }>(
      `SELECT action, person_id FROM audit_event WHERE subject_id = $1 ORDER BY seq`,
      [device.id],
    );
    expect(lines.map(({ action, person_id }) => [action, person_id])).toEqual([
      ['device-key.made', yard.manager.id],
      ['logger-readings.kept', null],
      ['device-key.revoked', yard.manager.id],
    ]);
  });

  it('let nothing in that was on its way while they were revoked', async () => {
    const body = facts();
    const device = await makeDevice(api, body, yard.manager.token);
    const waiting = async () => {
      const [row] = await sqlOf(api).query<{ count: number }>(
        `SELECT count(*)::int FROM pg_stat_activity WHERE datname = current_database() AND wait_event_type = 'Lock'`,
      );
      return row?.count;
    };
    const [revoked, sent] = await api.app.get(Database).writeSql(async (sql) => {
      await sql.query('SELECT id FROM device WHERE id = $1 FOR UPDATE', [device.id]);
      const revoking = revoke(device.id);
      await expect.poll(waiting).toBe(1);
      const sending = send(api, device.key, [reading({ bay: body.bays[0]!, occurredAt: BEGUN_AT })]);
      await expect.poll(waiting).toBe(2);
      return [revoking, sending].map((answer) => () => answer);
    });
    expect((await revoked!()).status).toBe(200);
    const refused = await sent!();
    expect([refused.status, refused.body.type]).toEqual([401, 'urn:heapwright:problem:not-signed-in']);
    const kept = await sqlOf(api).query(
      `SELECT FROM logger_probe p JOIN device_target t ON t.id = p.target_id WHERE t.device_id = $1`,
      [device.id],
    );
    expect(kept).toEqual([]);
  });

  it('leave a bay to one device alone, until its key is revoked', async () => {
    const body = facts();
    const first = await makeDevice(api, body, yard.manager.token);
    const second = { ...facts(), bays: ['H40', body.bays[0]!] };
    const refused = await post(second);
    expect([refused.status, refused.body.type, refused.body.errors]).toEqual([
      409,
      'urn:heapwright:problem:bay-claimed',
      [
        {
          pointer: '/bays/1',
          detail: `${body.code} tells of bay ${body.bays[0]}: revoke its key first`,
        },
      ],
    ]);
    await revoke(first.id);
    expect((await post(second)).status).toBe(201);
  });

  it('asked for at one moment for one bay are made once', async () => {
    const bays = [yard.freeBay()];
    const answers = await Promise.all([1, 2, 3].map(() => post({ ...facts(), bays })));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409]);
    for (const { status, body } of answers) {
      if (status === 409) expect(body.type).toBe('urn:heapwright:problem:bay-claimed');
    }
  });

  it('have a code that is once in use at a site, and free again when revoked', async () => {
    const body = facts();
    const device = await makeDevice(api, body, yard.manager.token);
    const again = { ...body, bays: [yard.freeBay()] };
    expect((await post(again)).body.type).toBe('urn:heapwright:problem:taken');
    await revoke(device.id);
    expect((await post(again)).status).toBe(201);
  });

  it.each<[string, () => Promise<object>, string]>([
    ['nothing to tell of', () => Promise.resolve({ bays: [] }), '/bays'],
    ['no bay of the yard', () => Promise.resolve({ bays: ['A1'] }), '/bays/0'],
    ['a bay twice', () => Promise.resolve({ bays: ['H39', 'H39'] }), '/bays/1'],
    ['no batch at all', () => Promise.resolve({ batchIds: [v7()] }), '/batchIds/0'],
    [
      'a batch of another yard',
      async () => {
        const elsewhere = { siteId: programme.yard1.id, bay: 'A1', method: 'turned-windrow' };
        return { batchIds: [(await made<{ id: string }>(api, '/batches', elsewhere)).id] };
      },
      '/batchIds/0',
    ],
    [
      'a batch that is closed',
      async () => {
        const { id } = await yard.begin();
        const closing = { to: 'condemned', reason: 'Sprayed hedge clippings' };
        await made(api, `/batches/${id as string}/stage`, closing, yard.manager.token);
        return { batchIds: [id] };
      },
      '/batchIds/0',
    ],
    [
      'a scale',
      () => Promise.resolve({ instrumentId: programme.instruments.scale.id, bays: ['H38'] }),
      '/instrumentId',
    ],
  ])('are refused for %s', async (_, wrong, pointer) => {
    const { status, body } = await post({ ...facts(), ...(await wrong()) });
    expect([status, (body.errors as { pointer: string }[]).map((fault) => fault.pointer)]).toEqual([
      422,
      [pointer],
    ]);
  });

  it('are of managers of their site', async () => {
    const body = facts();
    const device = await makeDevice(api, body, yard.manager.token);
    const other = programme.people.otherManager.token;
    expect((await api.call('POST', '/device-keys', { body: facts() })).status).toBe(401);
    expect((await post(facts(), yard.operator.token)).status).toBe(403);
    expect((await post(facts(), other)).body.type).toBe('urn:heapwright:problem:other-site');
    expect((await revoke(device.id, yard.operator.token)).status).toBe(403);
    expect((await revoke(device.id, other)).body.type).toBe('urn:heapwright:problem:other-site');
    expect((await revoke(v7())).status).toBe(404);
    expect((await api.call('GET', '/device-keys', { as: yard.operator.token })).status).toBe(403);
    expect((await api.call('GET', '/device-keys', { as: other })).body.items).toEqual([]);
    const narrowed = `/device-keys?siteId=${yard.yard.id}`;
    expect((await api.call('GET', narrowed, { as: other })).body.items).toEqual([]);
    const hours = `/logger-readings?deviceId=${device.id}`;
    expect((await api.call('GET', hours)).status).toBe(401);
    expect((await api.call('GET', hours, { as: programme.people.volunteer.token })).status).toBe(403);
    expect((await api.call('GET', hours, { as: device.key })).status).toBe(403);
  });
});
