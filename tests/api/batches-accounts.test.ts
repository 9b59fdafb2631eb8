import fc from 'fast-check';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Database } from '#libs/database';
import { BalanceService } from '../../apps/api/batches/balance.service.js';
import { BatchFlowsService } from '../../apps/api/batches/batch-flows.service.js';
import { BatchesService } from '../../apps/api/batches/batches.service.js';
import { MixService } from '../../apps/api/mixing/mix.service.js';
import { asProblem } from '../../apps/api/http/problems/filter.js';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, putRelease, putScreening, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });

let api: TestApi;
let programme: Programme;
let yard: Yard;
beforeAll(async () => {
  api = await startApi();
  programme = await makeProgramme(api);
  yard = await makeYard(api, programme);
});
afterAll(() => api.stop());

/** Of a batch whose pile nobody measured and whose compost has no volume. */
const byVolume = { compostVolumeL: null, yieldByVolumePercent: null, pile: null, volumeLostL: null };

const post = (path: string, body: unknown, as = yard.manager.token) => api.call('POST', path, { as, body });
const read = async (batch: { id: string }, what: string) =>
  (await api.call('GET', `/batches/${batch.id}/${what}`, { as: yard.operator.token })).body;
const add = (batch: { id: string }, facts: object) =>
  made<{ id: string }>(
    api,
    `/batches/${batch.id}/amendments`,
    { from: 'stock', material: 'wood-chips', ...facts },
    yard.manager.token,
  );
const assign = async (batch: { id: string }, massG: number, facts: object = {}) => {
  const dropOffId = await lotAtHub1(api, programme, massG, facts);
  await made(api, `/batches/${batch.id}/assignments`, { items: [{ dropOffId }] }, yard.manager.token);
  return dropOffId;
};

describe('balance', () => {
  it('knows of an empty batch that nothing is there', async () => {
    expect(await read(await yard.begin(), 'balance')).toEqual({
      inputs: [],
      inputKg: 0,
      weighedKg: 0,
      estimatedKg: 0,
      sharedKg: 0,
      outputs: [],
      outputKg: 0,
      stillHereKg: 0,
      stillHere: 'Nothing has gone in.',
      processLossKg: 0,
      yieldPercent: null,
      ...byVolume,
      volumeInL: 0,
      excessKg: null,
      problem: null,
    });
  });

  it('tells what went in and came out, and knows no loss before what is left has been weighed', async () => {
    const batch = await yard.begin();
    await assign(batch, 60_000);
    await assign(batch, 20_000, { basis: 'volume' });
    await assign(batch, 10_000, { material: 'leaves', basis: 'volume' });
    await add(batch, { mass: kg(30) });
    await add(batch, { from: 'water', material: undefined, volume: { value: 5, unit: 'L' } });
    await yard.enter(batch.id, 'active', 'curing');
    expect(await read(batch, 'balance')).toMatchObject({ inputKg: 125, yieldPercent: null });
    await putScreening(api, yard.manager.id, batch.id, { compostG: 40_000, oversG: 12_000, residueG: 500 });
    const curing = await read(batch, 'balance');
    expect(curing).toEqual({
      inputs: [
        { kind: 'amendment', label: 'water', massKg: 5, estimatedKg: 5 },
        { kind: 'amendment', label: 'wood-chips', massKg: 30, estimatedKg: 0 },
        { kind: 'drop-off', label: 'food-scraps', massKg: 80, estimatedKg: 20 },
        { kind: 'drop-off', label: 'leaves', massKg: 10, estimatedKg: 10 },
      ],
      inputKg: 125,
      weighedKg: 90,
      estimatedKg: 35,
      sharedKg: 0,
      outputs: [
        { kind: 'compost', label: 'compost', massKg: 40 },
        { kind: 'overs', label: 'overs', massKg: 12 },
        { kind: 'residue', label: 'residue', massKg: 0.5 },
      ],
      outputKg: 52.5,
      stillHereKg: null,
      stillHere: 'It is curing; nobody has weighed what lies there.',
      processLossKg: null,
      yieldPercent: 32,
      ...byVolume,
      volumeInL: 286.805,
      excessKg: null,
      problem: null,
    });
    await putRelease(api, yard.manager.id, batch.id);
    const screenedAll = {
      stillHereKg: 0,
      stillHere: 'It was screened: all of it is counted as compost, overs or residue.',
      processLossKg: 72.5,
    };
    expect(await read(batch, 'balance')).toEqual({ ...curing, ...screenedAll });
    await yard.enter(batch.id, 'emptied');
    expect(await read(batch, 'balance')).toMatchObject(screenedAll);
  });

  it('does not pass off what was never weighed as lost to the air', async () => {
    const batch = await yard.begin();
    await add(batch, { mass: kg(30) });
    await yard.enter(batch.id, 'active', 'curing');
    await putRelease(api, yard.manager.id, batch.id);
    await yard.enter(batch.id, 'emptied');
    expect(await read(batch, 'balance')).toMatchObject({ stillHereKg: null, processLossKg: null });
    const condemned = await yard.begin();
    await add(condemned, { mass: kg(30) });
    await post(`/batches/${condemned.id as string}/stage`, { to: 'condemned', reason: 'flooded' });
    expect(await read(condemned, 'balance')).toMatchObject({ stillHereKg: null, processLossKg: null });
  });

  it('prints no loss and no yield when more came out than went in', async () => {
    const batch = await yard.begin();
    await add(batch, { mass: kg(30) });
    await yard.enter(batch.id, 'active', 'curing');
    await putScreening(api, yard.manager.id, batch.id, { compostG: 31_250 });
    expect(await read(batch, 'balance')).toMatchObject({
      inputKg: 30,
      outputKg: 31.25,
      excessKg: 1.25,
      processLossKg: null,
      yieldPercent: null,
      problem: expect.stringMatching(/^1\.25 kg more came out than went in\./),
    });
  });

  it('accounts for every gram of any batch', async () => {
    const mass = fc.integer({ min: 1, max: 2_000_000 });
    await fc.assert(
      fc.asyncProperty(
        fc.array(mass, { minLength: 1, maxLength: 5 }),
        mass,
        fc.integer({ min: 1, max: 999 }),
        async (lots, chipsG, share) => {
          const batch = await yard.begin();
          for (const massG of lots) await assign(batch, massG);
          await add(batch, { mass: { value: chipsG, unit: 'g' } });
          await yard.enter(batch.id, 'active', 'curing');
          const inputG = lots.reduce((sum, massG) => sum + massG, chipsG);
          const outputG = Math.floor((inputG * share) / 1000);
          if (outputG > 0) {
            const compostG = Math.floor(outputG / 2);
            await putScreening(api, yard.manager.id, batch.id, { compostG, oversG: outputG - compostG });
          }
          await putRelease(api, yard.manager.id, batch.id);
          const { inputKg, outputKg, processLossKg } = await read(batch, 'balance');
          const grams = (value: number) => Math.round(value * 1000);
          expect([grams(inputKg), grams(outputKg)]).toEqual([inputG, outputG]);
          if (outputG > 0) expect(grams(processLossKg)).toBe(inputG - outputG);
          else expect(processLossKg).toBeNull();
        },
      ),
      { numRuns: 8 },
    );
  });
});

describe('what the other areas ask of batches', () => {
  it('gives a batch as it stands, its raw material by the moment, and its moves', async () => {
    const batch = await yard.begin();
    const at = (day: number) => `2026-03-0${day}T15:00:00.000Z`;
    const lots = [
      await lotAtHub1(api, programme, 4_000),
      await lotAtHub1(api, programme, 2_500),
      await lotAtHub1(api, programme, 3_000, { material: 'leaves' }),
      await lotAtHub1(api, programme, 9_000),
    ];
    const path = `/batches/${batch.id as string}/assignments`;
    const items = lots.slice(0, 3).map((dropOffId) => ({ dropOffId }));
    await post(path, { occurredAt: at(4), items });
    const { body: voided } = await post(path, { occurredAt: at(5), items: [{ dropOffId: lots[3] }] });
    await post(`${path}/${voided.items[0].id as string}/void`, { reason: 'x' });
    await add(batch, { mass: kg(12), occurredAt: at(4) });
    await add(batch, { from: 'water', material: undefined, mass: kg(7), occurredAt: at(6) });
    const giver = await yard.begin();
    await add(giver, { mass: kg(100) });
    await yard.enter(giver.id, 'active', 'curing');
    await putScreening(api, yard.manager.id, giver.id, { oversG: 40_000 });
    await add(batch, {
      from: 'overs',
      material: undefined,
      batchId: giver.id,
      mass: kg(8),
      occurredAt: at(7),
    });
    const bay = yard.freeBay();
    await post(`/batches/${batch.id as string}/moves`, { bay, occurredAt: at(8) });

    const flows = api.app.get(BatchFlowsService, { strict: false });
    expect(await flows.rawAdditions(batch.id)).toEqual([
      {
        occurredAtMs: Date.parse(at(4)),
        what: 'food-scraps 6.5 kg (2 drop-offs), leaves 3 kg (1 drop-off), wood-chips 12 kg from stock',
      },
      { occurredAtMs: Date.parse(at(7)), what: `overs 8 kg of overs of ${giver.code as string}` },
    ]);
    expect(await flows.moves(batch.id)).toMatchObject([
      { occurredAtMs: Date.parse(at(8)), fromBay: batch.bay, toBay: bay },
    ]);
    expect(await flows.moves(giver.id)).toEqual([]);
    const batches = api.app.get(BatchesService, { strict: false });
    expect(await batches.find(batch.id)).toMatchObject({
      id: batch.id,
      siteId: yard.yard.id,
      code: batch.code,
      stage: 'building',
      bayCode: bay,
      stages: [{ stage: 'building', enteredAt: new Date(batch.occurredAt) }],
    });
    await expect(batches.find(v7())).rejects.toMatchObject({ code: 'not-found' });
  });

  it('answers from inside a transaction what only that transaction has written', async () => {
    const batch = await yard.begin();
    await add(batch, { mass: kg(10) });
    const [batches, balances, mixes] = [
      api.app.get(BatchesService, { strict: false }),
      api.app.get(BalanceService, { strict: false }),
      api.app.get(MixService, { strict: false }),
    ];
    const undone = new Error('taken back');
    const work = api.app.get(Database).writeSql(async (sql) => {
      await sql.query(
        `INSERT INTO batch_stage (batch_id, stage, entered_at, recorded_by) VALUES ($1, 'active', now(), $2)`,
        [batch.id, yard.manager.id],
      );
      await sql.query(
        `UPDATE amendment SET voided_at = now(), voided_by = $2, void_reason = 'x' WHERE batch_id = $1`,
        [batch.id, yard.manager.id],
      );
      expect((await batches.find(batch.id, sql)).stage).toBe('active');
      expect((await balances.balance(batch.id, sql)).inputKg).toBe(0);
      expect((await mixes.mix(batch.id, sql)).massKg).toBe(0);
      throw undone;
    });
    await expect(work).rejects.toBe(undone);
    expect((await batches.find(batch.id)).stage).toBe('building');
    expect((await balances.balance(batch.id)).inputKg).toBe(10);
  });
});

describe('what the database itself refuses of batches', () => {
  it('is answered alike whichever door it came by', async () => {
    const batch = await yard.begin();
    const dropOffId = await lotAtHub1(api, programme, 1_000);
    const now = new Date();
    const row = { batchId: batch.id, dropOffId, occurredAt: now, recordedBy: yard.manager.id };
    const { prisma, sql } = api.app.get(Database);
    const insert = (massG: number) =>
      sql.query(
        `INSERT INTO assignment (id, batch_id, drop_off_id, mass_g, occurred_at, recorded_by) VALUES ($1, $2, $3, $4, $5, $6)`,
        [v7(), batch.id, dropOffId, massG, now, yard.manager.id],
      );
    const create = (massG: number) => prisma.assignment.create({ data: { id: v7(), ...row, massG } });
    const problemOf = (work: Promise<unknown>) => work.then(() => null, asProblem);
    for (const write of [insert, create]) {
      expect(await problemOf(write(1_001))).toMatchObject({
        status: 409,
        code: 'beyond-what-is-left',
        detail: 'Only 1 kg of this drop-off are left to assign.',
      });
    }
    const stage = { batchId: batch.id, stage: 'curing', enteredAt: now, recordedBy: yard.manager.id };
    expect(await problemOf(prisma.batchStage.create({ data: stage }))).toMatchObject({
      code: 'stage-order',
      detail: 'A batch does not go from building to curing.',
    });
    const neighbour = await yard.begin();
    const [bay] = await sql.query<{ bayId: string }>(
      `SELECT bay_id AS "bayId" FROM bay_stay WHERE batch_id = $1`,
      [neighbour.id],
    );
    const stay = { id: v7(), batchId: batch.id, bayId: bay!.bayId, fromAt: now, recordedBy: yard.manager.id };
    expect(await problemOf(prisma.bayStay.create({ data: stay }))).toMatchObject({ code: 'bay-occupied' });
    await yard.enter(batch.id, 'active');
    for (const write of [insert, create]) {
      expect(await problemOf(write(1))).toMatchObject({
        code: 'not-building',
        detail: 'The batch is active.',
      });
    }
  });
});
