import {
  afterAll,
  afterEach,
  beforeAll,
  beforeEach,
  describe,
  expect,
  it,
  type MockInstance,
  vi,
} from 'vitest';
import { evaluateReadings } from '#libs/process';
import { LoggerSeriesService } from '../../apps/api/loggers/logger-series.service.js';
import { ProcessService } from '../../apps/api/monitoring/process.service.js';
import { ReadingOnService } from '../../apps/api/monitoring/reading-on.service.js';
import { startApi, type TestApi } from '../support/api.js';
import { hoursAfter } from '../support/heat.js';
import { type DeviceKey, makeDevice, reading, send } from '../support/loggers.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { asSuperuser } from '../support/superuser.js';
import { BEGUN_AT, lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

/** A batch that was built by the first hour, with a logger that told of it every quarter of an hour. */
describe('a batch with loggers, judged time and again', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let process: ProcessService;
  let loggers = 0;
  let batch: { id: string; bay: string; device: DeviceKey };
  let spy: MockInstance<LoggerSeriesService['series']>;
  const asked = () => spy.mock.calls.map((call) => call[2]);

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    process = api.app.get(ProcessService);
  });
  afterAll(() => api.stop());

  const at = (hours: number) => hoursAfter(BEGUN_AT, hours);
  const quarters = (fromHour: number, toHour: number, celsius = 60) =>
    Array.from({ length: (toHour - fromHour) * 4 }, (_, index) =>
      reading({
        bay: batch.bay,
        occurredAt: at(fromHour + index / 4),
        temperature: { value: celsius, unit: 'C' },
      }),
    );
  const tell = async (...readings: object[]) => {
    const { body } = await send(api, batch.device.key, readings);
    expect(body.refused).toEqual([]);
  };

  /** The verdict as it is answered, held against one that reads everything from the beginning. */
  const judge = async () => {
    spy.mockClear();
    const facts = await process.facts(batch.id);
    const ruled = await process.judge(facts);
    const from = asked().map(({ fromMs }) => fromMs);
    const full = await process.inFull(facts, ruled!);
    const anew = evaluateReadings(ruled!.rule, full, facts.asOfMs, ruled!.verdict.reading);
    const { notes, ...verdict } = ruled!.verdict;
    const { notes: anewNotes, ...verdictAnew } = anew.verdict;
    expect(verdict).toEqual(verdictAnew);
    expect(notes).toEqual(expect.arrayContaining([...anewNotes]));
    expect(ruled!.otherReading).toEqual(anew.other);
    return { from, hours: verdict.creditedHours, verdict };
  };
  const anew = [undefined];

  beforeEach(async () => {
    const bay = yard.freeBay();
    const begun = await yard.begin({ bay, method: 'static-aerated', processRule: 'us-503-pfrp-windrow' });
    const lot = await lotAtHub1(api, programme, 100_000);
    const filled = { items: [{ dropOffId: lot }], occurredAt: at(1) };
    await made(api, `/batches/${begun.id as string}/assignments`, filled, yard.manager.token);
    loggers += 1;
    const facts = { siteId: yard.yard.id, code: `L-${loggers}`, bays: [bay] };
    batch = { id: begun.id, bay, device: await makeDevice(api, facts, yard.manager.token) };
    await tell(...quarters(0, 120));
    spy = vi.spyOn(api.app.get(LoggerSeriesService), 'series');
    expect((await judge()).from).toEqual(anew);
  });
  afterEach(() => vi.restoreAllMocks());

  it('is read on from the last whole hour a day before its last reading', async () => {
    const before = await judge();
    expect(before.from).toEqual([Date.parse(at(95))]);
    await tell(...quarters(120, 150));
    const after = await judge();
    expect(after.from).toEqual([Date.parse(at(95))]);
    expect(after.hours).toBe(before.hours + 30);
    expect((await judge()).from).toEqual([Date.parse(at(125))]);
  });

  it('is told under rules for information as if read from the beginning, and nothing of them is kept', async () => {
    const readingOn = vi.spyOn(api.app.get(ReadingOnService), 'verdict');
    const facts = await process.facts(batch.id);
    const told = new Set(['us-503-pfrp-windrow', 'us-503-pfrp-static-aerated']);
    const rest = await process.judgeRest(facts, told);
    expect(readingOn).not.toHaveBeenCalled();
    const codes = rest.map(({ rule }) => rule.code);
    expect(codes).toContain('us-503-psrp');
    expect(codes.filter((code) => told.has(code))).toEqual([]);
    expect(rest.some(({ verdict }) => verdict.creditedHours > 0)).toBe(true);
    for (const { rule, verdict, otherReading } of rest) {
      const full = await process.inFull(facts, { rule, mergedFrom: [] });
      const anew = evaluateReadings(rule, full, facts.asOfMs, verdict.reading).verdict;
      expect({ ...verdict, notes: [] }).toEqual({ ...anew, notes: [] });
      expect(otherReading).toBeNull();
    }
  });

  it('is read on where what came late lies after that hour', async () => {
    await tell(reading({ bay: batch.bay, position: 'late', occurredAt: at(95) }));
    expect((await judge()).from).toEqual([Date.parse(at(95))]);
  });

  it('is read anew after a reading that came late, and says what it says', async () => {
    const before = await judge();
    const cold = { value: 20, unit: 'C' };
    await tell(reading({ bay: batch.bay, position: 'late', occurredAt: at(94.99), temperature: cold }));
    const after = await judge();
    expect(after.from).toEqual(anew);
    expect(after.hours).toBeLessThan(before.hours);
    expect((await judge()).from).not.toEqual(anew);
  });

  it('is read anew after a check that was typed in late, and again after it was voided', async () => {
    const before = await judge();
    const readings = [{ position: 'core-9', temperature: { value: 20, unit: 'C' } }];
    const checks = `/batches/${batch.id}/checks`;
    const check = await made(api, checks, { occurredAt: at(50), readings }, yard.operator.token);
    const cold = await judge();
    expect([cold.from, cold.hours < before.hours]).toEqual([anew, true]);
    const why = { reason: 'Read in the wrong pile' };
    await api.call('POST', `${checks}/${check.id as string}/void`, { as: yard.manager.token, body: why });
    const voided = await judge();
    expect([voided.from, voided.hours]).toEqual([anew, before.hours]);
  });

  it('is read anew after a turn that was dated back', async () => {
    const turned = await made(api, `/batches/${batch.id}/turns`, { occurredAt: at(30) }, yard.operator.token);
    expect(turned.id).toBeTruthy();
    const after = await judge();
    expect([after.from, after.verdict.turnsCredited]).toEqual([anew, 1]);
  });

  it('is read anew after raw material that was typed in late', async () => {
    const before = await judge();
    const fresh = { from: 'stock', material: 'leaves', mass: { value: 25, unit: 'kg' }, occurredAt: at(40) };
    await made(api, `/batches/${batch.id}/amendments`, fresh, yard.manager.token);
    const after = await judge();
    expect([after.from, after.hours < before.hours]).toEqual([anew, true]);
  });

  it('is read anew after a move that was dated back, and after its stay in a bay was corrected', async () => {
    const move = { bay: yard.freeBay(), occurredAt: at(60) };
    await made(api, `/batches/${batch.id}/moves`, move, yard.operator.token);
    const moved = await judge();
    expect(moved.from).toEqual(anew);
    expect(moved.verdict.creditedSpans.at(-1)!.toMs).toBeLessThanOrEqual(Date.parse(at(60)));
    await asSuperuser(api.databaseUrl, async (client) => {
      await client.query(`UPDATE bay_stay SET to_at = $2 WHERE batch_id = $1 AND to_at IS NOT NULL`, [
        batch.id,
        at(30),
      ]);
    });
    const corrected = await judge();
    expect(corrected.from).toEqual(anew);
    expect(corrected.verdict.creditedSpans.at(-1)!.toMs).toBeLessThanOrEqual(Date.parse(at(30)));
  });

  it('is judged by each rule and reading on its own', async () => {
    const facts = await process.facts(batch.id);
    const other = { ruleCode: 'us-503-pfrp-static-aerated' };
    spy.mockClear();
    const first = await process.judge(facts, other);
    expect(asked()).toMatchObject([{ fromMs: undefined }]);
    expect(first!.verdict.rule.code).toBe('us-503-pfrp-static-aerated');
    const cumulative = await process.judge(await process.facts(batch.id), { reading: 'cumulative' });
    const again = await process.judge(await process.facts(batch.id), other);
    expect(again!.verdict).toEqual(first!.verdict);
    expect(cumulative!.verdict.rule.code).toBe('us-503-pfrp-windrow');
  });

  it('is answered with its loggers over HTTP and in the record, day by day', async () => {
    const answer = await api.call('GET', `/batches/${batch.id}/process`, { as: yard.operator.token });
    expect([answer.status, answer.body.verdict?.creditedHours ?? answer.body.creditedHours]).toEqual([
      200,
      (await judge()).hours,
    ]);
    const record = await api.call('GET', `/batches/${batch.id}/record.json`, { as: yard.operator.token });
    const days = record.body.verdict.days as { loggerReadings: number }[];
    expect(days.reduce((sum, { loggerReadings }) => sum + loggerReadings, 0)).toBe(480);
  });
});
