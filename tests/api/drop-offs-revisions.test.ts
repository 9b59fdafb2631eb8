import { v7 } from 'uuid';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { Clock } from '../../apps/api/http/clock.js';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { intakeRows, lotBody, pointersOf } from '../support/intake.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';

const lb = (value: number) => ({ value, unit: 'lb' });
const glass = (pounds: number) => ({ contaminant: 'glass', mass: lb(pounds), wentTo: 'landfill' });

describe('what becomes of a drop-off after it was recorded', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterEach(() => vi.restoreAllMocks());
  afterAll(() => api.stop());

  const volunteer = () => programme.people.volunteer.token;
  const manager = () => programme.people.manager.token;
  const record = (changes: object = {}, as = volunteer()) =>
    made(api, '/drop-offs', lotBody(programme, changes), as);
  const send = (id: string, what: string, body: object, as = manager()) =>
    api.call('POST', `/drop-offs/${id}/${what}`, { as, body });
  const get = async (id: string) => (await api.call('GET', `/drop-offs/${id}`, { as: api.coordinator })).body;
  const correction = (changes: object = {}) => ({
    ...{ occurredAt: '2026-04-01T09:00:00-06:00', material: 'food-scraps', depositor: 'household' },
    jurisdictionId: programme.jurisdictions.larkHollow.id,
    ...{ weight: { net: lb(20) }, rejects: [], reason: 'Read the wrong line' },
    ...changes,
  });

  it('states a lot anew as its next revision, and keeps the one before', async () => {
    const lot = await record({ rejects: [glass(1)] });
    const answer = await send(lot.id, 'corrections', correction({ material: 'leaves', rejects: [glass(2)] }));
    expect(answer.status).toBe(201);
    expect(answer.body).toMatchObject({
      ...{ id: lot.id, revision: 2, material: 'leaves', netKg: 9.072, rejectedKg: 0.907, acceptedKg: 8.165 },
      ...{ unassignedKg: 8.165, reason: 'Read the wrong line', recordedBy: programme.people.manager.id },
      ...{ occurredAt: '2026-04-01T15:00:00.000Z', containerId: null, voided: false },
    });
    const now = await get(lot.id);
    const { revisions, ...current } = now;
    expect(current).toEqual(answer.body);
    expect(revisions.map((one: any) => [one.revision, one.netKg, one.rejects.length, one.reason])).toEqual([
      [1, 13.199, 1, null],
      [2, 9.072, 1, 'Read the wrong line'],
    ]);
    const {
      id: _,
      siteId: __,
      shiftId: ___,
      importId: ____,
      lies: ______,
      unassignedKg: _____,
      ...first
    } = lot;
    expect(revisions[0]).toEqual(first);
    const [line] = (await auditOf(api, 'drop-off.corrected')).filter(({ subjectId }) => subjectId === lot.id);
    expect(line).toMatchObject({
      personId: programme.people.manager.id,
      detail: { revision: 2, reason: 'Read the wrong line' },
    });
  });

  it('holds a correction to the rules of any entry', async () => {
    const lot = await record();
    const rows = await intakeRows(api);
    const { occurredAt: _, jurisdictionId: __, rejects: ___, reason: ____, ...partial } = correction();
    const cases: [object, string[]][] = [
      [partial, ['/jurisdictionId', '/occurredAt', '/reason', '/rejects']],
      [correction({ weight: { gross: lb(1), tare: lb(2) } }), ['/weight/tare']],
      [correction({ material: 'moon-dust' }), ['/material']],
      [correction({ rejects: [glass(21)] }), ['/rejects']],
      [correction({ siteId: programme.hub2.id }), ['/siteId']],
      [correction({ occurredAt: '2126-01-01T00:00:00Z' }), ['/occurredAt']],
      [correction({ reason: '' }), ['/reason']],
      [correction({ id: lot.id }), ['/id']],
    ];
    for (const [body, pointers] of cases) {
      const answer = await send(lot.id, 'corrections', body);
      expect([answer.status, ...pointersOf(answer)]).toEqual([422, ...pointers]);
    }
    expect(await intakeRows(api)).toEqual(rows);
  });

  it('keeps the scale it was weighed on, and its lateness as it was', async () => {
    const lot = await record({ instrumentId: programme.instruments.scale.id, weight: { net: lb(7) } });
    const answer = await send(
      lot.id,
      'corrections',
      correction({ occurredAt: lot.occurredAt, weight: { net: lb(7.05) } }),
    );
    expect(answer.body.instrumentId).toBe(programme.instruments.scale.id);
    expect(answer.body.warnings.map(({ code }: { code: string }) => code)).toEqual(['scale-division']);
    const later = await send(
      lot.id,
      'corrections',
      correction({ weight: undefined, volume: { value: 5, unit: 'gal' } }),
    );
    expect(later.body).toMatchObject({ revision: 3, basis: 'volume', instrumentId: null });
  });

  it('refuses a correction of what somebody has corrected meanwhile', async () => {
    const lot = await record();
    expect((await send(lot.id, 'corrections', correction({ revision: 1 }))).status).toBe(201);
    const stale = await send(lot.id, 'corrections', correction({ revision: 1, weight: { net: lb(3) } }));
    expect([stale.status, stale.body.type]).toEqual([412, 'urn:heapwright:problem:changed-meanwhile']);
    const many = await Promise.all(
      [4, 5, 6, 7].map((pounds) =>
        send(lot.id, 'corrections', correction({ revision: 2, weight: { net: lb(pounds) } })),
      ),
    );
    expect(many.map(({ status }) => status).sort()).toEqual([201, 412, 412, 412]);
    expect((await get(lot.id)).revisions).toHaveLength(3);
  });

  it('makes a correction once, however often it is sent', async () => {
    const lot = await record();
    const body = correction({ id: v7() });
    const answers = await Promise.all([1, 2, 3].map(() => send(lot.id, 'corrections', body)));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    for (const answer of answers) expect(answer.body).toEqual(answers[0]!.body);
    expect((await send(lot.id, 'corrections', { ...body, reason: 'Another' })).status).toBe(409);
    const other = await record();
    expect((await send(other.id, 'corrections', body)).status).toBe(409);
    expect((await get(lot.id)).revisions).toHaveLength(2);
  });

  it('takes a reject off a lot once, however often it is sent', async () => {
    const lot = await record({ rejects: [glass(1)] });
    const body = { id: v7(), contaminant: 'metal', mass: lb(2), wentTo: 'recycling' };
    const first = await send(lot.id, 'rejects', body, volunteer());
    expect([first.status, first.body]).toMatchObject([
      201,
      { revision: 2, netKg: 13.199, rejectedKg: 1.361, acceptedKg: 11.838, reason: 'Pulled out: metal' },
    ]);
    expect(
      first.body.rejects.map((reject: any) => [reject.contaminant, reject.massKg, reject.wentTo]),
    ).toEqual([
      ['glass', 0.454, 'landfill'],
      ['metal', 0.907, 'recycling'],
    ]);
    const again = await send(lot.id, 'rejects', body, volunteer());
    expect([again.status, again.body]).toEqual([200, first.body]);
    const more = await send(lot.id, 'rejects', { ...glass(1), id: v7() }, volunteer());
    expect([more.status, more.body.revision, more.body.rejectedKg]).toEqual([201, 3, 1.815]);
    expect((await send(lot.id, 'rejects', body, volunteer())).body.revision).toBe(2);
    const tooMuch = await send(lot.id, 'rejects', glass(30), volunteer());
    expect([tooMuch.status, ...pointersOf(tooMuch)]).toEqual([422, '/mass']);
    expect((await get(lot.id)).acceptedKg).toBe(11.384);
  });

  it('takes a lot back, for good', async () => {
    const lot = await record({ rejects: [glass(1)] });
    const voided = await send(lot.id, 'void', { reason: 'Weighed twice' });
    expect([voided.status, voided.body]).toMatchObject([
      200,
      { revision: 2, voided: true, reason: 'Weighed twice', unassignedKg: 0, netKg: 13.199, rejects: [{}] },
    ]);
    const again = await send(lot.id, 'void', { reason: 'Weighed twice' });
    expect([again.status, again.body]).toEqual([200, voided.body]);
    for (const [what, body] of [
      ['void', { reason: 'Another' }],
      ['corrections', correction()],
      ['rejects', glass(1)],
    ] as const) {
      const answer = await send(lot.id, what, body);
      expect([answer.status, answer.body.type]).toEqual([409, 'urn:heapwright:problem:drop-off-voided']);
    }
    expect((await get(lot.id)).revisions).toHaveLength(2);
  });

  it('leaves what is in a batch where it is', async () => {
    const { hub1, yard1 } = programme;
    const lot = await record({ siteId: hub1.id });
    const batch = await made(
      api,
      '/batches',
      { siteId: yard1.id, bay: 'A1', method: 'turned-windrow' },
      manager(),
    );
    const assigned = await api.call('POST', `/batches/${batch.id}/assignments`, {
      as: manager(),
      body: { items: [{ dropOffId: lot.id, mass: { value: 10, unit: 'kg' } }] },
    });
    expect(assigned.status, assigned.text).toBeLessThan(300);
    expect(await get(lot.id)).toMatchObject({ acceptedKg: 13.199, unassignedKg: 3.199 });
    for (const [what, body] of [
      ['void', { reason: 'Weighed twice' }],
      ['corrections', correction({ weight: { net: { value: 9.999, unit: 'kg' } } })],
      ['rejects', glass(20)],
    ] as const) {
      const answer = await send(lot.id, what, body);
      expect([answer.status, answer.body.type]).toEqual([409, 'urn:heapwright:problem:assigned-already']);
    }
    const fits = await send(
      lot.id,
      'corrections',
      correction({ weight: { net: { value: 10, unit: 'kg' } } }),
    );
    expect([fits.status, fits.body.unassignedKg]).toEqual([201, 0]);
  });

  it('leaves corrections to a manager of the site', async () => {
    const lot = await record();
    const { operator, otherManager, municipalReader } = programme.people;
    const path = `/drop-offs/${lot.id}/corrections`;
    expect((await api.call('POST', path, { body: correction() })).status).toBe(401);
    for (const as of [volunteer(), operator.token, otherManager.token, municipalReader.token]) {
      expect((await api.call('POST', path, { as, body: correction() })).status).toBe(403);
    }
    expect((await send(v7(), 'corrections', correction())).status).toBe(404);
    const good = { void: { reason: 'x' }, rejects: glass(1) };
    for (const [what, body] of Object.entries(good)) {
      expect((await api.call('POST', `/drop-offs/${lot.id}/${what}`, { body: {} })).status).toBe(401);
      for (const person of [operator, otherManager, municipalReader]) {
        expect((await send(lot.id, what, body, person.token)).status).toBe(403);
      }
    }
    const others = await record({}, manager());
    expect((await send(others.id, 'rejects', glass(1), volunteer())).body.type).toBe(
      'urn:heapwright:problem:not-allowed',
    );
  });

  it('lets a volunteer undo their own on the same local day, and no later', async () => {
    const reason = { reason: 'Slip of the keys' };
    const [undone, kept] = [await record(), await record()];
    expect((await send(undone.id, 'void', reason, volunteer())).status).toBe(200);
    const others = await record({}, manager());
    expect((await send(others.id, 'void', reason, volunteer())).status).toBe(403);
    const corrected = await record();
    await send(corrected.id, 'corrections', correction());
    expect((await send(corrected.id, 'void', reason, volunteer())).status).toBe(403);
    vi.spyOn(api.app.get(Clock), 'nowMs').mockReturnValue(Date.now() + 86_400_000);
    expect((await send(kept.id, 'void', reason, volunteer())).status).toBe(403);
    expect((await send(kept.id, 'void', reason, manager())).status).toBe(200);
  });

  it('lets a volunteer undo their own while the shift is open, and no longer', async () => {
    const reason = { reason: 'Slip of the keys' };
    const shift = await made(api, '/shifts', { siteId: programme.hub1.id }, volunteer());
    const [undone, kept] = [await record({ shiftId: shift.id }), await record({ shiftId: shift.id })];
    vi.spyOn(api.app.get(Clock), 'nowMs').mockReturnValue(Date.now() + 86_400_000);
    expect((await send(undone.id, 'void', reason, volunteer())).status).toBe(200);
    vi.restoreAllMocks();
    await api.call('POST', `/shifts/${shift.id}/close`, { as: volunteer(), body: { countedLots: 1 } });
    expect((await send(kept.id, 'void', reason, volunteer())).status).toBe(403);
  });
});
