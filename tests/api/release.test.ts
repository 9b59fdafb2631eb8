import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, putRelease, type Yard } from '../support/yard-work.js';

const code = (answer: any) => answer.body.type.replace('urn:heapwright:problem:', '');
const pointers = (answer: any) =>
  (answer.body.errors ?? []).map((fault: { pointer: string }) => fault.pointer).sort();
const kg = (value: number) => ({ value, unit: 'kg' });

describe('samples, screenings and distributions', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let manager: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    manager = yard.manager.token;
  });
  afterAll(() => api.stop());

  const post = (path: string, body: unknown, as = manager) => api.call('POST', path, { as, body });
  const get = (path: string, as = yard.operator.token) => api.call('GET', path, { as });
  const of = (batchId: string, what: string) => `/batches/${batchId}/${what}`;

  /** A curing batch of so many kilograms. */
  async function curing(massKg: number): Promise<string> {
    const { id } = await yard.begin();
    const lot = await lotAtHub1(api, programme, massKg * 1000);
    await made(api, of(id, 'assignments'), { items: [{ dropOffId: lot }] }, manager);
    await yard.enter(id, 'active', 'curing');
    return id;
  }

  /** A released batch that screening made so much compost of. */
  async function released(compost: object): Promise<string> {
    const id = await curing(1000);
    await made(api, of(id, 'screenings'), compost, manager);
    await putRelease(api, yard.manager.id, id);
    return id;
  }

  describe('a sample', () => {
    it('keeps what was found as it was reported', async () => {
      const id = await curing(100);
      const body = {
        ...{ id: v7(), kind: 'stability', outcome: 'passed' },
        results: [
          {
            ...{ parameter: 'co2-evolution', value: 3.2051, unit: 'mg CO2-C/g OM/day' },
            laboratoryWord: 'moderately stable',
          },
        ],
        ...{ finding: 'smells of earth', laboratory: 'Brook End laboratory', reference: 'BE-4411' },
        mass: { value: 1.5, unit: 'lb' },
      };
      const answer = await post(of(id, 'samples'), body);
      expect(answer.status).toBe(201);
      const { mass, ...same } = body;
      const entered = { mass };
      expect(answer.body).toMatchObject({ ...same, batchId: id, massKg: 0.68, entered, voidedAt: null });
      expect((await post(of(id, 'samples'), body)).status).toBe(200);
      expect(code(await post(of(id, 'samples'), { ...body, outcome: 'failed' }))).toBe('other-body');
      expect((await get(of(id, 'samples'))).body).toEqual({ items: [answer.body], next: null });
      expect(await auditOf(api, 'sample.recorded')).toContainEqual(
        expect.objectContaining({ subjectId: body.id, siteId: yard.yard.id, personId: yard.manager.id }),
      );
      expect((await get(of(id, 'balance'))).body.outputKg).toBe(0.68);
    });

    it.each([
      ['nothing found', {}, ['/results']],
      ['no figure in its list', { results: [] }, ['/results']],
      ['a figure on its own, as it was sent before', { value: 1, unit: '%' }, ['/unit', '/value']],
      ['a kind that is no code', { finding: 'ripe', kind: 'Maturity!' }, ['/kind']],
      ['an outcome of no kind', { finding: 'ripe', outcome: 'great' }, ['/outcome']],
      ['a negative mass', { finding: 'ripe', mass: kg(-1) }, ['/mass/value']],
      ['a time before the batch', { finding: 'ripe', occurredAt: '2026-01-01T00:00:00Z' }, ['/occurredAt']],
    ])('is refused with %s', async (_, facts, at) => {
      const answer = await post(of(await curing(1), 'samples'), {
        kind: 'maturity',
        outcome: 'passed',
        ...facts,
      });
      expect(answer.status).toBe(422);
      expect(pointers(answer)).toEqual(at);
    });

    it('weighs no more than went in, and is not taken before the batch is hot', async () => {
      const id = await curing(2);
      const facts = { kind: 'maturity', finding: 'ripe', outcome: 'information' };
      const heavy = await post(of(id, 'samples'), { ...facts, mass: kg(2.001) });
      expect([heavy.status, code(heavy)]).toEqual([409, 'balance-exceeded']);
      expect((await get(of(id, 'samples'))).body.items).toEqual([]);
      const building = (await yard.begin()).id as string;
      expect(code(await post(of(building, 'samples'), facts))).toBe('stage-closed');
    });
  });

  describe('a screening', () => {
    it('parts compost, overs and residue', async () => {
      const id = await curing(1000);
      const body = {
        ...{ compost: kg(400), compostVolume: { value: 1, unit: 'yd3' }, overs: kg(100), residue: kg(5) },
        ...{ residueWentTo: 'landfill', note: 'half-inch screen' },
      };
      const answer = await post(of(id, 'screenings'), body);
      expect(answer.status).toBe(201);
      const { residueWentTo, note, ...entered } = body;
      expect(answer.body).toMatchObject({
        ...{ compostKg: 400, compostVolumeL: 764.555, oversKg: 100, residueKg: 5 },
        ...{ residueWentTo, note, entered },
      });
      expect((await get(of(id, 'screenings'))).body.items).toEqual([answer.body]);
      expect((await get(of(id, 'balance'))).body).toMatchObject({ inputKg: 1000, outputKg: 505 });
    });

    it.each([
      ['nothing', {}, ['/compost']],
      ['zeroes', { compost: kg(0), overs: kg(0) }, ['/compost']],
      ['residue that went nowhere', { residue: kg(1) }, ['/residueWentTo']],
      ['a place for no residue', { compost: kg(1), residueWentTo: 'landfill' }, ['/residueWentTo']],
      ['a volume of nothing', { compost: kg(1), compostVolume: { value: 0, unit: 'L' } }, ['/compostVolume']],
      [
        'a volume without its mass',
        { overs: kg(1), compostVolume: { value: 1, unit: 'L' } },
        ['/compostVolume'],
      ],
      ['a time before the cure', { compost: kg(1), occurredAt: '2026-03-04T15:00:00Z' }, ['/occurredAt']],
    ])('is refused with %s', async (_, facts, at) => {
      const answer = await post(of(await curing(10), 'screenings'), facts);
      expect(answer.status).toBe(422);
      expect(pointers(answer)).toEqual(at);
    });

    it('gives no more than went in, however many screen at once', async () => {
      const id = await curing(10);
      const answers = await Promise.all(
        [1, 2, 3, 4].map(() => post(of(id, 'screenings'), { compost: kg(4) })),
      );
      expect(answers.map(({ status }) => status).sort()).toEqual([201, 201, 409, 409]);
      const refused = answers.find(({ status }) => status === 409);
      expect(code(refused)).toBe('balance-exceeded');
      expect(refused!.body.detail).toBe('12 kg would have come out of the 10 kg that went in.');
      expect((await get(of(id, 'balance'))).body).toMatchObject({ outputKg: 8, excessKg: null });
    });

    it('is not taken back from under a batch that has its overs', async () => {
      const id = await curing(100);
      const screening = (await post(of(id, 'screenings'), { compost: kg(50), overs: kg(20) })).body;
      const next = (await yard.begin()).id as string;
      const taken = await made(
        api,
        of(next, 'amendments'),
        { from: 'overs', batchId: id, mass: kg(15) },
        manager,
      );
      const path = `${of(id, 'screenings')}/${screening.id as string}/void`;
      const held = await post(path, { reason: 'wrong heap' });
      expect([held.status, code(held)]).toEqual([409, 'overs-beyond-what-is-left']);
      await api.call('POST', `${of(next, 'amendments')}/${taken.id as string}/void`, {
        as: manager,
        body: { reason: 'put back' },
      });
      const voided = await post(path, { reason: 'wrong heap' });
      expect(voided.body).toMatchObject({ id: screening.id, voidReason: 'wrong heap' });
      expect((await get(of(id, 'balance'))).body.outputKg).toBe(0);
    });

    it('waits for the cure', async () => {
      const { id } = await yard.begin();
      expect(code(await post(of(id, 'screenings'), { compost: kg(1) }))).toBe('stage-closed');
    });
  });

  describe('a distribution', () => {
    const gift = { recipient: 'community-garden', use: 'vegetable-beds' };

    it('is weighed, or measured by what a screening weighed', async () => {
      const id = await released({ compost: kg(500), compostVolume: { value: 1000, unit: 'L' } });
      const weighed = await post(of(id, 'distributions'), { ...gift, mass: kg(120.5), note: 'two trailers' });
      expect(weighed.status).toBe(201);
      expect(weighed.body).toMatchObject({ ...gift, massKg: 120.5, volumeL: null, basis: 'scale' });
      const volume = { value: 100, unit: 'L' };
      const measured = await post(of(id, 'distributions'), { ...gift, volume });
      expect(measured.body).toMatchObject({
        ...{ massKg: 50, volumeL: 100, basis: 'volume' },
        entered: { volume },
      });
      expect((await get(of(id, 'distributions'))).body.items).toHaveLength(2);
    });

    it('parts a heap by volume into parts that never weigh more than the heap', async () => {
      const id = await released({
        compost: { value: 607_336, unit: 'g' },
        compostVolume: { value: 1000, unit: 'L' },
      });
      const tenth = { ...gift, volume: { value: 100, unit: 'L' } };
      for (let part = 0; part < 10; part += 1) {
        expect((await post(of(id, 'distributions'), tenth)).body.massKg).toBe(60.733);
      }
      expect(code(await post(of(id, 'distributions'), tenth))).toBe('balance-exceeded');
    });

    it('is never more than was made, however many load at once', async () => {
      const id = await released({ compost: kg(10) });
      const answers = await Promise.all(
        [1, 2, 3].map(() => post(of(id, 'distributions'), { ...gift, mass: kg(5) })),
      );
      expect(answers.map(({ status }) => status).sort()).toEqual([201, 201, 409]);
      const refused = answers.find(({ status }) => status === 409)!;
      expect(refused.body.detail).toBe('15 kg would have left of the 10 kg of compost that were made.');
      const [{ id: first }] = (await get(of(id, 'distributions'))).body.items;
      const path = `${of(id, 'distributions')}/${first as string}/void`;
      expect((await post(path, { reason: 'brought back' })).body.voidReason).toBe('brought back');
      expect((await post(of(id, 'distributions'), { ...gift, mass: kg(5) })).status).toBe(201);
    });

    it.each([
      ['no amount', {}, ['/mass']],
      ['two amounts', { mass: kg(1), volume: { value: 1, unit: 'L' } }, ['/volume']],
      ['a volume that tells no mass', { volume: { value: 1, unit: 'L' } }, ['/volume']],
      ['nothing', { mass: kg(0) }, ['/mass']],
      ['a name for a kind', { mass: kg(1), recipient: 'Ada Marsh' }, ['/recipient']],
      ['a use of no kind', { mass: kg(1), use: 'breakfast' }, ['/use']],
      ['a time before the release', { mass: kg(1), occurredAt: '2026-03-04T15:00:00Z' }, ['/occurredAt']],
    ])('is refused with %s', async (_, facts, at) => {
      const answer = await post(of(await released({ compost: kg(9) }), 'distributions'), {
        ...gift,
        ...facts,
      });
      expect(answer.status).toBe(422);
      expect(pointers(answer)).toEqual(at);
    });

    it('waits for the release, and ends when the place is empty', async () => {
      const early = await post(of(await curing(10), 'distributions'), { ...gift, mass: kg(1) });
      expect([early.status, code(early), early.body.detail]).toEqual([
        409,
        'stage-closed',
        'The batch is curing.',
      ]);
      const id = await released({ compost: kg(10) });
      await yard.enter(id, 'emptied');
      expect(code(await post(of(id, 'distributions'), { ...gift, mass: kg(1) }))).toBe('stage-closed');
    });
  });

  it('are a manager’s, and read by the crew', async () => {
    const id = await curing(10);
    for (const what of ['samples', 'screenings', 'distributions']) {
      expect((await get(of(id, what))).status, what).toBe(200);
      expect((await get(of(id, what), programme.people.volunteer.token)).status, what).toBe(403);
      for (const path of [of(id, what), `${of(id, what)}/${v7()}/void`]) {
        expect((await api.call('POST', path, { body: {} })).status, path).toBe(401);
        expect((await post(path, {}, yard.operator.token)).status, path).toBe(403);
        expect((await post(path, {}, programme.people.otherManager.token)).status, path).toBe(403);
      }
    }
  });

  it.each(['samples', 'screenings'])('are taken back once: %s', async (what) => {
    const id = await curing(10);
    const body = {
      samples: { kind: 'maturity', finding: 'ripe', outcome: 'passed' },
      screenings: { overs: kg(1) },
    }[what];
    const kept = (await post(of(id, what), body)).body;
    const path = `${of(id, what)}/${kept.id as string}/void`;
    const voided = await post(path, { reason: 'another heap' });
    expect(voided.body).toEqual({ ...kept, voidedAt: expect.any(String), voidReason: 'another heap' });
    expect((await post(path, { reason: 'another heap' })).body).toEqual(voided.body);
    expect(code(await post(path, { reason: 'no, this one' }))).toBe('conflict');
  });
});
