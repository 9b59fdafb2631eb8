import { setTimeout } from 'node:timers/promises';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Database, type Sql } from '#libs/database';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { makeYard, sqlOf, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const litres = (value: number) => ({ value, unit: 'L' });

let api: TestApi;
let programme: Programme;
let yard: Yard;
beforeAll(async () => {
  api = await startApi();
  programme = await makeProgramme(api);
  yard = await makeYard(api, programme);
});
afterAll(() => api.stop());

const post = (path: string, body: unknown) => api.call('POST', path, { as: yard.manager.token, body });
const balanceOf = async (id: string) =>
  (await api.call('GET', `/batches/${id}/balance`, { as: yard.operator.token })).body;
const code = (answer: { body: any }) => answer.body.type.replace('urn:heapwright:problem:', '');

/** A batch of 400 kg of chips and 20 kg of water. */
async function begun(...stages: string[]): Promise<{ id: string; chips: string; water: string }> {
  const { id } = await yard.begin();
  const add = async (what: string, body: object) =>
    (await made(api, `/batches/${id as string}/${what}`, body, yard.manager.token)).id as string;
  const chips = await add('amendments', { from: 'stock', material: 'wood-chips', mass: kg(400) });
  const water = await add('waterings', { volume: litres(20) });
  await yard.enter(id, ...stages);
  return { id, chips, water };
}
const condemn = (id: string) => post(`/batches/${id}/stage`, { to: 'condemned', reason: 'full of glass' });
const screen = (id: string, body: object) => post(`/batches/${id}/screenings`, body);
const toLandfill = (mass: number) => ({ residue: kg(mass), residueWentTo: 'landfill' });

describe('what was condemned', () => {
  it('went somewhere: as residue, and as overs that another batch takes', async () => {
    const { id } = await begun('active');
    await condemn(id);
    expect(await balanceOf(id)).toMatchObject({
      ...{ stillHereKg: null, stillHere: 'It was condemned; nobody weighed what was left.' },
    });
    expect((await screen(id, { ...toLandfill(300), overs: kg(60) })).status).toBe(201);
    expect(await balanceOf(id)).toMatchObject({
      ...{ outputKg: 360, stillHereKg: 0, processLossKg: 60, yieldPercent: 0 },
      stillHere: 'It was condemned and carried off: all of it is counted as overs or residue.',
    });
    const taker = await yard.begin();
    const overs = (mass: number) => ({ from: 'overs', batchId: id, mass: kg(mass) });
    expect((await post(`/batches/${taker.id as string}/amendments`, overs(60))).status).toBe(201);
    expect(code(await post(`/batches/${taker.id as string}/amendments`, overs(1)))).toBe(
      'overs-beyond-what-is-left',
    );
    const flows = await sqlOf(api).query(
      `SELECT to_place AS "to", mass_g AS "massG" FROM mass_flow WHERE kind = 'screening' AND from_id = $1 ORDER BY 1`,
      [id],
    );
    expect(flows).toEqual([
      { to: 'landfill', massG: 300_000 },
      { to: 'overs', massG: 60_000 },
    ]);
  });

  it('gave no compost', async () => {
    const { id } = await begun('active', 'curing');
    expect((await screen(id, { compost: kg(100) })).status).toBe(201);
    await condemn(id);
    const refused = await screen(id, { compost: kg(1) });
    expect([refused.status, code(refused)]).toEqual([409, 'stage-closed']);
    expect(refused.body.detail).toBe(
      'A condemned batch gives no compost: tell what became of it as residue or overs.',
    );
  });

  it('may have been screened before: that is taken back, and told as what became of it', async () => {
    const { id } = await begun('active', 'curing');
    const screened = (await screen(id, { compost: kg(100) })).body.id as string;
    await condemn(id);
    expect(await balanceOf(id)).toMatchObject({ stillHereKg: null, outputKg: 100 });
    expect((await post(`/batches/${id}/screenings/${screened}/void`, { reason: 'never left' })).status).toBe(
      200,
    );
    expect((await screen(id, toLandfill(380))).status).toBe(201);
    expect(await balanceOf(id)).toMatchObject({ outputKg: 380, processLossKg: 40 });
  });

  it('takes nothing before it began, nor while it is hot', async () => {
    const { id } = await begun('active');
    expect(code(await screen(id, toLandfill(1)))).toBe('stage-closed');
    await condemn(id);
    const early = await screen(id, { ...toLandfill(1), occurredAt: '2026-03-01T10:00:00Z' });
    expect([early.status, early.body.errors[0].pointer]).toEqual([422, '/occurredAt']);
    expect(early.body.errors[0].detail).toMatch(/^is before the batch was begun/);
  });
});

describe('what came out of a batch', () => {
  it('is no more than went in', async () => {
    const { id } = await begun('active', 'curing');
    for (const body of [toLandfill(421), { compost: kg(200), overs: kg(200), ...toLandfill(20.001) }]) {
      const refused = await screen(id, body);
      expect([refused.status, code(refused)]).toEqual([409, 'balance-exceeded']);
    }
    expect((await screen(id, { compost: kg(200), overs: kg(200), ...toLandfill(20) })).status).toBe(201);
    expect(code(await screen(id, toLandfill(0.001)))).toBe('balance-exceeded');
  });

  it('stands on what went in: that is not taken back from under it', async () => {
    const { id, water } = await begun('active', 'curing');
    const screened = (await screen(id, { compost: kg(410) })).body.id as string;
    const path = `/batches/${id}/waterings/${water}/void`;
    const refused = await post(path, { reason: 'another batch' });
    expect([refused.status, code(refused)]).toEqual([409, 'balance-exceeded']);
    expect(refused.body.detail).toBe('10 kg more have come out of the batch than would have gone in.');
    await post(`/batches/${id}/screenings/${screened}/void`, { reason: 'weighed with the barrow' });
    expect((await screen(id, { compost: kg(400) })).status).toBe(201);
    expect((await post(path, { reason: 'another batch' })).status).toBe(200);
  });

  it('stands when two inputs are taken back at once, of which either alone could be', async () => {
    const { id, water } = await begun('active', 'curing');
    const more = await post(`/batches/${id}/waterings`, { volume: litres(20) });
    expect((await screen(id, { compost: kg(410) })).status).toBe(201);
    const takeBack = (sql: Sql, watering: string) =>
      sql.query(
        `UPDATE watering SET voided_at = now(), voided_by = $2, void_reason = 'another batch' WHERE id = $1`,
        [watering, yard.manager.id],
      );
    const database = api.app.get(Database);
    const second = await database.writeSql(async (sql) => {
      await takeBack(sql, water);
      const other = database.writeSql((beside) => takeBack(beside, more.body.id as string));
      const told = other.then(
        () => 'taken back',
        (error: unknown) => (error as { constraint?: string }).constraint,
      );
      // It has had time to fail or to be done, and waits.
      expect(await Promise.race([told, setTimeout(500, 'waits')])).toBe('waits');
      return { told };
    });
    expect(await second.told).toBe('batch_covers_outputs');
    expect(await balanceOf(id)).toMatchObject({ inputKg: 420, outputKg: 410 });
  });

  it('may be a sample of a hot pile, under which its chips stay', async () => {
    const { id, chips } = await begun('active');
    const sample = { id: v7(), kind: 'maturity', outcome: 'information', finding: 'warm', mass: kg(21) };
    expect((await post(`/batches/${id}/samples`, sample)).status).toBe(201);
    const refused = await post(`/batches/${id}/amendments/${chips}/void`, { reason: 'x' });
    expect([refused.status, code(refused)]).toEqual([409, 'balance-exceeded']);
  });
});
