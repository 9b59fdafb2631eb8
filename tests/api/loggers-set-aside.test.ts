import { v7 } from 'uuid';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { evaluateReadings } from '#libs/process';
import { LoggerSeriesService } from '../../apps/api/loggers/logger-series.service.js';
import { ProcessService } from '../../apps/api/monitoring/process.service.js';
import { startApi, type TestApi } from '../support/api.js';
import { HOUR_MS, hoursAfter } from '../support/heat.js';
import { type DeviceKey, makeDevice, reading, send } from '../support/loggers.js';
import { made, makePersona, makeProgramme, type Programme } from '../support/programme.js';
import { BEGUN_AT, lotAtHub1, makeYard, putRelease, sqlOf, type Yard } from '../support/yard-work.js';

const PATH = '/logger-readings/set-aside';
const REASON = 'Probes lay in the aisle while the pile was turned';

/** A pile of 60 °C for 120 hours, and the air of a turn at its 50th: the probes were pulled out for an hour. */
describe('readings of a logger that are set aside', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let process: ProcessService;
  let loggers = 0;
  let batch: { id: string; code: string; bay: string };
  let device: DeviceKey;

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    process = api.app.get(ProcessService);
  });
  afterAll(() => api.stop());

  const at = (hours: number) => hoursAfter(BEGUN_AT, hours);
  const turned = { from: at(50), to: at(50.75), reason: REASON };

  beforeEach(async () => {
    const bay = yard.freeBay();
    const begun = await yard.begin({
      bay,
      method: 'static-aerated',
      processRule: 'us-503-pfrp-static-aerated',
    });
    const items = [{ dropOffId: await lotAtHub1(api, programme, 100_000) }];
    await made(
      api,
      `/batches/${begun.id as string}/assignments`,
      { items, occurredAt: at(1) },
      yard.manager.token,
    );
    batch = { id: begun.id as string, code: begun.code as string, bay };
    loggers += 1;
    const facts = { siteId: yard.yard.id, code: `L-${loggers}`, bays: [bay] };
    device = await makeDevice(api, facts, yard.manager.token);
    const quarters = Array.from({ length: 480 }, (_, index) => index / 4);
    const told = quarters.flatMap((hour) =>
      ['core-1', 'core-2'].map((position) =>
        reading({ bay, position, occurredAt: at(hour), temperature: { value: celsius(hour), unit: 'C' } }),
      ),
    );
    expect((await send(api, device.key, told)).body).toMatchObject({ new: 960, refused: [] });
  });
  afterEach(() => vi.restoreAllMocks());

  /** Never the same for long, so that nothing else speaks against the probes. */
  const celsius = (hour: number) => (hour >= 50 && hour < 51 ? 15 : 60 + (Math.floor(hour) % 5) / 10);
  const post = (body: object, as = yard.operator.token) =>
    api.call('POST', PATH, { as, body: { deviceId: device.id, ...body } });
  const listed = (as = yard.operator.token, query = '') =>
    api.call('GET', `${PATH}?deviceId=${device.id}${query}`, { as });
  const lift = (id: string, reason = 'It was the other pile', as = yard.manager.token) =>
    api.call('POST', `${PATH}/${id}/void`, { as, body: { reason } });
  const verdict = async () => {
    const answer = await api.call('GET', `/batches/${batch.id}/process`, { as: yard.operator.token });
    const { status, creditedHours, cautions, notes } = answer.body;
    return { status, creditedHours, cautions: cautions as { kind: string; text: string }[], notes };
  };
  const faultOf = ({ status, body }: Awaited<ReturnType<typeof post>>) => [status, body.errors?.[0]?.pointer];

  it('no longer break a run, and a void of that lets them break it again', async () => {
    const broken = await verdict();
    // From the 51st hour on, and silent since.
    expect(broken).toMatchObject({ status: 'insufficient-data', creditedHours: 68.75, cautions: [] });
    const set = await post(turned);
    expect([set.status, set.body]).toEqual([
      201,
      {
        ...{ id: expect.any(String), deviceId: device.id, bay: null, batchId: null, position: null },
        ...{ from: at(50), to: at(50.75), reason: REASON, readings: 8 },
        ...{ recordedAt: expect.any(String), recordedBy: yard.operator.id, voidedAt: null, voidReason: null },
      },
    ]);
    const whole = await verdict();
    expect(whole).toMatchObject({ status: 'met', creditedHours: 118.75 });
    expect((await lift(set.body.id as string)).status).toBe(200);
    expect(await verdict()).toEqual(broken);
  });

  it('are told of by the verdict, its gate and the record, where they lie and why', async () => {
    await post({ ...turned, position: 'core-2' });
    await post(turned);
    const { cautions, notes } = await verdict();
    expect(cautions).toMatchObject([
      { kind: 'set-aside', instrument: device.code, from: at(50), to: at(50.75) },
      { kind: 'set-aside', instrument: device.code, from: at(50), to: at(50.75) },
    ]);
    expect(cautions.map(({ text }) => text)).toEqual([
      expect.stringMatching(
        /^4 readings of logger L-\d+ at core-2 from 5 Mar 2026 10:00 to 5 Mar 2026 10:45 were set aside on .+ by B\. T\., and/,
      ),
      expect.stringMatching(
        new RegExp(`^8 readings of logger L-\\d+ from .+ and were not used: ${REASON}\\.$`),
      ),
    ]);
    // "Their readings are used all the same" would be wrong of them.
    expect(notes).not.toContainEqual(expect.stringContaining('used all the same'));
    const record = await api.call('GET', `/batches/${batch.id}/record.json`, { as: yard.operator.token });
    const onPaper = (record.body.verdict.cautions as { text: string }[]).map(({ text }) => text);
    expect(onPaper).toEqual(cautions.map(({ text }) => text));
    const gates = await api.call('GET', `/batches/${batch.id}/gates`, { as: yard.operator.token });
    expect(JSON.stringify(gates.body)).toContain(REASON);
  });

  it('are left out of what is held against a check, and their hours out of what is doubted', async () => {
    const readings = [{ position: 'core-1', temperature: { value: 60, unit: 'C' } }];
    await made(api, `/batches/${batch.id}/checks`, { occurredAt: at(50.4), readings }, yard.operator.token);
    const kinds = async () => (await verdict()).cautions.map(({ kind }) => kind);
    const doubts = (await process.facts(batch.id)).process.cautions!.map(({ kind }) => kind);
    expect(doubts).toEqual(['disagreement']);
    await post({ from: at(49.8), to: at(51), reason: REASON });
    expect(await kinds()).toEqual(['set-aside']);
  });

  it('stay where they are, and are told hour by hour as before', async () => {
    const hours = () =>
      api.call('GET', `/logger-readings?deviceId=${device.id}&limit=200`, { as: yard.operator.token });
    const before = await hours();
    const rows = () => sqlOf(api).query('SELECT count(*) AS n FROM logger_reading');
    const kept = await rows();
    await post(turned);
    expect(before.body.items).toHaveLength(200);
    expect((await hours()).body).toEqual(before.body);
    expect(await rows()).toEqual(kept);
  });

  it('are of one probe where one is named: the other still speaks', async () => {
    await post({ ...turned, position: 'core-1' });
    expect((await verdict()).status).toBe('insufficient-data');
    await post({ ...turned, position: 'core-2' });
    expect((await verdict()).status).toBe('met');
  });

  it('are of one bay where one is named: probes elsewhere still count', async () => {
    const other = yard.freeBay();
    const facts = { siteId: yard.yard.id, code: `M-${loggers}`, bays: [other], batchIds: [batch.id] };
    const both = await makeDevice(api, facts, yard.manager.token);
    await send(api, both.key, [
      reading({ batchId: batch.id, occurredAt: at(50) }),
      reading({ bay: other, occurredAt: at(50) }),
    ]);
    const named = async (place: object) => (await post({ ...turned, ...place, deviceId: both.id })).body;
    expect(await named({})).toMatchObject({ readings: 2, bay: null, batchId: null });
    expect(await named({ bay: other })).toMatchObject({ readings: 1, bay: other, batchId: null });
    expect((await verdict()).cautions.filter(({ text }) => text.includes(both.code))).toHaveLength(1);
    expect(await named({ batchId: batch.id })).toMatchObject({ readings: 1, bay: null, batchId: batch.id });
    expect((await verdict()).cautions.filter(({ text }) => text.includes(both.code))).toHaveLength(2);
  });

  it('are those of the first and of the last instant too, to the millisecond, and those that come in later', async () => {
    const { body } = await post({ from: at(50), to: at(50.5), reason: REASON });
    expect(body.readings).toBe(6);
    const shown = async () => {
      const loggers = api.app.get(LoggerSeriesService);
      const rule = { governing: 'coldest', minimumProbes: 1, minimumZones: 1, minimumDepthMm: null } as const;
      const [series] = await loggers.series(batch.id, rule, { throughMs: Date.parse(at(51)) });
      const from = Date.parse(at(49.75));
      return [...series!.atMs].filter((ms) => ms >= from).map((ms) => (ms - Date.parse(at(50))) / HOUR_MS);
    };
    expect(await shown()).toEqual([-0.25, 0.75, 1]);
    const late = [1, 1_800_000, 1_800_001].map((ms) =>
      reading({
        bay: batch.bay,
        position: 'core-1',
        occurredAt: new Date(Date.parse(at(50)) + ms).toISOString(),
      }),
    );
    await send(api, device.key, late);
    expect(await shown()).toEqual([-0.25, 1_800_001 / HOUR_MS, 0.75, 1]);
    const list = await listed();
    expect(list.body.items[0].readings).toBe(7);
  });

  it('make a verdict that is read on begin anew, and so does their void, where they touch what was read', async () => {
    const judge = async () => {
      const spy = vi.spyOn(api.app.get(LoggerSeriesService), 'series');
      const facts = await process.facts(batch.id);
      const ruled = (await process.judge(facts))!;
      const from = spy.mock.calls.map(([, , asked]) => asked.fromMs);
      spy.mockRestore();
      const full = await process.inFull(facts, ruled);
      const anew = evaluateReadings(ruled.rule, full, facts.asOfMs, ruled.verdict.reading);
      const { notes: _, ...verdict } = ruled.verdict;
      const { notes: __, ...verdictAnew } = anew.verdict;
      expect(verdict).toEqual(verdictAnew);
      return { from, status: verdict.status };
    };
    const readOn = [Date.parse(at(95))];
    expect(await judge()).toEqual({ from: [undefined], status: 'insufficient-data' });
    expect(await judge()).toEqual({ from: readOn, status: 'insufficient-data' });
    const { body } = await post(turned);
    expect(await judge()).toEqual({ from: [undefined], status: 'met' });
    expect(await judge()).toEqual({ from: readOn, status: 'met' });
    await post({ ...turned, from: at(100), to: at(101) });
    expect((await judge()).from).toEqual(readOn);
    await lift(body.id as string);
    expect(await judge()).toEqual({ from: [undefined], status: 'insufficient-data' });
  });

  it('are set aside once, however often that is sent, even at the same moment', async () => {
    const body = { id: v7(), ...turned };
    const answers = await Promise.all([1, 2, 3].map(() => post(body)));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    expect(new Set(answers.map(({ text }) => text)).size).toBe(1);
    const other = await post({ ...body, reason: 'Something else' });
    expect([other.status, other.body.type]).toEqual([409, 'urn:heapwright:problem:other-body']);
    const list = await listed();
    expect([list.status, list.body]).toEqual([200, { items: [answers[0]!.body], next: null }]);
    const lifted = await lift(body.id);
    expect(lifted.body).toMatchObject({ voidReason: 'It was the other pile', voidedAt: expect.any(String) });
    expect((await lift(body.id)).body).toEqual(lifted.body);
    expect((await lift(body.id, 'For another reason')).status).toBe(409);
    const audit = await sqlOf(api).query<{ action: string }>(
      'SELECT action FROM audit_event WHERE subject_id = $1 ORDER BY seq',
      [body.id],
    );
    expect(audit.map(({ action }) => action)).toEqual([
      'logger-readings.set-aside',
      'logger-readings.set-aside-voided',
    ]);
  });

  it('are listed page by page, the latest first', async () => {
    for (const hour of [10, 30, 20]) await post({ from: at(hour), to: at(hour + 1), reason: REASON });
    const page = async (cursor?: string) => {
      return (await listed(undefined, `&limit=2${cursor ? `&cursor=${cursor}` : ''}`)).body;
    };
    const first = await page();
    const second = await page(first.next as string);
    const froms = [...first.items, ...second.items].map(({ from }: { from: string }) => from);
    expect([froms, second.next]).toEqual([[at(30), at(20), at(10)], null]);
  });

  it('lie in a span that can be: of the past, of at most 7 days, of a probe and place that are the logger’s', async () => {
    const soon = (hours: number) => new Date(Date.now() + hours * HOUR_MS).toISOString();
    const cases: [string, object][] = [
      ['/to', { to: turned.from }],
      ['/to', { from: at(50), to: at(49) }],
      ['/to', { to: at(50 + 168.001) }],
      ['/to', { from: soon(-1), to: soon(1) }],
      ['/from', { from: soon(1), to: soon(2) }],
      ['/from', { from: '2026-02-30T10:00:00Z' }],
      ['/reason', { reason: ' ' }],
      ['/position', { position: 'core-3' }],
      ['/bay', { bay: 'H40' }],
      ['/batchId', { batchId: batch.id }],
      ['/batchId', { batchId: batch.id, bay: batch.bay }],
      ['/deviceId', { deviceId: v7() }],
    ];
    for (const [pointer, wrong] of cases) {
      expect(faultOf(await post({ ...turned, ...wrong })), JSON.stringify(wrong)).toEqual([422, pointer]);
    }
    expect((await post({ ...turned, to: at(50 + 168) })).status).toBe(201);
    const kept = await sqlOf(api).query('SELECT id FROM logger_set_aside WHERE device_id = $1', [device.id]);
    expect(kept).toHaveLength(1);
  });

  it('are for operators of the site, and their void for its managers', async () => {
    const { body } = await post(turned);
    const id = body.id as string;
    const { hub2, people } = programme;
    const stranger = await makePersona(api, `Jo Fenn ${loggers}`, [{ role: 'manager', siteId: hub2.id }]);
    const asked = { deviceId: device.id, ...turned };
    expect((await api.call('POST', PATH, { body: asked })).status).toBe(401);
    expect((await api.call('GET', `${PATH}?deviceId=${device.id}`)).status).toBe(401);
    expect((await api.call('POST', `${PATH}/${id}/void`, { body: { reason: 'No' } })).status).toBe(401);
    expect((await post(turned, people.volunteer.token)).status).toBe(403);
    expect((await post(turned, stranger.token)).body.type).toBe('urn:heapwright:problem:other-site');
    expect((await post(turned, device.key)).status).toBe(403);
    expect((await lift(id, 'No', yard.operator.token)).status).toBe(403);
    expect((await lift(id, 'No', stranger.token)).body.type).toBe('urn:heapwright:problem:other-site');
    expect((await lift(v7())).status).toBe(404);
    const foreign = await listed(stranger.token);
    expect([foreign.status, foreign.body.items]).toEqual([200, []]);
  });

  it('are not of a batch whose record is closed, nor can they be brought back into one', async () => {
    const before = await post(turned);
    await made(
      api,
      `/batches/${batch.id}/stage`,
      { to: 'condemned', reason: 'Glass in it', occurredAt: at(130) },
      yard.manager.token,
    );
    const condemned = await verdict();
    for (const answer of [await post({ ...turned, from: at(20) }), await lift(before.body.id as string)]) {
      expect([answer.status, answer.body.type]).toEqual([409, 'urn:heapwright:problem:stage-closed']);
      expect(answer.body.detail).toContain(`${batch.code}, which is condemned`);
    }
    expect(await verdict()).toEqual(condemned);
    // What the bay's logger tells afterwards is of no batch, or of another one.
    const later = { from: at(131), to: at(132), reason: REASON };
    expect((await post(later)).status).toBe(201);
  });

  it('are not of a batch that is released either', async () => {
    const before = await post(turned);
    await yard.enter(batch.id, 'active', 'curing');
    await putRelease(api, yard.manager.id, batch.id);
    for (const answer of [await post({ ...turned, from: at(20) }), await lift(before.body.id as string)]) {
      expect([answer.status, answer.body.type]).toEqual([409, 'urn:heapwright:problem:stage-closed']);
      expect(answer.body.detail).toContain(`${batch.code}, which is released`);
    }
  });

  it('are of nothing that a cure is looked through for', async () => {
    const instants = async () => {
      const [series] = await process.hottest(await process.facts(batch.id), Date.parse(at(40)));
      return [...series!.atMs].filter((ms) => ms >= Date.parse(turned.from) && ms <= Date.parse(turned.to));
    };
    expect(await instants()).toHaveLength(4);
    await post(turned);
    expect(await instants()).toEqual([]);
  });

  it('cannot be changed or deleted in the database, nor span more than 7 days', async () => {
    const { body } = await post(turned);
    const sql = sqlOf(api);
    for (const statement of [
      `UPDATE logger_set_aside SET to_at = to_at + interval '1 hour'`,
      'DELETE FROM logger_set_aside',
      'TRUNCATE logger_set_aside',
    ]) {
      await expect(sql.query(statement), statement).rejects.toMatchObject({ constraint: 'records_keep' });
    }
    const copy = (to: string) =>
      sql.query(
        `INSERT INTO logger_set_aside (id, device_id, from_at, to_at, reason, body_sha256, recorded_by)
         SELECT $2, device_id, from_at, $3, reason, body_sha256, recorded_by FROM logger_set_aside WHERE id = $1`,
        [body.id, v7(), to],
      );
    for (const to of [at(50), at(50 + 168.001)]) {
      await expect(copy(to), to).rejects.toMatchObject({ constraint: 'logger_set_aside_span' });
    }
  });
});
