import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { batchRecordSchema } from '#libs/documents';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { startApi, type TestApi } from '../support/api.js';
import { heat, hoursAfter } from '../support/heat.js';
import { makeDevice, minutes, send } from '../support/loggers.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { FILLED_AT, HOT_FROM } from '../support/released.js';
import { lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

interface Day {
  day: string;
  checks: number;
  loggerReadings: number;
  counted: number;
  creditedHours: number;
  turns: number;
}

describe('the credited days in the record of a batch', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
  });
  afterAll(() => api.stop());

  async function filled(): Promise<string> {
    const rule = { method: 'static-aerated', processRule: 'us-503-pfrp-static-aerated' };
    const { id } = await yard.begin(rule);
    const items = [{ dropOffId: await lotAtHub1(api, programme, 400_000) }];
    await made(
      api,
      `/batches/${id as string}/assignments`,
      { items, occurredAt: FILLED_AT },
      yard.manager.token,
    );
    return id as string;
  }
  const record = async (id: string) =>
    (await api.call('GET', `/batches/${id}/record.json`, { as: yard.operator.token })).body;
  const sumOf = (days: Day[]) =>
    days.reduce((sum, { creditedHours }) => sum + Math.round(creditedHours * 10), 0) / 10;

  it('has 23 hours in the day on which the clocks of the yard go forward', async () => {
    const id = await filled();
    await heat(api, id, { from: HOT_FROM, hours: 120 });
    await made(api, `/batches/${id}/turns`, { occurredAt: hoursAfter(HOT_FROM, 30) }, yard.operator.token);
    const { verdict } = await record(id);
    // From 8 o'clock in the morning of 4 March, Mountain time, to 9 o'clock of 9 March, daylight time.
    const hours = (verdict.days as Day[]).map(({ day, creditedHours }) => [day, creditedHours]);
    expect(hours).toEqual([
      ['2026-03-04', 16],
      ['2026-03-05', 24],
      ['2026-03-06', 24],
      ['2026-03-07', 24],
      ['2026-03-08', 23],
      ['2026-03-09', 9],
    ]);
    expect(sumOf(verdict.days)).toBe(verdict.creditedHours);
    expect((verdict.days as Day[]).map(({ turns }) => turns)).toEqual([0, 1, 0, 0, 0, 0]);
  });

  it('has what a logger read, counted by the day and drawn by the hour', async () => {
    const id = await filled();
    const device = await makeDevice(
      api,
      { siteId: yard.yard.id, code: 'L-7', batchIds: [id] },
      yard.manager.token,
    );
    const read = minutes({ batchId: id, from: HOT_FROM, count: 26 * 60 + 1 }, ['core', 'edge']).map((one) =>
      one.position === 'edge' ? { ...one, temperature: { value: 57.5, unit: 'C' } } : one,
    );
    expect((await send(api, device.key, read)).status).toBe(201);
    const whole = await record(id);
    const { verdict, loggers } = whole;
    expect(verdict.creditedHours).toBe(26);
    expect(verdict.days).toMatchObject([
      { day: '2026-03-04', checks: 0, loggerReadings: 960, lowestC: 57.5, highestC: 60, creditedHours: 16 },
      { day: '2026-03-05', checks: 0, loggerReadings: 601, counted: 601, creditedHours: 10 },
    ]);
    expect(loggers).toHaveLength(1);
    expect(loggers[0].logger).toContain('L-7');
    expect(loggers[0].hours).toHaveLength(27);
    expect(loggers[0].hours[0]).toEqual({ at: HOT_FROM, readings: 60, lowestC: 57.5, highestC: 60 });
    const ajv = new Ajv2020({ strict: true, validateFormats: false, allowUnionTypes: true });
    const validate = ajv.compile(batchRecordSchema);
    validate(whole);
    expect(validate.errors ?? []).toEqual([]);
    const pdf = await api.call('GET', `/batches/${id}/record.pdf`, { as: yard.operator.token });
    expect(pdf.status).toBe(200);
  });
});
