import fc from 'fast-check';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { BEGUN_AT, lotAtHub1, makeYard, putScreening, sqlOf, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const after = (hours: number) => new Date(Date.parse(BEGUN_AT) + hours * 3_600_000).toISOString();

let api: TestApi;
let programme: Programme;
let yard: Yard;
beforeAll(async () => {
  api = await startApi();
  programme = await makeProgramme(api);
  yard = await makeYard(api, programme);
});
afterAll(() => api.stop());

interface Batch {
  id: string;
  code: string;
}
const post = (path: string, body: unknown, as = yard.manager.token) => api.call('POST', path, { as, body });
const read = async (batch: { id: string }, what = '') =>
  (await api.call('GET', `/batches/${batch.id}${what}`, { as: yard.operator.token })).body;
const codeOf = (body: unknown) => (body as { type: string }).type.replace('urn:heapwright:problem:', '');
const merge = (taker: Batch, giver: Batch, facts: object = {}) =>
  post(`/batches/${taker.id}/merges`, { fromBatchId: giver.id, ...facts });

/** A batch of so many kilograms of wood chips, in the stage named. */
async function pile(massKg: number, ...stages: string[]): Promise<Batch> {
  const batch = (await yard.begin()) as Batch;
  const chips = { from: 'stock', material: 'wood-chips', mass: kg(massKg), occurredAt: BEGUN_AT };
  if (massKg > 0) await made(api, `/batches/${batch.id}/amendments`, chips, yard.manager.token);
  await yard.enter(batch.id, ...stages);
  return batch;
}

describe('merging', () => {
  it('puts all that lies there into the other, by the records where nobody weighed it', async () => {
    const [taker, giver] = [await pile(40, 'active'), await pile(30, 'active', 'curing')];
    const { status, body } = await merge(taker, giver, { note: 'both had shrunk' });
    expect(status).toBe(201);
    expect(body).toMatchObject({
      ...{ batchId: taker.id, batch: taker.code, fromBatchId: giver.id, fromBatch: giver.code },
      ...{ basis: 'records', massKg: 30, note: 'both had shrunk', entered: {} },
    });
    expect(await read(giver)).toMatchObject({ stage: 'merged', bay: null, totals: { outputKg: 30 } });
    expect(await read(taker)).toMatchObject({ stage: 'active', totals: { inputKg: 70, mergedInKg: 30 } });
    expect(await read(giver, '/balance')).toMatchObject({ outputKg: 30, processLossKg: 0 });
    expect((await read(taker, '/balance')).inputs).toContainEqual(
      expect.objectContaining({ kind: 'merged-in', massKg: 30, estimatedKg: 30 }),
    );
  });

  it('takes what was weighed, and what is missing was lost to the air', async () => {
    const [taker, giver] = [await pile(0), await pile(30, 'active')];
    const { body } = await merge(taker, giver, { mass: kg(21.5) });
    expect(body).toMatchObject({ basis: 'scale', massKg: 21.5, entered: { mass: kg(21.5) } });
    expect(await read(giver, '/balance')).toMatchObject({ stillHereKg: 0, processLossKg: 8.5 });
    expect(await read(taker)).toMatchObject({ totals: { inputKg: 21.5, estimatedKg: 0 } });
  });

  it('reckons it from the pile and a bucket of it, and keeps the pile with its batch', async () => {
    const [taker, giver] = [await pile(0), await pile(600, 'active')];
    const metres = (value: number) => ({ value, unit: 'm' });
    const size = { shape: 'bin', length: metres(1), width: metres(1), height: metres(1) };
    const density = { full: kg(6), empty: kg(1), volume: { value: 10, unit: 'L' } };
    expect(await merge(taker, giver, { pile: size })).toMatchObject({ status: 422 });
    expect(await merge(taker, giver, { pile: { ...size, density }, mass: kg(1) })).toMatchObject({
      status: 422,
    });
    const { body } = await merge(taker, giver, { pile: { ...size, density } });
    expect(body).toMatchObject({ basis: 'volume', massKg: 500, entered: { pile: { shape: 'bin' } } });
    expect((await read(giver, '/pile-measurements')).items).toMatchObject([{ massKg: 500, volumeL: 1000 }]);
    expect(await read(taker)).toMatchObject({ totals: { inputKg: 500, estimatedKg: 500 } });
  });

  it('is told of both, the latest first, and once however often it is sent', async () => {
    const [a, b, c] = [await pile(5), await pile(6), await pile(7)];
    const body = { id: v7(), fromBatchId: a.id };
    const first = await post(`/batches/${b.id}/merges`, body);
    const again = await post(`/batches/${b.id}/merges`, body);
    expect([first.status, again.status]).toEqual([201, 200]);
    expect(again.body).toEqual(first.body);
    expect(await post(`/batches/${b.id}/merges`, { ...body, note: 'x' })).toMatchObject({ status: 409 });
    expect(await post(`/batches/${c.id}/merges`, body)).toMatchObject({
      body: { type: 'urn:heapwright:problem:other-body' },
    });
    await merge(c, b);
    expect((await read(b, '/merges')).items).toMatchObject([
      { batch: c.code, fromBatch: b.code, massKg: 11 },
      { batch: b.code, fromBatch: a.code, massKg: 5 },
    ]);
    expect((await read(b, '/merges?limit=1')).next).toEqual(expect.any(String));
  });

  it('leaves its bay to others', async () => {
    const bay = yard.freeBay();
    const giver = (await yard.begin({ bay })) as Batch;
    await made(api, `/batches/${giver.id}/amendments`, { from: 'water', mass: kg(1) }, yard.manager.token);
    await merge(await pile(1), giver);
    expect(await yard.begin({ bay, occurredAt: new Date().toISOString() })).toMatchObject({ bay });
  });

  it('closes the batch that went for everything', async () => {
    const [taker, giver] = [await pile(40), await pile(30, 'active')];
    const lot = await lotAtHub1(api, programme, 1_000);
    await merge(taker, giver);
    const closed: [string, object][] = [
      ['assignments', { items: [{ dropOffId: lot }] }],
      ['amendments', { from: 'water', mass: kg(1) }],
      ['checks', { readings: [{ position: 'core-1', temperature: { value: 50, unit: 'C' } }] }],
      ['turns', {}],
      ['waterings', { volume: { value: 1, unit: 'L' } }],
      ['samples', { kind: 'maturity', outcome: 'passed', finding: 'stable' }],
      ['screenings', { compost: kg(1) }],
      ['moves', { bay: yard.freeBay() }],
      ['stage', { to: 'curing' }],
      ['stage', { to: 'condemned', reason: 'smells' }],
      ['merges', { fromBatchId: taker.id }],
    ];
    for (const [what, body] of closed) {
      expect([what, (await post(`/batches/${giver.id}/${what}`, body)).status]).toEqual([what, 409]);
    }
    expect(await merge(await pile(1), giver)).toMatchObject({
      status: 409,
      body: { type: 'urn:heapwright:problem:stage-closed' },
    });
  });

  it('keeps what a lot is told to be, once the batch that it came to is closed', async () => {
    const [taker, giver] = [await pile(40), await pile(0)];
    const lot = await lotAtHub1(api, programme, 1_000);
    await made(api, `/batches/${giver.id}/assignments`, { items: [{ dropOffId: lot }] }, yard.manager.token);
    await merge(taker, giver);
    const revise = (revision: number, material: string) =>
      sqlOf(api).query(
        `INSERT INTO drop_off_revision (drop_off_id, revision, site_id, occurred_at, material_code, jurisdiction_id,
           depositor, basis, net_g, rejected_g, accepted_g, entered, warnings, reason, recorded_by)
         SELECT drop_off_id, $2, site_id, occurred_at, $3, jurisdiction_id, depositor, basis, net_g, rejected_g,
           accepted_g, entered, warnings, 'was read wrong', recorded_by
         FROM drop_off_revision WHERE drop_off_id = $1 AND superseded_by IS NULL`,
        [lot, revision, material],
      );
    await revise(2, 'leaves');
    await made(api, `/batches/${taker.id}/stage`, { to: 'condemned', reason: 'flooded' }, yard.manager.token);
    await expect(revise(3, 'food-scraps')).rejects.toThrow(/whose record is closed/);
  });
});

describe('the lineage', () => {
  it('goes through overs and merges, step by step, both ways', async () => {
    const first = await pile(9, 'active', 'curing');
    await putScreening(api, yard.manager.id, first.id, { oversG: 2_000 });
    const [second, third] = [await pile(5), await pile(4)];
    const overs = { from: 'overs', batchId: first.id, mass: kg(2) };
    await made(api, `/batches/${second.id}/amendments`, overs, yard.manager.token);
    await merge(third, second);
    const brief = (links: { kind: string; steps: number; massKg: number }[]) =>
      links.map(({ kind, steps, massKg }) => [kind, steps, massKg]);
    expect(brief((await read(third, '/lineage')).from)).toEqual([
      ['merge', 1, 7],
      ['overs', 2, 2],
    ]);
    expect(brief((await read(first, '/lineage')).to)).toEqual([
      ['overs', 1, 2],
      ['merge', 2, 7],
    ]);
  });
});

describe('a merge is refused', () => {
  const refused = async (answer: Promise<{ status: number; body: unknown }>) => {
    const { status, body } = await answer;
    const { detail, errors } = body as { detail: string; errors?: { pointer: string }[] };
    return [status, codeOf(body), errors?.[0]?.pointer ?? detail];
  };

  it('of a batch into itself, of none, and of another yard', async () => {
    const taker = await pile(5);
    expect(await refused(merge(taker, taker))).toEqual([422, 'invalid', '/fromBatchId']);
    expect(await refused(merge(taker, { id: v7(), code: '' }))).toEqual([422, 'invalid', '/fromBatchId']);
    const { id } = programme.yard1;
    const other = await made(
      api,
      '/batches',
      { siteId: id, bay: 'A1', method: 'turned-bins' },
      programme.people.coordinator.token,
    );
    expect(await refused(merge(taker, other as Batch))).toEqual([422, 'invalid', '/fromBatchId']);
    const asCoordinator = post(
      `/batches/${taker.id}/merges`,
      { fromBatchId: other.id },
      programme.people.coordinator.token,
    );
    expect(await refused(asCoordinator)).toEqual([422, 'invalid', '/fromBatchId']);
  });

  it('of more than the records leave, of nothing, and of an empty batch', async () => {
    const [taker, giver] = [await pile(5), await pile(8)];
    expect(await refused(merge(taker, giver, { mass: kg(8.001) }))).toEqual([
      409,
      'balance-exceeded',
      '/mass',
    ]);
    expect(await refused(merge(taker, giver, { mass: kg(0) }))).toEqual([422, 'invalid', '/mass']);
    expect(await refused(merge(taker, await pile(0)))).toEqual([
      ...[409, 'conflict'],
      expect.stringMatching(/^By the records nothing lies there of /),
    ]);
    expect(await read(giver)).toMatchObject({ stage: 'building' });
  });

  it('before either was begun, and before what is recorded of the one that goes', async () => {
    const [taker, giver] = [await pile(5), await pile(8)];
    await made(api, `/batches/${giver.id}/turns`, { occurredAt: after(48) }, yard.operator.token);
    expect(await refused(merge(taker, giver, { occurredAt: after(-1) }))).toEqual([
      422,
      'invalid',
      '/occurredAt',
    ]);
    expect(await refused(merge(taker, giver, { occurredAt: after(47) }))).toEqual([
      422,
      'invalid',
      '/occurredAt',
    ]);
    expect(await merge(taker, giver, { occurredAt: after(48) })).toMatchObject({ status: 201 });
  });

  it('of or into what was screened or condemned', async () => {
    const [screened, pile1, condemned] = [await pile(9, 'active', 'curing'), await pile(8), await pile(7)];
    await putScreening(api, yard.manager.id, screened.id, { compostG: 2_000, oversG: 500 });
    const what = 'What was screened is compost, overs and residue: nothing is merged into it or out of it.';
    expect(await refused(merge(screened, pile1))).toEqual([409, 'conflict', what]);
    expect(await refused(merge(pile1, screened))).toEqual([409, 'conflict', what]);
    await made(
      api,
      `/batches/${condemned.id}/stage`,
      { to: 'condemned', reason: 'flooded' },
      yard.manager.token,
    );
    expect(await refused(merge(pile1, condemned))).toEqual([
      ...[409, 'stage-closed', `${condemned.code} is condemned.`],
    ]);
    expect(await refused(merge(condemned, pile1))).toEqual([409, 'stage-closed', 'The batch is condemned.']);
  });

  it('of a batch on hold, which would be lost in another', async () => {
    const [taker, giver] = [await pile(5), await pile(8)];
    await sqlOf(api).query(
      `INSERT INTO batch_hold (id, batch_id, occurred_at, reason, body_sha256, recorded_by)
       VALUES ($1, $2, now(), 'hay with herbicide', '\\x00', $3)`,
      [v7(), giver.id, yard.manager.id],
    );
    expect(await refused(merge(taker, giver))).toEqual([
      409,
      'batch-on-hold',
      'The batch is on hold: it is not lost in another.',
    ]);
  });

  it('to whoever is no manager of the yard', async () => {
    const [taker, giver] = [await pile(5), await pile(8)];
    const body = { fromBatchId: giver.id };
    expect(await post(`/batches/${taker.id}/merges`, body, yard.operator.token)).toMatchObject({
      status: 403,
    });
    expect(await api.call('POST', `/batches/${taker.id}/merges`, { body })).toMatchObject({ status: 401 });
    expect(await read(giver)).toMatchObject({ stage: 'building' });
  });
});

describe('a circle', () => {
  it('cannot be made of merges, even at the same moment', async () => {
    const [a, b] = [await pile(5), await pile(6)];
    const answers = await Promise.all([merge(a, b), merge(b, a)]);
    expect(answers.map(({ status }) => status).toSorted()).toEqual([201, 409]);
  });

  it('cannot be made of overs and a merge: what gave overs takes nothing any more', async () => {
    const giver = await pile(9, 'active', 'curing');
    await putScreening(api, yard.manager.id, giver.id, { oversG: 2_000 });
    const taker = await pile(5);
    const overs = { from: 'overs', batchId: giver.id, mass: kg(2) };
    await made(api, `/batches/${taker.id}/amendments`, overs, yard.manager.token);
    expect(await merge(giver, taker)).toMatchObject({ status: 409 });
  });

  it('cannot be made by screening a batch while another is merged into it', async () => {
    const [taker, giver] = [await pile(9, 'active', 'curing'), await pile(5)];
    const screening = post(`/batches/${taker.id}/screenings`, { overs: kg(1) });
    const answers = await Promise.all([screening, merge(taker, giver)]);
    const [screened, merged] = answers.map(({ status }) => status);
    expect(screened).toBe(201);
    // Whichever came first: overs of a batch that took all it takes, or no merge into what was screened.
    expect([201, 409]).toContain(merged);
    const overs = { from: 'overs', batchId: taker.id, mass: kg(1) };
    const back = await post(`/batches/${giver.id}/amendments`, overs);
    expect(back.status).toBe(merged === 201 ? 409 : 201);
  });

  it('cannot be made by any order of merges, screenings and overs', async () => {
    const number = fc.integer({ min: 0, max: 3 });
    const step = fc.record({
      what: fc.constantFrom('merge', 'screen', 'overs', 'cure'),
      from: number,
      to: number,
    });
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 8, maxLength: 16 }), async (steps) => {
        const batches = [await pile(8), await pile(8), await pile(8), await pile(8)];
        for (const { what, from, to } of steps) {
          const [giver, taker] = [batches[from]!, batches[to]!];
          if (what === 'merge') await merge(taker, giver);
          else if (what === 'screen') await post(`/batches/${giver.id}/screenings`, { overs: kg(1) });
          else if (what === 'overs')
            await post(`/batches/${taker.id}/amendments`, {
              from: 'overs',
              batchId: giver.id,
              mass: kg(0.5),
            });
          else
            for (const stage of ['active', 'curing']) await post(`/batches/${giver.id}/stage`, { to: stage });
        }
        const circles = await sqlOf(api).query(
          `WITH RECURSIVE way (start_id, batch_id, steps) AS (
             SELECT giver_id, taker_id, 1 FROM batch_link WHERE giver_id = ANY ($1::uuid[])
             UNION
             SELECT way.start_id, l.taker_id, way.steps + 1 FROM way JOIN batch_link l ON l.giver_id = way.batch_id
             WHERE way.steps < 10)
           SELECT 1 FROM way WHERE start_id = batch_id`,
          [batches.map(({ id }) => id)],
        );
        expect(circles).toEqual([]);
      }),
      { numRuns: 6 },
    );
  });
});
