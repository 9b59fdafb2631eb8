import fc from 'fast-check';
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
const g = (value: number) => ({ value, unit: 'g' });
const LEFT_AT = '2026-03-04T16:00:00Z';
const RECEIVED_AT = '2026-03-04T18:00:00Z';
const ASSIGNED_AT = '2026-03-05T16:00:00Z';

describe('hauls that came in', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  /** Of the yard, and of no hub. */
  let crew: string;
  let master: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    const at = (role: string) => [{ role, siteId: yard.yard.id }];
    crew = (await makePersona(api, 'Ansel Birk', at('operator'))).token;
    master = (await makePersona(api, 'Hedda Roe', at('manager'))).token;
  });
  afterAll(() => api.stop());

  const post = (path: string, body: unknown, as = api.coordinator) => api.call('POST', path, { as, body });
  const get = (path: string, as = api.coordinator) => api.call('GET', path, { as });
  const weighed = (massG: number) => lotAtHub1(api, programme, massG);
  const guessed = (massG: number) =>
    lotAtHub1(api, programme, massG, { material: 'leaves', basis: 'volume' });
  const haul = async (dropOffIds: string[], changes: object = {}): Promise<string> => {
    const sent = { siteId: programme.hub1.id, toSiteId: yard.yard.id, occurredAt: LEFT_AT };
    return (await made(api, '/hauls', { ...sent, lots: { dropOffIds }, ...changes })).id;
  };
  const receive = (id: string, massG: number | null, changes: object = {}) => {
    const weight = massG === null ? {} : { weight: { net: g(massG) } };
    return post(`/hauls/${id}/receipt`, { occurredAt: RECEIVED_AT, ...weight, ...changes }, crew);
  };
  const voidReceipt = (id: string, reason = 'The wrong scale') =>
    post(`/hauls/${id}/receipt/void`, { reason }, master);
  const lotOf = async (id: string) => (await get(`/drop-offs/${id}`)).body;
  const gramsOf = async (ids: string[]) =>
    (await Promise.all(ids.map(lotOf))).map(({ acceptedKg }) => Math.round(acceptedKg * 1000));
  const assign = (batch: { id: string }, body: object, as = master) =>
    post(`/batches/${batch.id}/assignments`, { occurredAt: ASSIGNED_AT, ...body }, as);

  it('gives lots that were counted their shares of the weight, as revisions that name the haul', async () => {
    const lots = [await weighed(40_000), await guessed(10_000), await guessed(20_000)];
    const id = await haul(lots);
    const answer = await receive(id, 100_000);
    expect(answer.status).toBe(201);
    expect(answer.body).toMatchObject({
      ...{ state: 'received', lotsKg: 100, estimatedKg: 0, difference: 'unknown', lotsDifference: null },
      lots: [
        { material: 'food-scraps', basis: 'scale', lots: 1, massKg: 40 },
        { material: 'leaves', basis: 'haul', lots: 2, massKg: 60 },
      ],
    });
    expect(await gramsOf(lots)).toEqual([40_000, 20_000, 40_000]);
    const shared = await lotOf(lots[1]!);
    expect(shared).toMatchObject({
      ...{ revision: 2, basis: 'haul', netKg: 20, volumeL: 20, haulReceiptId: answer.body.receipt.id },
      ...{ lies: { place: 'yard', siteId: yard.yard.id, haulId: id }, densityKgM3: 500 },
      reason: `Weighed at the yard with haul ${id}: 60 kg, shared among 2 lots`,
    });
    expect((await lotOf(lots[0]!)).revision).toBe(1);
    const lines = await auditOf(api, 'drop-off.weighed-with-haul');
    expect(lines.map(({ subjectId }) => subjectId).sort()).toEqual(lots.slice(1).sort());
  });

  it('makes the weight to the gram, whatever the lots and however often it is taken back', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.boolean(), fc.integer({ min: 1, max: 90_000 })), { minLength: 1, maxLength: 6 }),
        fc.array(fc.integer({ min: 1, max: 400_000 }), { minLength: 1, maxLength: 2 }),
        async (some, rests) => {
          const lots: string[] = [];
          for (const [onScale, massG] of some) lots.push(await (onScale ? weighed(massG) : guessed(massG)));
          const before = await gramsOf(lots);
          const weighedG = some.reduce((sum, [onScale, massG]) => sum + (onScale ? massG : 0), 0);
          const isShared = some.some(([onScale]) => !onScale);
          const id = await haul(lots);
          for (const restG of rests) {
            expect((await receive(id, weighedG + restG)).status).toBe(201);
            const total = (await gramsOf(lots)).reduce((sum, massG) => sum + massG, 0);
            expect(total).toBe(isShared ? weighedG + restG : weighedG);
            expect((await voidReceipt(id)).status).toBe(200);
            expect(await gramsOf(lots)).toEqual(before);
          }
        },
      ),
      { numRuns: 12 },
    );
  });

  it('keeps what was pulled out before, and what is pulled later is no difference of the haul', async () => {
    const lot = await guessed(10_000);
    const reject = { contaminant: 'glass', mass: g(1_000), wentTo: 'landfill' };
    await made(api, `/drop-offs/${lot}/rejects`, reject);
    const other = await weighed(5_000);
    const id = await haul([lot, other]);
    await receive(id, 25_000);
    expect(await lotOf(lot)).toMatchObject({ netKg: 21, rejectedKg: 1, acceptedKg: 20, basis: 'haul' });
    await made(api, `/drop-offs/${lot}/rejects`, reject);
    await made(api, `/drop-offs/${other}/rejects`, reject);
    expect(await lotOf(lot)).toMatchObject({ netKg: 21, rejectedKg: 2, acceptedKg: 19, basis: 'haul' });
    expect((await get(`/hauls/${id}`)).body).toMatchObject({ lotsKg: 23, difference: 'unknown' });
    const back = await voidReceipt(id);
    expect(back.body).toMatchObject({ state: 'on-the-road', receipt: null });
    expect(await lotOf(lot)).toMatchObject({
      ...{ netKg: 10, rejectedKg: 2, acceptedKg: 8, basis: 'volume', haulReceiptId: null },
      rejects: [{ massKg: 1 }, { massKg: 1 }],
    });
  });

  it('lets the crew of the yard pull something out once the lot was received there, and not before', async () => {
    const lot = await weighed(5_000);
    const pull = (as: string) =>
      post(`/drop-offs/${lot}/rejects`, { contaminant: 'glass', mass: g(500), wentTo: 'landfill' }, as);
    const volunteer = await makePersona(api, 'Una Fell', [{ role: 'volunteer', siteId: yard.yard.id }]);
    const id = await haul([lot]);
    expect([(await pull(crew)).status, code(await pull(crew))]).toEqual([403, 'other-site']);
    await receive(id, 5_000);
    expect((await pull(crew)).body).toMatchObject({ revision: 2, rejectedKg: 0.5, acceptedKg: 4.5 });
    expect(code(await pull(volunteer.token))).toBe('other-site');
    await voidReceipt(id);
    expect(code(await pull(crew))).toBe('other-site');
    expect(await lotOf(lot)).toMatchObject({ rejectedKg: 0.5, acceptedKg: 4.5 });
  });

  it('does not take a share back of which more was pulled than it was estimated at', async () => {
    const lot = await guessed(2_000);
    const id = await haul([lot]);
    await receive(id, 9_000);
    await made(api, `/drop-offs/${lot}/rejects`, {
      contaminant: 'glass',
      mass: g(3_000),
      wentTo: 'landfill',
    });
    expect(refusal(await voidReceipt(id))).toEqual([409, 'conflict', []]);
    expect((await get(`/hauls/${id}`)).body.state).toBe('received');
  });

  it('refuses a weight that leaves nothing for what was counted', async () => {
    const lots = [await weighed(40_000), await guessed(10_000)];
    const id = await haul(lots);
    for (const massG of [40_000, 39_000]) {
      const answer = await receive(id, massG);
      expect(refusal(answer)).toEqual([422, 'invalid', ['/weight']]);
      expect(answer.body.detail).toContain('nothing is left for those that were taken by volume');
    }
    expect((await get(`/hauls/${id}`)).body.state).toBe('on-the-road');
    expect(await gramsOf(lots)).toEqual([40_000, 10_000]);
  });

  it('leaves estimates as they are where nothing was weighed', async () => {
    const lot = await guessed(10_000);
    const id = await haul([lot], { weight: { net: g(12_000) } });
    const answer = await receive(id, null);
    expect(answer.body).toMatchObject({
      ...{ state: 'received', difference: 'unknown', estimatedKg: 10 },
      remark: 'It was not weighed at the yard: what was estimated at the hub stands',
    });
    expect(await lotOf(lot)).toMatchObject({
      revision: 1,
      basis: 'volume',
      netKg: 10,
      lies: { place: 'yard' },
    });
  });

  it('is received once, by however many devices at the same moment', async () => {
    const lot = await guessed(10_000);
    const id = await haul([lot]);
    const answers = await Promise.all([11_000, 12_000, 13_000].map((massG) => receive(id, massG)));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409]);
    expect(answers.filter(({ status }) => status === 409).map(code)).toEqual([
      'haul-received',
      'haul-received',
    ]);
    const inKg = answers.find(({ status }) => status === 201)!.body.receipt.inKg as number;
    expect(await lotOf(lot)).toMatchObject({ revision: 2, acceptedKg: inKg });
    expect(refusal(await receive(id, 14_000))).toEqual([409, 'haul-received', []]);
  });

  it('answers a receipt that is sent again under its id, also at the same moment', async () => {
    const lot = await guessed(10_000);
    const haulId = await haul([lot]);
    const id = v7();
    const answers = await Promise.all([1, 2, 3].map(() => receive(haulId, 11_000, { id })));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    expect(await lotOf(lot)).toMatchObject({ revision: 2, acceptedKg: 11 });
    expect(refusal(await receive(haulId, 12_000, { id }))).toEqual([409, 'other-body', []]);
    const other = await haul([await guessed(1_000)]);
    expect(refusal(await receive(other, 11_000, { id }))).toEqual([409, 'other-body', []]);
  });

  it('does not come in before it left', async () => {
    const id = await haul([await weighed(1_000)]);
    const early = await receive(id, null, { occurredAt: '2026-03-04T15:00:00Z' });
    expect(refusal(early)).toEqual([422, 'invalid', ['/occurredAt']]);
  });

  it('takes a receipt back once, and only while nothing of it is in a batch', async () => {
    const lots = [await guessed(10_000), await guessed(10_000)];
    const id = await haul(lots);
    expect(refusal(await voidReceipt(id))).toEqual([404, 'not-found', []]);
    await receive(id, 30_000);
    const batch = await yard.begin();
    const { items } = (await assign(batch, { items: [{ dropOffId: lots[0] }] })).body;
    const held = await voidReceipt(id);
    expect(refusal(held)).toEqual([409, 'conflict', []]);
    expect(held.body.detail).toContain('void those assignments first');
    await post(`/batches/${batch.id}/assignments/${items[0].id}/void`, { reason: 'The wrong batch' });
    const answers = await Promise.all([1, 2].map(() => voidReceipt(id)));
    expect(answers.map(({ status }) => status)).toEqual([200, 200]);
    expect((await voidReceipt(id, 'Another')).status).toBe(409);
    expect(await gramsOf(lots)).toEqual([10_000, 10_000]);
    expect((await lotOf(lots[0]!)).revisions.map(({ basis }: { basis: string }) => basis)).toEqual([
      'volume',
      'haul',
      'volume',
    ]);
    expect((await receive(id, 26_000)).status).toBe(201);
    expect(await gramsOf(lots)).toEqual([13_000, 13_000]);
  });

  it('either is taken back or goes into a batch when both reach for it at the same moment', async () => {
    const batch = await yard.begin();
    for (let round = 0; round < 4; round += 1) {
      const lot = await guessed(5_000);
      const id = await haul([lot]);
      await receive(id, 6_000);
      const [back, taken] = await Promise.all([
        voidReceipt(id),
        assign(batch, { items: [{ dropOffId: lot }] }),
      ]);
      expect(
        [back.status === 200, taken.status === 201].filter(Boolean),
        `${back.text} ${taken.text}`,
      ).toHaveLength(1);
    }
  });

  it('keeps a share while its receipt stands, and lets the rest of the lot be put right', async () => {
    const lots = [await guessed(10_000), await weighed(5_000)];
    const id = await haul(lots);
    await receive(id, 25_000);
    const now = await lotOf(lots[0]!);
    const stated = {
      ...{ occurredAt: now.occurredAt, jurisdictionId: now.jurisdictionId, depositor: 'school' },
      ...{ material: 'food-scraps', rejects: [], reason: 'The wrong bin' },
    };
    const correct = (lot: string, changes: object) =>
      post(`/drop-offs/${lot}/corrections`, { ...stated, ...changes });
    const same = { value: now.volumeL, unit: 'L' };
    const corrected = await correct(lots[0]!, { volume: same });
    expect(corrected.body).toMatchObject({
      basis: 'haul',
      netKg: 20,
      material: 'food-scraps',
      depositor: 'school',
    });
    for (const changes of [{ volume: { value: 3, unit: 'L' } }, { weight: { net: g(20_000) } }]) {
      expect(refusal(await correct(lots[0]!, changes))).toEqual([409, 'conflict', []]);
    }
    const voided = await post(`/drop-offs/${lots[0]!}/void`, { reason: 'Twice' });
    expect(refusal(voided)).toEqual([409, 'conflict', []]);
    expect(voided.body.detail).toContain('void that receipt first');
    expect((await correct(lots[1]!, { weight: { net: g(7_000) } })).status).toBe(201);
    expect((await get(`/hauls/${id}`)).body).toMatchObject({
      ...{ difference: 'open', lotsDifference: { differenceKg: -2 } },
    });
  });

  it('lets the database itself hold a share to its receipt', async () => {
    const lot = await guessed(10_000);
    const id = await haul([lot]);
    const receiptId = (await receive(id, 11_000)).body.receipt.id as string;
    await expect(
      sqlOf(api).query(
        `UPDATE haul_receipt SET voided_at = now(), voided_by = recorded_by, void_reason = 'by hand' WHERE id = $1`,
        [receiptId],
      ),
    ).rejects.toMatchObject({ constraint: 'haul_shares_taken_back' });
  });
});
