import fc from 'fast-check';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DiversionService } from '../../apps/api/reporting/diversion.service.js';
import type { DiversionFigures, DivertedMasses } from '#libs/accounting';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, sqlOf, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const NEXT_YEAR = `${new Date().getUTCFullYear() + 1}-12-31`;

describe('the diversion of what was hauled, merged and screened', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
  });
  afterAll(() => api.stop());

  const figures = (from: string, to: string, changes: object = {}): Promise<DiversionFigures> =>
    api.app.get(DiversionService).figures(sqlOf(api), {
      ...{ jurisdictionId: programme.jurisdictions.larkHollow.id, from, to, siteIds: null },
      residueTo: 'traced',
      ...changes,
    });
  const county = () => ({ jurisdictionId: programme.jurisdictions.thistleFord.id });
  const lot = (massG: number, occurredAt: string, facts: object = {}) =>
    lotAtHub1(api, programme, massG, { occurredAt, ...facts });
  const into = (batchId: string, occurredAt: string, ...lots: string[]) =>
    made(api, `/batches/${batchId}/assignments`, {
      items: lots.map((dropOffId) => ({ dropOffId })),
      occurredAt,
    });
  const stockOn = async (day: string) => (await figures(day, NEXT_YEAR)).stockAtStart;

  let batch: { id: string };

  it('says where the material lay on any day, as it went in', async () => {
    const first = await yard.begin({ occurredAt: '2026-03-03T15:00:00Z' });
    batch = await yard.begin({ occurredAt: '2026-03-03T15:00:00Z' });
    const lots = [
      await lot(100_000, '2026-03-02T16:00:00Z'),
      await lot(100_000, '2026-03-02T16:00:00Z', county()),
    ];
    await into(first.id, '2026-03-03T16:00:00Z', ...lots);
    await into(batch.id, '2026-03-04T16:00:00Z', await lot(300_000, '2026-03-03T16:00:00Z'));
    await made(api, `/batches/${batch.id}/merges`, {
      fromBatchId: first.id,
      occurredAt: '2026-03-05T16:00:00Z',
    });

    expect(await stockOn('2026-03-02')).toMatchObject({ waitingKg: 0, buildingKg: 0 });
    expect(await stockOn('2026-03-03')).toMatchObject({ waitingKg: 100, buildingKg: 0 });
    expect(await stockOn('2026-03-04')).toMatchObject({ waitingKg: 300, buildingKg: 100 });
    expect(await stockOn('2026-03-05')).toMatchObject({ waitingKg: 0, buildingKg: 400 });
    // Merged on, and counted once.
    expect(await stockOn('2026-03-06')).toEqual({
      ...{ on: '2026-03-06', waitingKg: 0, onTheRoadKg: 0, buildingKg: 400, activeKg: 0, curingKg: 0 },
    });
  });

  it('books residue through a merge to where its material came from', async () => {
    await yard.enter(batch.id, 'active', 'curing');
    const residue = { residue: kg(50), residueWentTo: 'landfill' };
    await made(api, `/batches/${batch.id}/screenings`, { compost: kg(100), overs: kg(200), ...residue });
    const town = await figures('2026-03-01', NEXT_YEAR);
    expect(town.total).toMatchObject({ acceptedKg: 400, residueKg: 40, landfilledKg: 40, divertedKg: 360 });
    expect(town.stockAtEnd).toMatchObject({ buildingKg: 0, curingKg: 400 });
    expect((await figures('2026-03-01', NEXT_YEAR, county())).total).toMatchObject({
      residueKg: 10,
      divertedKg: 90,
    });
  });

  it('books all of it to where the yard stands where that is the convention', async () => {
    const asYard = { residueTo: 'site' };
    const town = await figures('2026-03-01', NEXT_YEAR, asYard);
    expect(town).toMatchObject({ residueTo: 'site', total: { residueKg: 50, divertedKg: 350 } });
    expect(town.bySite).toMatchObject([
      { code: 'HS', acceptedKg: 0, residueKg: 50 },
      { code: 'QS', acceptedKg: 400, residueKg: 0 },
    ]);
    expect((await figures('2026-03-01', NEXT_YEAR, { ...county(), ...asYard })).total.residueKg).toBe(0);
    const hubsAlone = { ...asYard, siteIds: [programme.hub1.id] };
    expect((await figures('2026-03-01', NEXT_YEAR, hubsAlone)).total.residueKg).toBe(0);
  });

  it('follows returned overs into the batch that took them', async () => {
    const next = await yard.begin();
    const countys = await lot(800_000, '2026-04-02T16:00:00Z', county());
    await made(api, `/batches/${next.id as string}/assignments`, { items: [{ dropOffId: countys }] });
    const overs = { from: 'overs', batchId: batch.id, mass: kg(200) };
    await made(api, `/batches/${next.id as string}/amendments`, overs);
    await yard.enter(next.id, 'active', 'curing');
    const before = await figures('2026-03-01', NEXT_YEAR);
    const residue = { residue: kg(10), residueWentTo: 'recycling' };
    await made(api, `/batches/${next.id as string}/screenings`, { compost: kg(1), ...residue });
    const after = await figures('2026-03-01', NEXT_YEAR);
    // 200 kg of overs are four fifths the town's: 160 of 1,000 kg, of which 1.6 of the 10 kg. Recycled, it stays diverted.
    expect(after.total.residueKg - before.total.residueKg).toBeCloseTo(1.6, 9);
    expect(after.total.divertedKg).toBe(before.total.divertedKg);
    expect(after.residue).toEqual([
      { wentTo: 'landfill', massKg: 40 },
      { wentTo: 'recycling', massKg: 1.6 },
    ]);
  });

  it('tells what was on the road, what a haul was shared back to, and what somebody else composts', async () => {
    const haul = (lots: string[], to: object) =>
      made(api, '/hauls', {
        ...{ siteId: programme.hub1.id, occurredAt: '2026-05-05T16:00:00Z', lots: { dropOffIds: lots } },
        ...to,
      });
    const guessed = await lot(40_000, '2026-05-04T16:00:00Z', { basis: 'volume', material: 'leaves' });
    const { id } = await haul([guessed], { toSiteId: yard.yard.id });
    await haul([await lot(20_000, '2026-05-04T16:00:00Z')], { elsewhere: 'Bramble Lane Growers' });
    const received = { occurredAt: '2026-05-07T16:00:00Z', weight: { net: kg(50) } };
    await made(api, `/hauls/${id as string}/receipt`, received, yard.operator.token);

    const { total, byMaterial, stockAtStart, stockAtEnd } = await figures('2026-05-01', '2026-05-06');
    expect(total).toMatchObject({
      lots: 2,
      acceptedKg: 70,
      weighedKg: 20,
      sharedKg: 50,
      estimatedKg: 0,
      elsewhereKg: 20,
    });
    expect(byMaterial.map(({ material, elsewhereKg }) => [material, elsewhereKg])).toEqual([
      ['food-scraps', 20],
      ['leaves', 0],
    ]);
    expect(stockAtStart).toMatchObject({ waitingKg: 0, onTheRoadKg: 0 });
    expect(stockAtEnd).toMatchObject({ on: '2026-05-06', waitingKg: 0, onTheRoadKg: 50 });
    expect(await stockOn('2026-05-08')).toMatchObject({ waitingKg: 50, onTheRoadKg: 0 });
    // The hub has it no more, and the yard has it.
    const of = async (siteId: string) =>
      (await figures('2026-05-08', NEXT_YEAR, { siteIds: [siteId] })).stockAtStart;
    expect((await of(programme.hub1.id)).waitingKg).toBe(0);
    expect((await of(yard.yard.id)).waitingKg).toBe(50);
  });

  it('of two periods that meet is the sum of theirs, wherever they meet', { timeout: 120_000 }, async () => {
    await manyLots(api, programme, 300);
    await fewGrams(api, batch.id, programme.people.manager.id);
    const day = fc.integer({ min: 1, max: 364 }).map((days) => dayAfter('2025-01-01', days));
    const residueTo = fc.constantFrom('traced', 'site');
    await fc.assert(
      fc.asyncProperty(day, residueTo, async (middle, convention) => {
        const asked = { residueTo: convention };
        const whole = await figures('2025-01-01', '2026-01-01', asked);
        const [first, second] = [
          await figures('2025-01-01', middle, asked),
          await figures(middle, '2026-01-01', asked),
        ];
        expect(whole.total.residueKg).toBeGreaterThan(0);
        expect(added(first, second)).toEqual(added(whole));
        expect(first.stockAtEnd).toEqual(second.stockAtStart);
        expect([first.stockAtStart, second.stockAtEnd]).toEqual([whole.stockAtStart, whole.stockAtEnd]);
      }),
      { numRuns: 12 },
    );
  });
});

const dayAfter = (day: string, days: number): string =>
  new Date(Date.parse(day) + days * 86_400_000).toISOString().slice(0, 10);

/** Lots and refused loads all over 2025, through midnights and both changes of the clock; a tenth have something pulled of them. */
async function manyLots(
  api: TestApi,
  { hub1, hub2, jurisdictions, people }: Programme,
  count: number,
): Promise<void> {
  for (let index = 0; index < count; index += 1) {
    const at = new Date(
      Date.parse('2025-01-01T07:00:00Z') + (index * 365 * 86_400_000) / count,
    ).toISOString();
    const reject = {
      contaminant: 'glass',
      mass: { value: 0.25, unit: 'kg' },
      wentTo: index % 20 ? 'landfill' : 'recycling',
    };
    await made(
      api,
      '/drop-offs',
      {
        ...{
          id: v7(),
          siteId: index % 3 ? hub1.id : hub2.id,
          occurredAt: at,
          jurisdictionId: jurisdictions.larkHollow.id,
        },
        ...{ material: index % 5 ? 'food-scraps' : 'leaves', depositor: index % 7 ? 'household' : 'school' },
        ...(index % 4 ? { weight: { net: kg(3 + (index % 11)) } } : { volume: { value: 20, unit: 'L' } }),
        ...(index % 10 ? {} : { rejects: [reject] }),
      },
      index % 2 ? api.coordinator : people.coordinator.token,
    );
  }
}

/** Residue that does not part evenly, out of one batch on several days of 2025. */
async function fewGrams(api: TestApi, batchId: string, personId: string): Promise<void> {
  for (const [month, residueG] of [7, 11, 3, 1, 13].entries()) {
    const facts = [
      v7(),
      batchId,
      `2025-0${month + 2}-15T18:00:00Z`,
      residueG,
      month % 2 ? 'landfill' : 'recycling',
      personId,
    ];
    await sqlOf(api).query(
      `INSERT INTO screening (id, batch_id, occurred_at, compost_g, overs_g, residue_g, residue_went_to, entered, body_sha256, recorded_by)
       VALUES ($1, $2, $3, 0, 0, $4, $5, '{}', '\\x00', $6)`,
      facts,
    );
  }
}

/** Grams and counts of periods by what they are of, added up; cells without anything are left out. */
function added(...all: DiversionFigures[]): Map<string, number> {
  const sums = new Map<string, number>();
  const add = (key: string, value: number) => sums.set(key, (sums.get(key) ?? 0) + value);
  const addMasses = (key: string, { lots, ...masses }: DivertedMasses) => {
    add(`${key} lots`, lots);
    for (const [name, value] of Object.entries(masses)) {
      if (typeof value === 'number') add(`${key} ${name}`, Math.round(value * 1000));
    }
  };
  for (const figures of all) {
    addMasses('total', figures.total);
    for (const cell of figures.byMaterial) addMasses(cell.material, cell);
    for (const cell of figures.bySite) addMasses(cell.code, cell);
    for (const cell of figures.byMonth) addMasses(cell.month, cell);
    for (const { wentTo, massKg } of figures.pulled) add(`pulled ${wentTo}`, Math.round(massKg * 1000));
    for (const { wentTo, massKg } of figures.residue) add(`residue ${wentTo}`, Math.round(massKg * 1000));
    for (const { depositor, visits, acceptedKg } of figures.byDepositor) {
      add(`${depositor} visits`, visits);
      add(`${depositor} accepted`, Math.round(acceptedKg * 1000));
    }
    add('visits', figures.visits);
    add('refused', figures.refused.loads);
  }
  return new Map([...sums].filter(([, value]) => value !== 0).sort(([a], [b]) => (a < b ? -1 : 1)));
}
