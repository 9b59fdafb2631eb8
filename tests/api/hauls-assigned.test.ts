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

describe('hauls that came in, and the batches of their yard', () => {
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
  const haul = async (dropOffIds: string[], changes: object = {}): Promise<string> => {
    const sent = { siteId: programme.hub1.id, toSiteId: yard.yard.id, occurredAt: LEFT_AT };
    return (await made(api, '/hauls', { ...sent, lots: { dropOffIds }, ...changes })).id;
  };
  const receive = (id: string) => post(`/hauls/${id}/receipt`, { occurredAt: RECEIVED_AT }, crew);
  const lotOf = async (id: string) => (await get(`/drop-offs/${id}`)).body;
  const assign = (batch: { id: string }, body: object, as = master) =>
    post(`/batches/${batch.id}/assignments`, { occurredAt: ASSIGNED_AT, ...body }, as);

  it('goes into those of the yard, by whom no hub knows', async () => {
    const lots = [await weighed(8_000), await weighed(3_000)];
    const id = await haul(lots);
    const batch = await yard.begin();
    const early = await assign(batch, { items: [{ dropOffId: lots[0] }] }, yard.manager.token);
    expect(refusal(early)).toEqual([409, 'drop-off-not-here', ['/items/0/dropOffId']]);
    expect(early.body.detail).toContain('on the road');
    const notYet = await assign(batch, { allUnassigned: { haulIds: [id] } });
    expect(refusal(notYet)).toEqual([409, 'drop-off-not-here', ['/allUnassigned/haulIds/0']]);
    await receive(id);
    const before = { items: [{ dropOffId: lots[0] }], occurredAt: '2026-03-04T17:00:00Z' };
    expect(refusal(await assign(batch, before))).toEqual([422, 'invalid', ['/items/0/dropOffId']]);
    const part = await assign(batch, { items: [{ dropOffId: lots[0], mass: g(5_000) }] });
    expect([part.status, part.body.massKg]).toEqual([201, 5]);
    const rest = await assign(batch, { allUnassigned: { haulIds: [id.toUpperCase()] } });
    expect([rest.status, rest.body]).toEqual([201, { lots: 2, massKg: 6 }]);
    const line = (await auditOf(api, 'batch.drop-offs-assigned')).at(-1);
    expect(line).toMatchObject({ detail: { haulIds: [id], lots: 2, massG: 6_000 } });
  });

  it('goes into those of no other yard', async () => {
    const lot = await weighed(8_000);
    const id = await haul([lot]);
    await receive(id);
    const path = { siteId: programme.yard1.id, bay: 'A1', method: 'turned-windrow' };
    const other = await made(api, '/batches', { ...path, occurredAt: '2026-03-03T15:00:00Z' });
    const byHand = await assign(other, { items: [{ dropOffId: lot }] }, api.coordinator);
    expect(refusal(byHand)).toEqual([409, 'drop-off-not-here', ['/items/0/dropOffId']]);
    expect(byHand.body.detail).toContain('another yard');
    const all = await assign(other, { allUnassigned: { haulIds: [id] } }, api.coordinator);
    expect(refusal(all)).toEqual([422, 'invalid', ['/allUnassigned/haulIds/0']]);
    await assign(other, { allUnassigned: { siteIds: [programme.hub1.id] } }, api.coordinator);
    expect((await lotOf(lot)).unassignedKg).toBe(8);
  });

  it('is all that waits of a hub with what lies there, or of the yard by itself', async () => {
    const hub = await made(api, '/sites', {
      ...{ code: 'LM', name: 'Lime Lane hub', timeZone: 'America/Denver' },
      ...{ takesDropOffs: true, runsBatches: false, jurisdictionId: programme.jurisdictions.larkHollow.id },
    });
    const lot = (massG: number) => lotAtHub1(api, programme, massG, { siteId: hub.id });
    const send = async (massG: number) => haul([await lot(massG)], { siteId: hub.id });
    await lot(1_000);
    await receive(await send(2_000));
    await send(4_000);
    const batch = await yard.begin();
    const own = await assign(batch, { allUnassigned: { siteIds: [hub.id] } }, api.coordinator);
    expect(own.body).toEqual({ lots: 2, massKg: 3 });
    await receive(await send(8_000));
    const waits = await sqlOf(api).query<{ massG: number }>(
      `SELECT sum(r.accepted_g - r.assigned_g) AS "massG" FROM drop_off_now r JOIN lot_on_haul USING (drop_off_id)
       WHERE receipt_id IS NOT NULL AND to_site_id = $1 AND NOT r.voided`,
      [yard.yard.id],
    );
    const all = await assign(batch, { allUnassigned: { siteIds: [yard.yard.id] } });
    expect(all.body.massKg).toBe(waits[0]!.massG / 1000);
    expect(all.body.massKg).toBeGreaterThanOrEqual(8);
  });

  it('is named by its hubs or by hauls, not by both', async () => {
    const batch = await yard.begin();
    const cases: [object, string][] = [
      [{}, '/allUnassigned/siteIds'],
      [{ siteIds: [yard.yard.id], haulIds: [v7()] }, '/allUnassigned/siteIds'],
      [{ haulIds: [] }, '/allUnassigned/haulIds'],
      [{ haulIds: [v7()] }, '/allUnassigned/haulIds/0'],
    ];
    for (const [allUnassigned, pointer] of cases) {
      expect(refusal(await assign(batch, { allUnassigned }))).toEqual([422, 'invalid', [pointer]]);
    }
  });

  it('counts among what a recipe is scaled to', async () => {
    const parts = [
      { material: 'food-scraps', parts: 1, fromDropOffs: true },
      { material: 'wood-chips', parts: 2, fromDropOffs: false },
    ];
    const recipe = { siteId: yard.yard.id, name: 'Usual mix', basis: 'mass', parts };
    const { id: recipeId } = await made(api, '/recipes', recipe);
    /** What the crew is told, who see no hub: what the yard received, and a refusal where that is nothing. */
    const received = async (): Promise<number> => {
      const answer = await get(`/recipes/${recipeId}/scaled`, crew);
      return answer.status === 403 ? 0 : answer.body.parts[0].presentKg;
    };
    const before = await received();
    const lot = await weighed(9_000);
    const id = await haul([lot]);
    expect(await received()).toBe(before);
    await receive(id);
    expect(await received()).toBeCloseTo(before + 9, 6);
    const ofHub = `?hubs=${programme.hub1.id}`;
    const there = (await get(`/recipes/${recipeId}/scaled${ofHub}`, yard.operator.token)).body.parts[0];
    const waits = await lotAtHub1(api, programme, 500);
    const more = (await get(`/recipes/${recipeId}/scaled${ofHub}`, yard.operator.token)).body.parts[0];
    expect(more.presentKg).toBeCloseTo(Number(there.presentKg) + 0.5, 6);
    await haul([waits]);
    const sent = (await get(`/recipes/${recipeId}/scaled${ofHub}`, yard.operator.token)).body.parts[0];
    expect(sent.presentKg).toBeCloseTo(there.presentKg, 6);
  });
});
