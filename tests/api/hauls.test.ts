import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { made, makePersona, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, sqlOf, type Yard } from '../support/yard-work.js';

const code = (answer: any) => answer.body.type.replace('urn:heapwright:problem:', '');
const refusal = (answer: any) => [
  answer.status,
  code(answer),
  (answer.body.errors ?? []).map(({ pointer }: { pointer: string }) => pointer),
];
const kg = (value: number) => ({ value, unit: 'kg' });
const LEFT_AT = '2026-03-04T16:00:00Z';
const RECEIVED_AT = '2026-03-04T18:00:00Z';

describe('hauls', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  /** Operator of the yard, and of no hub. */
  let crew: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    crew = (await makePersona(api, 'Ansel Birk', [{ role: 'operator', siteId: yard.yard.id }])).token;
  });
  afterAll(() => api.stop());

  const volunteer = () => programme.people.volunteer.token;
  const post = (path: string, body: unknown, as = volunteer()) => api.call('POST', path, { as, body });
  const get = (path: string, as = api.coordinator) => api.call('GET', path, { as });
  const weighed = (massG: number, material = 'food-scraps') => lotAtHub1(api, programme, massG, { material });
  const guessed = (massG: number, material = 'leaves') =>
    lotAtHub1(api, programme, massG, { material, basis: 'volume' });
  const body = (dropOffIds: string[], changes: object = {}) => ({
    ...{ siteId: programme.hub1.id, toSiteId: yard.yard.id, occurredAt: LEFT_AT, lots: { dropOffIds } },
    ...changes,
  });
  const haul = async (dropOffIds: string[], changes: object = {}) => {
    const answer = await post('/hauls', body(dropOffIds, changes));
    expect(answer.status, answer.text).toBe(201);
    return answer.body;
  };
  const receive = (id: string, changes: object = {}, as = crew) =>
    post(`/hauls/${id}/receipt`, { occurredAt: RECEIVED_AT, ...changes }, as);
  const lotOf = async (id: string) => (await get(`/drop-offs/${id}`)).body;

  it('takes whole lots of a hub, weighed less the containers they are in', async () => {
    const lots = [await weighed(30_000), await weighed(10_000, 'leaves'), await guessed(5_000)];
    const { bucket } = programme.containers;
    const weight = { gross: { value: 110, unit: 'lb' } };
    const answer = await post(
      '/hauls',
      body(lots, { weight, containers: [{ containerId: bucket.id, count: 3 }] }),
    );
    expect(answer.status).toBe(201);
    // 110 lb = 49 895.160 7 g; three times 2.1 lb, 953 g each as kept: NIST Handbook 44, Appendix C.
    expect(answer.body).toMatchObject({
      ...{ state: 'on-the-road', outKg: 47.036, lotCount: 3, lotsKg: 45, estimatedKg: 5, receipt: null },
      containers: [{ containerId: bucket.id, code: 'B-07', count: 3 }],
      lots: [
        { material: 'food-scraps', basis: 'scale', lots: 1, massKg: 30 },
        { material: 'leaves', basis: 'scale', lots: 1, massKg: 10 },
        { material: 'leaves', basis: 'volume', lots: 1, massKg: 5 },
      ],
      ...{ roadDifference: null, lotsDifference: null, difference: 'unknown', entered: { weight } },
    });
    const { id } = answer.body;
    expect((await lotOf(lots[0]!)).lies).toEqual({
      place: 'road',
      siteId: null,
      haulId: id,
      elsewhere: null,
    });
    const [line] = (await auditOf(api, 'haul.recorded')).filter(({ subjectId }) => subjectId === id);
    expect(line).toMatchObject({ siteId: programme.hub1.id, detail: { lots: 3, outG: 47_036 } });
    const listed = await get(`/hauls/${id}/lots`, crew);
    expect(listed.body.items.map((lot: { id: string }) => lot.id).sort()).toEqual(lots.toSorted());
  });

  it('shows a volunteer the lots they took in, as any list of lots does', async () => {
    const at = [{ role: 'volunteer', siteId: programme.hub1.id }];
    const una = (await makePersona(api, 'Una Fell', at)).token;
    const mass = { weight: { net: kg(3) }, depositor: 'household', rejects: [], material: 'food-scraps' };
    const where = { siteId: programme.hub1.id, jurisdictionId: programme.jurisdictions.larkHollow.id };
    const own = await post('/drop-offs', { ...mass, ...where, occurredAt: '2026-03-03T16:00:00Z' }, una);
    const ids = [await weighed(4_000), own.body.id as string];
    const haul = await post('/hauls', body(ids), una);
    expect([haul.status, haul.body.lotCount]).toEqual([201, 2]);
    const path = `/hauls/${haul.body.id as string}/lots`;
    expect((await get(path, una)).body.items).toMatchObject([{ id: own.body.id }]);
    expect((await get(path)).body.items).toHaveLength(2);
  });

  it('is answered again under its id, and refused with another body', async () => {
    const sent = { ...body([await weighed(4_000)]), id: v7() };
    const answers = await Promise.all([1, 2, 3].map(() => post('/hauls', sent)));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    for (const answer of answers) expect(answer.body).toEqual(answers[0]!.body);
    expect(refusal(await post('/hauls', { ...sent, note: 'Another' }))).toEqual([409, 'other-body', []]);
  });

  it('refuses what no haul can be', async () => {
    const lot = await weighed(4_000);
    const { bucket, tote } = programme.containers;
    const others = await made(api, '/containers', { siteId: programme.yard2.id, code: 'X-1', tare: kg(1) });
    const containers = [{ containerId: bucket.id, count: 4 }];
    const cases: [object, string][] = [
      [{ toSiteId: undefined }, '/toSiteId'],
      [{ elsewhere: 'Fennmoor farm' }, '/toSiteId'],
      [{ toSiteId: programme.hub1.id }, '/toSiteId'],
      [{ toSiteId: programme.hub2.id }, '/toSiteId'],
      [{ toSiteId: v7() }, '/toSiteId'],
      [{ lots: {} }, '/lots'],
      [{ lots: { dropOffIds: [lot], allWaiting: {} } }, '/lots'],
      [{ lots: { dropOffIds: [] } }, '/lots/dropOffIds'],
      [{ lots: { dropOffIds: [lot, lot.toUpperCase()] } }, '/lots/dropOffIds/1'],
      [{ lots: { dropOffIds: [lot, v7()] } }, '/lots/dropOffIds/1'],
      [{ occurredAt: '2026-03-01T16:00:00Z' }, '/lots/dropOffIds/0'],
      [{ lots: { allWaiting: { upTo: '2026-03-09T16:00:00Z' } } }, '/lots/allWaiting/upTo'],
      [{ lots: { allWaiting: { upTo: '2025-03-09T16:00:00Z' } } }, '/lots/allWaiting'],
      [{ weight: {} }, '/weight'],
      [{ weight: { net: kg(4), gross: kg(5) }, containers }, '/weight'],
      [{ weight: { net: kg(0) } }, '/weight/net'],
      [{ weight: { gross: kg(5) } }, '/containers'],
      [{ weight: { gross: kg(3) }, containers }, '/weight/gross'],
      [{ containers: [...containers, ...containers] }, '/containers/1/containerId'],
      [{ containers: [{ containerId: others.id, count: 1 }] }, '/containers/0/containerId'],
      [{ containers: [{ containerId: tote.id, count: -1 }] }, '/containers/0/count'],
    ];
    for (const [changes, pointer] of cases) {
      const answer = await post('/hauls', body([lot], changes));
      expect(refusal(answer), JSON.stringify(changes)).toEqual([422, 'invalid', [pointer]]);
    }
    const elsewhere = await makePersona(api, 'Nele Farr', [{ role: 'volunteer', siteId: programme.hub2.id }]);
    expect((await post('/hauls', body([lot]), elsewhere.token)).status).toBe(403);
    expect((await lotOf(lot)).lies.place).toBe('hub');
  });

  it('takes no lot that is voided, on another haul or in a batch, and nothing else of that request', async () => {
    const [good, voided, gone, used] = [
      await weighed(1_000),
      await weighed(1_000),
      await weighed(1_000),
      await weighed(1_000),
    ];
    await post(`/drop-offs/${voided}/void`, { reason: 'Weighed twice' }, api.coordinator);
    await haul([gone]);
    const batch = await yard.begin();
    const items = [{ dropOffId: used, mass: { value: 1, unit: 'g' } }];
    await made(api, `/batches/${batch.id}/assignments`, { items }, yard.manager.token);
    const pointers = ['/lots/dropOffIds/1'];
    const tried = async (lot: string) => refusal(await post('/hauls', body([good, lot])));
    expect(await tried(voided)).toEqual([409, 'drop-off-voided', pointers]);
    expect(await tried(gone)).toEqual([409, 'drop-off-not-here', pointers]);
    expect(await tried(used)).toEqual([409, 'conflict', pointers]);
    expect((await lotOf(good)).lies.place).toBe('hub');
  });

  it('takes a lot along once when two devices send it at the same moment', async () => {
    const lots = [await weighed(2_000), await weighed(3_000)];
    const answers = await Promise.all([1, 2, 3].map(() => post('/hauls', body(lots))));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409]);
    const [row] = await sqlOf(api).query<{ times: number }>(
      'SELECT count(*) AS times FROM lot_on_haul WHERE drop_off_id = ANY($1)',
      [lots],
    );
    expect(row!.times).toBe(2);
  });

  it('either goes on a haul or into a batch when both reach for it at the same moment', async () => {
    const batch = await yard.begin();
    for (let round = 0; round < 4; round += 1) {
      const lot = await weighed(2_000);
      const items = [{ dropOffId: lot }];
      const [sent, assigned] = await Promise.all([
        post('/hauls', body([lot])),
        post(`/batches/${batch.id}/assignments`, { items }, yard.manager.token),
      ]);
      expect([sent.status, assigned.status].sort()).toEqual([201, 409]);
    }
  });

  it('takes all that waits up to a time, and leaves what is in a batch in part', async () => {
    const hub = await made(api, '/sites', {
      ...{
        code: 'LM',
        name: 'Lime Lane hub',
        timeZone: 'America/Denver',
        takesDropOffs: true,
        runsBatches: false,
      },
      jurisdictionId: programme.jurisdictions.larkHollow.id,
    });
    const lot = (massG: number, occurredAt = '2026-03-02T16:00:00Z') =>
      lotAtHub1(api, programme, massG, { siteId: hub.id, occurredAt });
    const [one, two, late, used] = [
      await lot(1_000),
      await lot(2_000),
      await lot(3_000, '2026-03-04T12:00:00Z'),
      await lot(4_000),
    ];
    const batch = await yard.begin();
    const items = [{ dropOffId: used, mass: kg(1) }];
    await made(api, `/batches/${batch.id}/assignments`, { items });
    const all = (upTo?: string) => ({
      ...{ siteId: hub.id, toSiteId: yard.yard.id, occurredAt: LEFT_AT },
      lots: { allWaiting: { ...(upTo ? { upTo } : {}) } },
    });
    const first = await post('/hauls', all('2026-03-03T00:00:00Z'), api.coordinator);
    expect(first.body).toMatchObject({ lotCount: 2, lotsKg: 3 });
    const second = await post('/hauls', all(), api.coordinator);
    expect(second.body).toMatchObject({ lotCount: 1, lotsKg: 3 });
    expect(refusal(await post('/hauls', all(), api.coordinator))).toEqual([
      422,
      'invalid',
      ['/lots/allWaiting'],
    ]);
    const placesOf = await Promise.all([one, two, late, used].map(lotOf));
    expect(placesOf.map(({ lies }) => lies.place)).toEqual(['road', 'road', 'road', 'hub']);
  });

  it('goes to somebody else, and is no yard’s to receive or assign', async () => {
    const lot = await weighed(6_000);
    const sent = await haul([lot], { toSiteId: undefined, elsewhere: 'Fennmoor farm' });
    expect(sent).toMatchObject({
      ...{ state: 'elsewhere', toSiteId: null, elsewhere: 'Fennmoor farm', lotsKg: 6 },
      remark: 'Composted by somebody else: Fennmoor farm',
    });
    expect((await lotOf(lot)).lies).toEqual({
      ...{ place: 'elsewhere', siteId: null, haulId: sent.id, elsewhere: 'Fennmoor farm' },
    });
    const received = await receive(sent.id, {}, api.coordinator);
    expect(refusal(received)).toEqual([409, 'conflict', []]);
    const batch = await yard.begin();
    const path = `/batches/${batch.id}/assignments`;
    const byHand = await post(path, { items: [{ dropOffId: lot }] }, yard.manager.token);
    expect(refusal(byHand)).toEqual([409, 'drop-off-not-here', ['/items/0/dropOffId']]);
    const unassigned = await get(`/drop-offs?unassigned=true&haulId=${sent.id}`);
    expect(unassigned.body.items).toEqual([]);
  });

  it('tells what is on the road, and what differs until somebody explains it', async () => {
    const isOpen = async (id: string) => {
      const { items } = (await get(`/hauls?siteId=${yard.yard.id}&open=true&limit=200`, crew)).body;
      return items.some((one: { id: string }) => one.id === id);
    };
    const sent = await haul([await weighed(20_000)], { weight: { net: kg(20.5) } });
    expect(await isOpen(sent.id)).toBe(true);
    const received = await receive(sent.id, { weight: { net: kg(19) } });
    expect(received.body).toMatchObject({
      ...{ state: 'received', difference: 'open', outKg: 20.5 },
      roadDifference: { differenceKg: -1.5, differencePercent: -7.32 },
      lotsDifference: { differenceKg: -1, differencePercent: -5 },
      receipt: { inKg: 19, explanation: null },
    });
    expect(await isOpen(sent.id)).toBe(true);
    const explanation = { id: v7(), explanation: 'A tote leaked on the way' };
    const answers = await Promise.all([1, 2].map(() => post(`/hauls/${sent.id}/explanations`, explanation)));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 201]);
    expect(answers[0]!.body).toMatchObject({
      difference: 'explained',
      explanations: [{ id: explanation.id, explanation: explanation.explanation }],
    });
    expect(await isOpen(sent.id)).toBe(false);
    const other = { ...explanation, explanation: 'Another' };
    expect((await post(`/hauls/${sent.id}/explanations`, other)).status).toBe(409);
    const told = await haul([await weighed(20_000)]);
    const atOnce = await receive(told.id, {
      weight: { net: kg(19) },
      explanation: 'Stones were left behind',
    });
    expect(atOnce.body.difference).toBe('explained');
    const same = await haul([await weighed(20_000)]);
    expect((await receive(same.id, { weight: { net: kg(20) } })).body.difference).toBe('none');
    expect(await isOpen(same.id)).toBe(false);
    expect((await lotOf((await get(`/hauls/${told.id}/lots`)).body.items[0].id)).netKg).toBe(20);
  });

  it('is seen and explained from both of its ends, and from nowhere else', async () => {
    const { id } = await haul([await weighed(1_000)]);
    for (const as of [volunteer(), crew]) {
      expect((await get(`/hauls/${id}`, as)).status).toBe(200);
      const listed = await get('/hauls?limit=200', as);
      expect(listed.body.items.map((one: { id: string }) => one.id)).toContain(id);
    }
    const { otherManager } = programme.people;
    for (const path of [`/hauls/${id}`, `/hauls/${id}/lots`]) {
      expect(refusal(await get(path, otherManager.token))).toEqual([403, 'other-site', []]);
    }
    const foreign = await post(`/hauls/${id}/explanations`, { explanation: 'Rain' }, otherManager.token);
    expect(foreign.status).toBe(403);
    expect((await get('/hauls', otherManager.token)).body.items).toEqual([]);
    expect((await receive(id, {}, volunteer())).status).toBe(403);
  });

  it('is voided with a reason, once, and its lots lie at the hub again', async () => {
    const lot = await weighed(7_000);
    const sent = await haul([lot]);
    const answers = await Promise.all(
      [1, 2].map(() => post(`/hauls/${sent.id}/void`, { reason: 'Wrong day' })),
    );
    expect(answers.map(({ status }) => status)).toEqual([200, 200]);
    expect(answers[1]!.body).toMatchObject({ state: 'voided', voided: true, voidReason: 'Wrong day' });
    expect((await post(`/hauls/${sent.id}/void`, { reason: 'Another' })).status).toBe(409);
    expect((await lotOf(lot)).lies.place).toBe('hub');
    expect(refusal(await receive(sent.id))).toEqual([409, 'conflict', []]);
    const again = await haul([lot]);
    await receive(again.id);
    const late = await post(`/hauls/${again.id}/void`, { reason: 'Wrong day' }, api.coordinator);
    expect(refusal(late)).toEqual([409, 'haul-received', []]);
  });
});
