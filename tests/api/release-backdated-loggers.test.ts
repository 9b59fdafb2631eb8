import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { hoursAfter } from '../support/heat.js';
import { type DeviceKey, makeDevice, reading, send } from '../support/loggers.js';
import { made, makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { permitTerms } from '../support/released.js';
import { BEGUN_AT, lotAtHub1, makeYard, sqlOf, type Yard } from '../support/yard-work.js';

const code = (answer: any) => answer.body.type.replace('urn:heapwright:problem:', '');
const day = (count: number) => hoursAfter(BEGUN_AT, count * 24);

describe('a signature that is dated, of a batch with a logger', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let loggers = 0;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    await made(api, '/permits', { siteId: yard.yard.id, ...permitTerms, cureDays: 10, requiredSamples: [] });
  });
  afterAll(() => api.stop());

  interface Told {
    id: string;
    bay: string;
    device: DeviceKey;
  }
  const post = (path: string, body: unknown) => api.call('POST', path, { as: yard.manager.token, body });
  const release = ({ id }: Told, facts: object = {}) =>
    post(`/batches/${id}/release`, { password: PASSWORD, ...facts });
  const tell = async ({ bay, device }: Told, celsius: number, ...instants: string[]) => {
    const { body } = await send(
      api,
      device.key,
      instants.map((occurredAt) => reading({ bay, occurredAt, temperature: { value: celsius, unit: 'C' } })),
    );
    expect(body.refused).toEqual([]);
  };
  const hourly = (from: number, to: number) =>
    Array.from({ length: (to - from) * 24 }, (_, hour) => hoursAfter(day(from), hour));

  /** Hot for five days, then cool; its permit asks for a cure of ten days. Nothing stands against it on the 16th. */
  async function cooled(): Promise<Told> {
    const bay = yard.freeBay();
    const { id } = await yard.begin({ bay, method: 'static-aerated' });
    const lot = await lotAtHub1(api, programme, 100_000);
    const filled = { items: [{ dropOffId: lot }], occurredAt: hoursAfter(BEGUN_AT, 1) };
    await made(api, `/batches/${id as string}/assignments`, filled, yard.manager.token);
    loggers += 1;
    const facts = { siteId: yard.yard.id, code: `L-${loggers}`, bays: [bay] };
    const told = { id: id as string, bay, device: await makeDevice(api, facts, yard.manager.token) };
    await tell(told, 61, ...hourly(0, 5));
    await tell(told, 25, ...hourly(5, 16), day(16));
    for (const [to, occurredAt] of [
      ['active', day(1)],
      ['curing', day(5)],
    ]) {
      await made(api, `/batches/${told.id}/stage`, { to, occurredAt }, yard.manager.token);
    }
    return told;
  }

  it('is not dated back behind a reading, until that is set aside', async () => {
    const told = await cooled();
    await tell(told, 60, ...hourly(17, 20));
    const refused = await release(told, { occurredAt: day(16) });
    expect([refused.status, code(refused)]).toEqual([409, 'conflict']);
    const last = hoursAfter(day(20), -1);
    expect(refused.body.errors).toEqual([
      {
        pointer: '/occurredAt',
        detail: `is before a reading of a logger of the batch, at ${new Date(last).toISOString()}`,
      },
    ]);
    const aside = (from: string, to: string) =>
      made(
        api,
        '/logger-readings/set-aside',
        { deviceId: told.device.id, from, to, reason: 'Probes lay in another pile' },
        yard.manager.token,
      );
    await aside(day(18), last);
    expect((await release(told, { occurredAt: day(16) })).body.errors[0].detail).toContain(
      new Date(hoursAfter(day(18), -1)).toISOString(),
    );
    await aside(day(17), day(18));
    expect((await release(told, { occurredAt: day(16) })).status).toBe(201);
  });

  it('is dated back behind what a bay showed when the batch had left it', async () => {
    const told = await cooled();
    await made(
      api,
      `/batches/${told.id}/moves`,
      { bay: yard.freeBay(), occurredAt: day(16) },
      yard.manager.token,
    );
    await tell(told, 60, ...hourly(17, 18));
    expect((await release(told, { occurredAt: day(16) })).status).toBe(201);
  });

  it('is not dated back by whoever writes to the database itself', async () => {
    const { id } = await cooled();
    await sqlOf(api).query(
      `INSERT INTO sealed_document (seal, kind, subject_id, version, document, sealed_by)
       VALUES (encode(sha256($1::text::bytea), 'hex'), 'batch-record', $1::uuid, 1, $1::text, $2)`,
      [id, yard.manager.id],
    );
    const sign = (at: string) =>
      sqlOf(api).query(
        `INSERT INTO release (batch_id, signed_by, signed_name, signed_at, statement, gates, seal)
         VALUES ($1::uuid, $2, 'Petra Hollis', $3, 'good', '[]', encode(sha256($1::text::bytea), 'hex'))`,
        [id, yard.manager.id, at],
      );
    await expect(sign(hoursAfter(day(16), -1 / 60))).rejects.toMatchObject({
      constraint: 'release_after_records',
    });
    await expect(sign(day(16))).resolves.toEqual([]);
  });

  it.each([
    ['as of now', () => ({})],
    ['as of the moment before', () => ({ occurredAt: new Date(Date.now() - 60_000).toISOString() })],
  ])('is given %s while the logger goes on reading, by a clock ahead of ours', async (_, facts) => {
    const told = await cooled();
    const minute = (count: number) => new Date(Date.now() + count * 60_000).toISOString();
    await tell(told, 25, ...[-30, -1, 0, 1, 4].map(minute));
    const before = Date.now();
    const signed = await release(told, facts());
    expect([signed.status, signed.body.errors]).toEqual([201, undefined]);
    const { signedAt } = (await api.call('GET', `/batches/${told.id}/gates`, { as: yard.manager.token }))
      .body;
    expect(Math.abs(Date.parse(signedAt) - before)).toBeLessThan(90_000);
    const late = await release(told, { occurredAt: day(16) });
    expect(code(late)).toBe('batch-released');
  });
});
