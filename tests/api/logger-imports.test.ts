import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { type DeviceKey, makeDevice } from '../support/loggers.js';
import { made, makePersona, makeProgramme, type Programme } from '../support/programme.js';
import { makeYard, sqlOf, type Yard } from '../support/yard-work.js';

setFlagsFromString('--expose-gc');
const collectGarbage = runInNewContext('gc') as () => void;

/** What is held, and not only not yet given back. */
function liveBytes(): number {
  collectGarbage();
  const { heapUsed, external } = process.memoryUsage();
  return heapUsed + external;
}

// Batches of the yard begin on 3 March 2026, 8:00 in Denver; clocks are put forward on 8 March at 2:00.
describe('imports of logger readings', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let loggers = 0;
  /** Of which nothing is ever kept. */
  let silent: Logger;

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    silent = await lay();
  });
  afterAll(() => api.stop());

  interface Logger {
    device: DeviceKey;
    bay: string;
    batchId: string;
  }
  /** A logger in the bay of a batch of its own. */
  async function lay(): Promise<Logger> {
    loggers += 1;
    const bay = yard.freeBay();
    const { id: batchId } = await yard.begin({ bay });
    const facts = { siteId: yard.yard.id, code: `C-${loggers}`, bays: [bay] };
    return { device: await makeDevice(api, facts, yard.manager.token), bay, batchId };
  }
  const body = ({ device, bay }: Logger, lines: readonly string[], more: object = {}) => ({
    ...{ fileName: 'card.csv', csv: ['Time,P1,P2', ...lines, ''].join('\n'), dryRun: false },
    ...{ deviceId: device.id, bay, unit: 'C', columns: { time: 'Time' } },
    probes: [
      { name: 'P1', position: 'core-1', zone: 'core', depth: { value: 18, unit: 'in' } },
      { name: 'P2', position: 'edge-1' },
    ],
    ...more,
  });
  const post = (sent: object, as = yard.manager.token) =>
    api.call('POST', '/logger-imports', { as, body: sent });
  const stored = async ({ device }: Logger) => {
    const rows = await sqlOf(api).query<{ position: string; at: Date; deciC: number }>(
      `SELECT p.position, r.at, r.temperature_deci_c AS "deciC" FROM logger_reading r
       JOIN logger_probe p ON p.id = r.probe_id JOIN device_target t ON t.id = p.target_id
       WHERE t.device_id = $1 ORDER BY r.at, p.position`,
      [device.id],
    );
    return rows.map(({ position, at, deciC }) => [position, at.toISOString(), deciC]);
  };
  const pointersOf = (answer: { body: { errors: { pointer: string }[] } }) =>
    answer.body.errors.map(({ pointer }) => pointer);

  it('are for managers of the site of the logger', async () => {
    const sent = body(silent, ['2026-03-05 10:00,60,50']);
    expect((await api.call('POST', '/logger-imports', { body: sent })).status).toBe(401);
    expect((await post(sent, yard.operator.token)).body.type).toBe('urn:heapwright:problem:not-allowed');
    const { otherManager, manager } = programme.people;
    for (const person of [otherManager, manager]) {
      expect((await post(sent, person.token)).body.type).toBe('urn:heapwright:problem:other-site');
    }
    expect((await api.call('GET', '/logger-imports')).status).toBe(401);
    expect((await api.call('GET', '/logger-imports', { as: yard.operator.token })).status).toBe(403);
    expect(await stored(silent)).toEqual([]);
  });

  it('keep every reading in the time of the yard, with its place, and tell what was kept', async () => {
    const logger = await lay();
    const lines = ['2026-03-05 10:00,60,50.5', '2026-03-05 10:01,60.1,'];
    const { status, body: report } = await post(body(logger, lines));
    expect(status).toBe(201);
    expect(report).toMatchObject({
      ...{ fileName: 'card.csv', dryRun: false, faults: [], notes: [] },
      counts: {
        lines: 2,
        readings: 3,
        new: 3,
        known: 0,
        blank: 1,
        refused: 0,
        leftOut: 0,
        warned: 0,
        withoutBatch: 0,
      },
      ...{ from: '2026-03-05T17:00:00.000Z', to: '2026-03-05T17:01:00.000Z' },
    });
    expect(await stored(logger)).toEqual([
      ['core-1', '2026-03-05T17:00:00.000Z', 600],
      ['edge-1', '2026-03-05T17:00:00.000Z', 505],
      ['core-1', '2026-03-05T17:01:00.000Z', 601],
    ]);
    const [placement] = await sqlOf(api).query(
      `SELECT l.zone, l.depth_mm AS "depthMm" FROM logger_placement l JOIN logger_probe p ON p.id = l.probe_id
       JOIN device_target t ON t.id = p.target_id WHERE t.device_id = $1 AND p.position = 'core-1'`,
      [logger.device.id],
    );
    expect(placement).toEqual({ zone: 'core', depthMm: 457 });
    const events = await auditOf(api, 'import.committed');
    const event = events.find(({ subjectId }) => subjectId === report.id);
    expect(event).toMatchObject({ siteId: yard.yard.id, detail: { device: logger.device.code } });
    const as = yard.manager.token;
    expect((await api.call('GET', `/logger-imports/${report.id}`, { as })).body).toEqual(report);
    const { items } = (await api.call('GET', '/logger-imports', { as })).body;
    expect(items[0]).toMatchObject({ id: report.id, siteId: yard.yard.id, counts: report.counts });
    expect((await api.call('GET', `/imports/${report.id}`, { as })).status).toBe(404);
    expect((await api.call('GET', '/imports', { as })).body.items).toEqual([]);
  });

  it('know the same file again: under its id it is answered as before, under another it adds nothing', async () => {
    const logger = await lay();
    const sent = body(logger, ['2026-03-05 10:00,60,50'], { id: v7() });
    const first = await post(sent);
    const again = await post(sent);
    expect([first.status, again.status]).toEqual([201, 200]);
    expect(again.body).toEqual(first.body);
    const other = await post({ ...sent, id: v7() });
    expect(other.status).toBe(201);
    expect(other.body.counts).toMatchObject({ new: 0, known: 2 });
    expect((await post({ ...sent, unit: 'F' })).status).toBe(409);
    expect(await stored(logger)).toHaveLength(2);
  });

  it('tell in a dry run what would be kept, and keep nothing', async () => {
    const logger = await lay();
    const lines = ['2026-03-05 10:00,60,50', '2026-03-05 10:01,101,-40'];
    await post(body(logger, lines.slice(0, 1)));
    const dry = await post(body(logger, lines, { dryRun: true }));
    expect(dry.status).toBe(200);
    expect(dry.body).toMatchObject({ id: null, counts: { new: 2, known: 2, warned: 2 } });
    expect(await stored(logger)).toHaveLength(2);
  });

  it('keep nothing while a cell is refused, and name it by line and column', async () => {
    const logger = await lay();
    const lines = ['2026-03-05 10:00,60,50', '2026-03-05 10:01,ERR,51', '2026-03-05 10:02,61,151', 'x,62,52'];
    const dry = await post(body(logger, lines, { dryRun: true }));
    expect(dry.status).toBe(200);
    expect(dry.body.counts).toMatchObject({ lines: 4, readings: 5, refused: 2, new: 0 });
    expect(dry.body.faults).toEqual([
      { line: 3, column: 'P1', detail: expect.stringContaining('"ERR" is no plain number') },
      { line: 5, column: 'Time', detail: expect.stringContaining('"x" is no date') },
    ]);
    const refused = await post(body(logger, lines));
    expect(refused.status).toBe(422);
    expect(refused.body.errors[0]).toEqual({
      pointer: '/csv',
      detail: expect.stringContaining('line 3, "P1": "ERR" is no plain number'),
    });
    const hot = await post(body(logger, lines, { leaveOut: [3, 5] }));
    expect(hot.body.errors).toEqual([
      { pointer: '/csv', detail: expect.stringContaining('line 4, "P2": 151 C is hotter than can be') },
    ]);
    expect(await stored(logger)).toEqual([]);
    const kept = await post(body(logger, lines, { leaveOut: [3, 4, 5] }));
    expect([kept.status, kept.body.counts]).toMatchObject([201, { lines: 4, new: 2, leftOut: 3 }]);
  });

  it('hold a file against what is kept: another figure for the same instant is refused', async () => {
    const logger = await lay();
    await post(body(logger, ['2026-03-05 10:00,60,50']));
    const other = await post(body(logger, ['2026-03-05 10:00,61,50', '2026-03-05 10:01,61,50']));
    expect(other.body.errors).toEqual([
      { pointer: '/csv', detail: 'line 2, "P1": was kept before for this probe and time with 60 C' },
    ]);
    expect(await stored(logger)).toHaveLength(2);
  });

  it('take °F, commas for decimals, semicolons, days first, and words for no reading', async () => {
    const logger = await lay();
    const probe = { name: '1', position: 'core-1' };
    const report = await post(
      body(logger, [], {
        csv: 'Day;Clock;Sensor;Value\n5/3/2026;10:00;1;140,9\n5/3/2026;10:01;1;OPEN\n5/3/2026;10:02;1;\n',
        columns: { day: 'Day', time: 'Clock', probe: 'Sensor', temperature: 'Value' },
        ...{ probes: [probe], unit: 'F', decimalMark: ',', delimiter: ';', dateForm: 'day-month-year' },
        ...{ timeZone: '-07:00', noReading: ['OPEN'] },
      }),
    );
    expect([report.status, report.body.counts]).toMatchObject([201, { readings: 1, blank: 2 }]);
    // (140.9 − 32) × 5/9 = 60.5 °C
    expect(await stored(logger)).toEqual([['core-1', '2026-03-05T17:00:00.000Z', 605]]);
  });

  it('refuse times that clocks never showed, and ask which is meant of those they showed twice', async () => {
    const logger = await lay();
    const gap = await post(body(logger, ['2026-03-08 02:30,60,50'], { dryRun: true }));
    expect(gap.body.faults[0].detail).toContain('no clock in America/Denver showed 2026-03-08 02:30');
    const twice = ['2025-11-02 01:30,60,50', '2025-11-02 01:30,61,51'];
    const unsaid = await post(body(logger, twice, { dryRun: true }));
    expect(unsaid.body.faults[0].detail).toContain('say in repeatedHour which of the two is meant');
    const said = await post(body(logger, twice, { repeatedHour: 'in-order' }));
    expect(said.status).toBe(201);
    expect(said.body.notes).toEqual([expect.stringContaining('2 lines have times that they showed twice')]);
    expect((await stored(logger)).map(([, at]) => at)).toEqual([
      ...['2025-11-02T07:30:00.000Z', '2025-11-02T07:30:00.000Z'],
      ...['2025-11-02T08:30:00.000Z', '2025-11-02T08:30:00.000Z'],
    ]);
  });

  it('end with the key of the logger: what another may have told of the bay by then is refused', async () => {
    const logger = await lay();
    const facts = { siteId: yard.yard.id, code: 'C-after', bays: [logger.bay] };
    await api.call('POST', `/device-keys/${logger.device.id}/revoke`, { as: yard.manager.token });
    await makeDevice(api, facts, yard.manager.token);
    const late = new Date(Date.now() + 60_000).toISOString();
    const refused = await post(body(logger, ['2026-03-05 10:00,60,50', `${late},61,51`]));
    const detail = expect.stringMatching(
      /^line 3, "Time": is after the key of this logger ended, at \S+Z: it no longer lay there$/,
    );
    expect([refused.status, refused.body.errors]).toEqual([
      422,
      [0, 1].map(() => ({ pointer: '/csv', detail })),
    ]);
    const kept = await post(body(logger, ['2026-03-05 10:00,60,50', `${late},61,51`], { leaveOut: [3] }));
    expect([kept.status, kept.body.counts.new]).toEqual([201, 2]);
  });

  it('count what is of a bay in which no batch lay', async () => {
    const logger = await lay();
    const lines = ['2026-03-02 10:00,60,50', '2026-03-05 10:00,60,50'];
    const { status, body: report } = await post(body(logger, lines));
    expect([status, report.counts]).toMatchObject([201, { new: 4, withoutBatch: 2 }]);
  });

  it('tell of the same file at other sites only those who work there', async () => {
    const site = await made<{ id: string }>(api, '/sites', {
      ...{
        code: 'KR',
        name: 'Kettle Road yard',
        timeZone: 'America/Denver',
        takesDropOffs: false,
        runsBatches: true,
      },
      ...{ jurisdictionId: programme.jurisdictions.larkHollow.id, bays: [{ code: 'K1' }] },
    });
    const other = await makePersona(api, 'Edda Marlow', [{ role: 'manager', siteId: site.id }]);
    const device = await makeDevice(api, { siteId: site.id, code: 'K-1', bays: ['K1'] });
    const lines = ['2026-03-05 10:00,44,43'];
    await post(body(await lay(), lines));
    const there = await post(body({ device, bay: 'K1', batchId: '' }, lines), other.token);
    expect([there.status, there.body.counts.new, there.body.notes]).toEqual([201, 2, []]);
    const again = await post(body(await lay(), lines));
    expect(again.body.notes).toEqual([expect.stringMatching(/imported before \([^,]+\)/)]);
    const everywhere = await post(body(await lay(), lines), api.coordinator);
    expect(everywhere.body.notes).toEqual([expect.stringMatching(/imported before \([^,]+, [^,]+, [^,]+\)/)]);
  });

  it('may be of several bays and batches that the logger tells of', async () => {
    const one = await lay();
    const other = await yard.begin({});
    const facts = { siteId: yard.yard.id, code: 'C-both', batchIds: [one.batchId, other.id] };
    const device = await makeDevice(api, facts, yard.manager.token);
    const settings = { bay: undefined, batchId: one.batchId, deviceId: device.id };
    const probes = [
      { name: 'P1', position: 'core-1' },
      { name: 'P2', position: 'core-1', batchId: other.id.toUpperCase() },
    ];
    const kept = await post(body(one, ['2026-03-05 10:00,60,50'], { ...settings, probes }));
    expect([kept.status, kept.body.counts]).toMatchObject([201, { new: 2 }]);
    const same = probes.map((probe) => ({ ...probe, batchId: other.id }));
    const clash = await post(body(one, ['2026-03-05 10:00,60,50'], { ...settings, probes: same }));
    expect(pointersOf(clash)).toEqual(['/probes/1/position']);
    const early = await post(body(one, ['2026-03-03 07:59,60,50'], { ...settings, probes }));
    expect(early.body.errors[0].detail).toMatch(/^line 2, "Time": is before HS-/);
  });

  it.each<[string, object, string]>([
    ['a logger that is not there', { deviceId: v7() }, '/deviceId'],
    ['neither bay nor batch', { bay: undefined }, '/bay'],
    ['a bay and a batch', { batchId: v7() }, '/bay'],
    ['a bay that the logger does not tell of', { bay: 'H40' }, '/bay'],
    ['a batch that the logger does not tell of', { bay: undefined, batchId: v7() }, '/batchId'],
    ['a zone of no clock', { timeZone: 'Mars/Olympus' }, '/timeZone'],
    ['a column that is not there', { columns: { time: 'When' } }, '/columns/time'],
    ['half of the long form', { columns: { time: 'Time', probe: 'P1' } }, '/columns/probe'],
    ['a line that is not there', { leaveOut: [9] }, '/leaveOut/0'],
    ['no file', { csv: undefined }, '/csv'],
    ['two files', { csvBase64: 'YQ==' }, '/csv'],
    ['bytes of another script', { csv: undefined, csvBase64: '/w==' }, '/csvBase64'],
    ['no probes', { probes: [] }, '/probes'],
    ['an unknown unit', { unit: 'K' }, '/unit'],
    ['a field of no meaning', { colour: 'red' }, '/colour'],
  ])('refuse %s', async (_, change, pointer) => {
    const answer = await post(body(silent, ['2026-03-05 10:00,60,50'], change));
    expect([answer.status, pointersOf(answer)]).toEqual([422, [pointer]]);
    expect(await stored(silent)).toEqual([]);
  });

  it('keep a file of two deliveries at once only once', async () => {
    const logger = await lay();
    const lines = Array.from(
      { length: 300 },
      (_, at) => `2026-03-05 ${10 + Math.floor(at / 60)}:${String(at % 60).padStart(2, '0')},60,50`,
    );
    const sent = body(logger, lines, { id: v7() });
    const answers = await Promise.all([post(sent), post(sent), post({ ...sent, id: v7() })]);
    expect(answers.map(({ status }) => status).toSorted()).toEqual([200, 201, 201]);
    expect(await stored(logger)).toHaveLength(600);
  });

  it('take half a million lines without holding them', async () => {
    const logger = await lay();
    const from = Date.parse('2025-03-04T00:00:00Z');
    const minute = (at: number) => new Date(from + at * 60_000).toISOString().slice(0, 16);
    const csv = `Time,P1\n${Array.from({ length: 500_000 }, (_, at) => `${minute(at)},${50 + (at % 90) / 10}`).join('\n')}`;
    const settings = { csv, probes: [{ name: 'P1', position: 'core-1' }], timeZone: 'UTC' };
    const restBytes = liveBytes();
    let mostBytes = 0;
    const watch = setInterval(() => {
      mostBytes = Math.max(mostBytes, liveBytes());
    }, 500);
    const { status, body: report } = await post(body(logger, [], settings));
    clearInterval(watch);
    expect([status, report.counts]).toMatchObject([201, { lines: 500_000, new: 500_000 }]);
    // The body is 11 MB, and is there as bytes and as text; its million cells would be many times that.
    expect(mostBytes).toBeGreaterThan(0);
    expect(mostBytes - restBytes).toBeLessThan(50 * 1_048_576);
  }, 180_000);
});
