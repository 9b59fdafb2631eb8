import fc from 'fast-check';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, putLot, sqlOf, type Yard } from '../support/yard-work.js';

const code = (answer: any) => answer.body.type.replace('urn:heapwright:problem:', '');
const pointers = (answer: any) =>
  answer.body.errors.map((fault: { pointer: string }) => fault.pointer).sort();
const g = (value: number) => ({ value, unit: 'g' });

describe('assignments of drop-offs', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
  });
  afterAll(() => api.stop());

  const post = (path: string, body: unknown, as = yard.manager.token) => api.call('POST', path, { as, body });
  const get = (path: string) => api.call('GET', path, { as: yard.operator.token });
  const pathOf = (batch: { id: string }) => `/batches/${batch.id}/assignments`;
  const lot = (massG: number, facts: Parameters<typeof lotAtHub1>[3] = {}) =>
    lotAtHub1(api, programme, massG, facts);
  const assignedG = async (dropOffId: string) => {
    const [row] = await sqlOf(api).query<{ massG: number }>(
      `SELECT coalesce(sum(mass_g), 0)::bigint AS "massG" FROM assignment WHERE drop_off_id = $1 AND voided_at IS NULL`,
      [dropOffId],
    );
    return row!.massG;
  };

  it('takes a drop-off whole, or so much of it, and tells what is in the batch', async () => {
    const batch = await yard.begin();
    const [whole, part] = [await lot(12_345), await lot(10_000, { material: 'leaves', basis: 'volume' })];
    const answer = await post(pathOf(batch), {
      occurredAt: '2026-03-04T15:00:00Z',
      items: [{ dropOffId: whole }, { dropOffId: part, mass: { value: 4, unit: 'lb' } }],
    });
    expect(answer.status).toBe(201);
    // 4 lb is 1 814.369 48 g: NIST Handbook 44, Appendix C.
    expect(answer.body).toMatchObject({
      lots: 2,
      massKg: 14.159,
      items: [
        {
          dropOffId: whole,
          massKg: 12.345,
          material: 'food-scraps',
          basis: 'scale',
          siteId: programme.hub1.id,
        },
        { dropOffId: part, massKg: 1.814, material: 'leaves', basis: 'volume', voidedAt: null },
      ],
    });
    const listed = await get(pathOf(batch));
    const byId = (a: { id: string }, b: { id: string }) => (a.id < b.id ? -1 : 1);
    expect(listed.body.items.toSorted(byId)).toEqual(answer.body.items.toSorted(byId));
    const { totals } = (await get(`/batches/${batch.id as string}`)).body;
    expect(totals).toMatchObject({ assignments: 2, dropOffKg: 14.159, inputKg: 14.159, estimatedKg: 1.814 });
    const line = (await auditOf(api, 'batch.drop-offs-assigned')).at(-1);
    expect(line).toMatchObject({ subjectId: batch.id, detail: { lots: 2, massG: 14_159 } });
  });

  it('keeps every gram over any split of a drop-off among batches', async () => {
    const batches = await Promise.all([yard.begin(), yard.begin(), yard.begin()]);
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 3, max: 50_000_000 }),
        fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true })),
        async (massG, [share1, share2]) => {
          const dropOffId = await lot(massG);
          const first = 1 + Math.floor(share1 * (massG - 3));
          const second = 1 + Math.floor(share2 * (massG - first - 2));
          const parts = [{ mass: g(first) }, { mass: g(second) }, {}];
          const masses: number[] = [];
          for (const [index, part] of parts.entries()) {
            const answer = await post(pathOf(batches[index]), { items: [{ dropOffId, ...part }] });
            expect(answer.status).toBe(201);
            masses.push(Math.round(answer.body.massKg * 1000));
          }
          expect(masses[0]! + masses[1]! + masses[2]!).toBe(massG);
          expect(await assignedG(dropOffId)).toBe(massG);
          const beyond = await post(pathOf(batches[0]), { items: [{ dropOffId, mass: g(1) }] });
          expect([beyond.status, code(beyond)]).toEqual([409, 'beyond-what-is-left']);
        },
      ),
      { numRuns: 15 },
    );
  });

  it('refuses more than is left, and then keeps nothing of the request', async () => {
    const batch = await yard.begin();
    const [good, short] = [await lot(5_000), await lot(2_000)];
    const beyond = await post(pathOf(batch), {
      items: [{ dropOffId: good }, { dropOffId: short, mass: g(2_001) }],
    });
    expect([beyond.status, code(beyond), pointers(beyond)]).toEqual([
      409,
      'beyond-what-is-left',
      ['/items/1'],
    ]);
    expect(beyond.body.detail).toBe('Only 2 kg of this drop-off are left to assign.');
    expect(await assignedG(good)).toBe(0);
    expect((await post(pathOf(batch), { items: [{ dropOffId: short }] })).status).toBe(201);
    const nothing = await post(pathOf(batch), { items: [{ dropOffId: short }] });
    expect([nothing.status, code(nothing)]).toEqual([409, 'beyond-what-is-left']);
    expect(await assignedG(short)).toBe(2_000);
  });

  it('never takes more than there is when the same drop-off is assigned at the same moment', async () => {
    const batches = await Promise.all([yard.begin(), yard.begin()]);
    const dropOffId = await lot(9_000);
    const tries = [6_000, 6_000, 2_000, 2_000, 2_000].map((massG, index) =>
      post(pathOf(batches[index % 2]), { items: [{ dropOffId, mass: g(massG) }] }),
    );
    const answers = await Promise.all(tries);
    const taken = answers.filter(({ status }) => status === 201);
    expect(new Set(answers.map(({ status }) => status))).toEqual(new Set([201, 409]));
    const sum = taken.reduce((total, { body }) => total + body.massKg * 1000, 0);
    expect(await assignedG(dropOffId)).toBe(sum);
    expect(sum).toBeLessThanOrEqual(9_000);
  });

  it('counts an item that is sent again with its id once', async () => {
    const batch = await yard.begin();
    const [whole, part] = [await lot(3_000), await lot(8_000)];
    const items = [
      { id: v7(), dropOffId: whole },
      { id: v7(), dropOffId: part, mass: g(3_000) },
    ];
    const answers = await Promise.all([1, 2, 3].map(() => post(pathOf(batch), { items })));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    for (const { body } of answers) expect(body).toEqual(answers[0]!.body);
    expect([await assignedG(whole), await assignedG(part)]).toEqual([3_000, 3_000]);
    const other = await post(pathOf(batch), { items: [{ ...items[1], mass: g(1_000) }] });
    expect([other.status, code(other)]).toEqual([409, 'other-body']);
    const elsewhere = await post(pathOf(await yard.begin()), { items });
    expect([elsewhere.status, code(elsewhere)]).toEqual([409, 'other-body']);
  });

  it('refuses what no assignment can be', async () => {
    const batch = await yard.begin();
    const dropOffId = await lot(1_000);
    const cases: [object, string[]][] = [
      [{}, ['/items']],
      [{ items: [] }, ['/items']],
      [{ items: [{ dropOffId }], allUnassigned: { siteIds: [programme.hub1.id] } }, ['/items']],
      [{ items: [{ dropOffId: v7() }] }, ['/items/0/dropOffId']],
      [{ items: [{ dropOffId: 'a' }] }, ['/items/0/dropOffId']],
      [{ items: [{ dropOffId }, { dropOffId: dropOffId.toUpperCase() }] }, ['/items/1/dropOffId']],
      [{ items: [{ dropOffId, mass: g(0) }] }, ['/items/0/mass']],
      [{ items: [{ dropOffId, mass: g(-1) }] }, ['/items/0/mass/value']],
      [{ items: [{ dropOffId, mass: { value: 60, unit: 't' } }] }, ['/items/0/mass']],
      [{ items: [{ dropOffId, mass: { value: 1, unit: 'stone' } }] }, ['/items/0/mass/unit']],
      [{ items: [{ dropOffId, weight: 1 }] }, ['/items/0/weight']],
      [{ occurredAt: '2026-03-01T15:00:00Z', items: [{ dropOffId }] }, ['/occurredAt']],
      [{ occurredAt: '2026-03-04T15:00:00', items: [{ dropOffId }] }, ['/occurredAt']],
      [{ allUnassigned: { siteIds: [] } }, ['/allUnassigned/siteIds']],
      [{ allUnassigned: { siteIds: ['x'] } }, ['/allUnassigned/siteIds']],
      [
        { allUnassigned: { siteIds: [programme.hub1.id], upTo: '2999-01-01T00:00:00Z' } },
        ['/allUnassigned/upTo'],
      ],
    ];
    for (const [body, expected] of cases) {
      const answer = await post(pathOf(batch), body);
      expect([body, answer.status, pointers(answer)]).toEqual([body, 422, expected]);
    }
    const future = await lot(1_000, { occurredAt: '2026-03-05T15:00:00Z' });
    const early = await post(pathOf(batch), {
      occurredAt: '2026-03-04T15:00:00Z',
      items: [{ dropOffId: future }],
    });
    expect([early.status, pointers(early)]).toEqual([422, ['/items/0/dropOffId']]);
    expect(await assignedG(dropOffId)).toBe(0);
  });

  it('takes lots only of hubs at which the manager is an operator at least', async () => {
    const batch = await yard.begin();
    const facts = {
      siteId: programme.hub2.id,
      jurisdictionId: programme.jurisdictions.thistleFord.id,
      personId: programme.people.coordinator.id,
      massG: 4_000,
    };
    const dropOffId = await putLot(api, facts);
    const byId = await post(pathOf(batch), { items: [{ dropOffId }] });
    expect([byId.status, code(byId)]).toEqual([403, 'other-site']);
    const allUnassigned = { siteIds: [programme.hub1.id, programme.hub2.id] };
    const all = await post(pathOf(batch), { allUnassigned });
    expect([all.status, code(all)]).toEqual([403, 'other-site']);
    expect(await assignedG(dropOffId)).toBe(0);
    const coordinated = await post(pathOf(batch), { items: [{ dropOffId }] }, api.coordinator);
    expect([coordinated.status, coordinated.body.massKg]).toEqual([201, 4]);
    const nowhere = await post(pathOf(batch), { allUnassigned: { siteIds: [v7()] } }, api.coordinator);
    expect(nowhere.status).toBe(404);
  });

  /** A drop-off of 4 kg, through the hub's own door, with what a correction of it restates. */
  async function dropOff() {
    const stated = {
      occurredAt: '2026-03-02T16:00:00Z',
      material: 'food-scraps',
      jurisdictionId: programme.jurisdictions.larkHollow.id,
      depositor: 'household',
    };
    const body = { siteId: programme.hub1.id, ...stated, weight: { net: g(4_000) } };
    const { id } = await made<{ id: string }>(api, '/drop-offs', body, programme.people.volunteer.token);
    const correct = (massG: number) =>
      post(`/drop-offs/${id}/corrections`, {
        ...stated,
        weight: { net: g(massG) },
        rejects: [],
        reason: 'again',
      });
    return { id, correct, void: () => post(`/drop-offs/${id}/void`, { reason: 'entered twice' }) };
  }

  it('refuses a voided drop-off', async () => {
    const batch = await yard.begin();
    const lot = await dropOff();
    expect((await lot.void()).status).toBe(200);
    const answer = await post(pathOf(batch), { items: [{ dropOffId: lot.id }] });
    expect([answer.status, code(answer), pointers(answer)]).toEqual([
      409,
      'drop-off-voided',
      ['/items/0/dropOffId'],
    ]);
    const waiting = { siteIds: [programme.hub1.id], upTo: '2026-03-02T16:00:00Z' };
    await post(pathOf(batch), { allUnassigned: waiting });
    expect(await assignedG(lot.id)).toBe(0);
  });

  it('refuses that a correction or a void takes away what is in a batch', async () => {
    const batch = await yard.begin();
    const lot = await dropOff();
    const { items } = (await post(pathOf(batch), { items: [{ dropOffId: lot.id, mass: g(3_000) }] })).body;
    for (const answer of [await lot.correct(2_999), await lot.void()])
      expect([answer.status, code(answer)]).toEqual([409, 'assigned-already']);
    expect((await lot.correct(3_000)).status).toBe(201);
    const left = await post(pathOf(batch), { items: [{ dropOffId: lot.id, mass: g(1) }] });
    expect([left.status, code(left)]).toEqual([409, 'beyond-what-is-left']);
    await post(`${pathOf(batch)}/${items[0].id as string}/void`, { reason: 'x' });
    expect((await lot.void()).status).toBe(200);
  });

  it('takes an assignment back while the batch is built, and its grams can go elsewhere', async () => {
    const [batch, next] = [await yard.begin(), await yard.begin()];
    const dropOffId = await lot(4_000);
    const { items } = (await post(pathOf(batch), { items: [{ dropOffId }] })).body;
    const path = `${pathOf(batch)}/${items[0].id as string}/void`;
    expect(pointers(await post(path, {}))).toEqual(['/reason']);
    expect((await post(`${pathOf(next)}/${items[0].id as string}/void`, { reason: 'x' })).status).toBe(404);
    const voided = await post(path, { reason: 'wrong bay' });
    expect(voided.status).toBe(200);
    expect(voided.body).toMatchObject({ id: items[0].id, massKg: 4, voidReason: 'wrong bay' });
    expect((await post(path, { reason: 'wrong bay' })).body).toEqual(voided.body);
    const again = await post(path, { reason: 'another' });
    expect([again.status, code(again)]).toEqual([409, 'conflict']);
    expect((await get(`/batches/${batch.id as string}`)).body.totals).toMatchObject({
      assignments: 0,
      inputKg: 0,
    });
    expect((await get(pathOf(batch))).body.items).toEqual([voided.body]);
    expect((await post(pathOf(next), { items: [{ dropOffId }] })).body.massKg).toBe(4);
    const lines = (await auditOf(api, 'assignment.voided')).filter(
      ({ subjectId }) => subjectId === items[0].id,
    );
    expect(lines).toMatchObject([
      { siteId: yard.yard.id, detail: { batchId: batch.id, reason: 'wrong bay' } },
    ]);
  });

  it('assigns to a batch that is building and to no other', async () => {
    const batch = await yard.begin();
    const [first, second] = [await lot(4_000), await lot(5_000)];
    const { items } = (await post(pathOf(batch), { items: [{ dropOffId: first }] })).body;
    await yard.enter(batch.id, 'active');
    const late = await post(pathOf(batch), { items: [{ dropOffId: second }] });
    expect([late.status, code(late), late.body.detail]).toEqual([
      409,
      'not-building',
      'The batch is active.',
    ]);
    const all = await post(pathOf(batch), { allUnassigned: { siteIds: [programme.hub1.id] } });
    expect([all.status, code(all)]).toEqual([409, 'not-building']);
    const back = await post(`${pathOf(batch)}/${items[0].id as string}/void`, { reason: 'x' });
    expect([back.status, code(back)]).toEqual([409, 'not-building']);
    expect(await assignedG(second)).toBe(0);
  });

  it('pages through what is in a batch, the latest first', async () => {
    const batch = await yard.begin();
    const lots = [await lot(1_000), await lot(2_000), await lot(3_000)];
    for (const [index, dropOffId] of lots.entries()) {
      const occurredAt = `2026-03-0${index + 4}T15:00:00Z`;
      await post(pathOf(batch), { occurredAt, items: [{ dropOffId }] });
    }
    const first = await get(`${pathOf(batch)}?limit=2`);
    const second = await get(`${pathOf(batch)}?limit=2&cursor=${first.body.next as string}`);
    const all = [...first.body.items, ...second.body.items];
    expect(all.map((item: { dropOffId: string }) => item.dropOffId)).toEqual(lots.toReversed());
    expect(second.body.next).toBeNull();
  });
});

describe('everything that waits at the hubs', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
  });
  afterAll(() => api.stop());

  const assign = (batch: { id: string }, body: object) =>
    api.call('POST', `/batches/${batch.id}/assignments`, { as: yard.manager.token, body });

  it('goes into the batch up to a time, with what was left of lots that were split', async () => {
    const batch = await yard.begin();
    const lots = await Promise.all(
      ['2026-03-02T16:00:00Z', '2026-03-03T16:00:00Z', '2026-03-04T16:00:00Z', '2026-03-06T16:00:00Z'].map(
        (occurredAt, index) => lotAtHub1(api, programme, 1_000 * (index + 1), { occurredAt }),
      ),
    );
    await assign(await yard.begin(), { items: [{ dropOffId: lots[1], mass: g(500) }] });
    const hub1 = [programme.hub1.id];
    const body = {
      occurredAt: '2026-03-05T15:00:00Z',
      allUnassigned: { siteIds: hub1, upTo: '2026-03-04T16:00:00Z' },
    };
    const answer = await assign(batch, body);
    expect(answer.status).toBe(201);
    expect(answer.body).toEqual({ lots: 3, massKg: 1 + 1.5 + 3 });
    // Sent again, it finds nothing that waits.
    const again = await assign(batch, body);
    expect([again.status, again.body]).toEqual([200, { lots: 0, massKg: 0 }]);
    // Without a time of its own it goes up to the assignment's.
    const rest = await assign(batch, { allUnassigned: { siteIds: hub1.map((id) => id.toUpperCase()) } });
    expect(rest.body).toEqual({ lots: 1, massKg: 4 });
    const { totals } = (await api.call('GET', `/batches/${batch.id as string}`, { as: yard.operator.token }))
      .body;
    expect(totals).toMatchObject({ assignments: 4, dropOffKg: 9.5 });
    const path = `/batches/${batch.id as string}/assignments`;
    const { items } = (await api.call('GET', path, { as: yard.operator.token })).body;
    expect(items.map(({ id }: { id: string }) => id[14])).toEqual(['7', '7', '7', '7']);
    const line = (await auditOf(api, 'batch.drop-offs-assigned')).at(-1);
    expect(line!.detail).toMatchObject({ lots: 1, massG: 4_000, hubs: hub1 });
  });

  it('is shared out, each lot once, when two batches and a hand reach for it at the same moment', async () => {
    const lots = await Promise.all(
      Array.from({ length: 30 }, (_, index) => lotAtHub1(api, programme, 100 + index)),
    );
    const [left, right, third] = [await yard.begin(), await yard.begin(), await yard.begin()];
    const allUnassigned = { siteIds: [programme.hub1.id] };
    const answers = await Promise.all([
      assign(left, { allUnassigned }),
      assign(third, { items: [{ dropOffId: lots[0], mass: g(40) }] }),
      assign(right, { allUnassigned }),
    ]);
    // The hand may find its lot taken; the other two never fail.
    expect([answers[0].status, answers[2].status].sort()).toEqual([200, 201]);
    expect([201, 409]).toContain(answers[1].status);
    const [sums] = await sqlOf(api).query<{ assignedG: number; acceptedG: number }>(
      `SELECT sum(assigned_g)::bigint AS "assignedG", sum(accepted_g)::bigint AS "acceptedG" FROM drop_off_now
       WHERE drop_off_id = ANY($1)`,
      [lots],
    );
    expect(sums!.assignedG).toBe(sums!.acceptedG);
  });
});
