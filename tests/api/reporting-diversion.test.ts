import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { makeYard, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });

describe('the live diversion of a jurisdiction', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;

  const diversion = (query: Record<string, string> = {}, as = api.coordinator) => {
    const asked = {
      jurisdictionId: programme.jurisdictions.larkHollow.id,
      from: '2025-07-01',
      to: '2026-07-01',
    };
    return api.call('GET', `/diversion?${new URLSearchParams({ ...asked, ...query }).toString()}`, { as });
  };
  const lot = (changes: object = {}) =>
    made(api, '/drop-offs', {
      ...{ siteId: programme.hub1.id, occurredAt: '2025-08-15T16:00:00Z' },
      ...{ material: 'food-scraps', depositor: 'household', weight: { net: kg(10) } },
      ...changes,
    });
  const ofThistleFord = () => ({ jurisdictionId: programme.jurisdictions.thistleFord.id });

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
  });
  afterAll(() => api.stop());

  it('is for managers', async () => {
    const { volunteer, operator, municipalReader } = programme.people;
    expect((await api.call('GET', '/diversion')).status).toBe(401);
    for (const { token } of [volunteer, operator, municipalReader]) {
      expect((await diversion({}, token)).status).toBe(403);
    }
  });

  it('is empty before anything was brought', async () => {
    const { body } = await diversion();
    expect(body).toMatchObject({
      jurisdiction: 'Town of Lark Hollow',
      ...{ from: '2025-07-01', to: '2026-07-01', everySite: true },
      total: { lots: 0, acceptedKg: 0, divertedKg: 0, landfilledKg: 0 },
      ...{ estimatedShare: null, acceptedShortTons: '0.00', divertedShortTons: '0.00', residueTo: 'traced' },
      ...{ byMaterial: [], bySite: [], byMonth: [], pulled: [], residue: [], visits: 0, byDepositor: [] },
      stockAtStart: { on: '2025-07-01', waitingKg: 0, curingKg: 0 },
    });
  });

  const wrong: [Record<string, string>, string][] = [
    [{ jurisdictionId: '0197f0a0-0000-7000-8000-00000000000a' }, '/jurisdictionId'],
    [{ jurisdictionId: 'lark-hollow' }, '/jurisdictionId'],
    [{ from: '2025-02-29' }, '/from'],
    [{ from: '2025-7-1' }, '/from'],
    [{ to: '2025-07-01' }, '/to'],
    [{ from: '2026-07-02' }, '/to'],
    [{ weight: '3' }, '/weight'],
  ];
  it.each(wrong)('refuses %j', async (query, pointer) => {
    const answer = await diversion(query);
    expect(answer.status).toBe(422);
    expect(answer.body.errors.map((fault: any) => fault.pointer)).toContain(pointer);
  });

  it('adds up what stands, by material, site and month', async () => {
    await lot();
    await lot({
      occurredAt: '2025-09-01T16:00:00Z',
      material: 'leaves',
      volume: { value: 100, unit: 'L' },
      weight: undefined,
    });
    await lot({ rejects: [{ contaminant: 'glass', mass: kg(1.5), wentTo: 'landfill' }] });
    await lot({ siteId: programme.hub2.id, jurisdictionId: programme.jurisdictions.larkHollow.id });
    await lot(ofThistleFord());
    const corrected = await lot();
    const whole = {
      occurredAt: '2025-08-15T16:00:00Z',
      material: 'food-scraps',
      depositor: 'household',
      rejects: [],
    };
    await made(api, `/drop-offs/${corrected.id as string}/corrections`, {
      ...{ ...whole, jurisdictionId: programme.jurisdictions.larkHollow.id },
      ...{ weight: { net: kg(7) }, reason: 'Read off by hand again' },
    });
    const voided = await lot();
    await api.call('POST', `/drop-offs/${voided.id as string}/void`, {
      as: api.coordinator,
      body: { reason: 'twice' },
    });
    const refusal = {
      siteId: programme.hub1.id,
      occurredAt: '2025-08-15T16:00:00Z',
      material: 'food-scraps',
    };
    await made(api, '/refusals', {
      ...refusal,
      contaminant: 'mixed',
      mass: kg(4),
      reason: 'A bag of rubbish',
    });
    await made(api, '/refusals', { ...refusal, contaminant: 'mixed', reason: 'Another' });

    const { body } = await diversion();
    const estimatedKg = body.total.estimatedKg as number;
    const acceptedKg = Math.round((35.5 + estimatedKg) * 1000) / 1000;
    expect(estimatedKg).toBeGreaterThan(1);
    expect(body).toMatchObject({
      total: {
        lots: 5,
        acceptedKg,
        weighedKg: 35.5,
        sharedKg: 0,
        pulledKg: 1.5,
        residueKg: 0,
        divertedKg: acceptedKg,
      },
      refused: { loads: 2, massKg: 4, unweighed: 1 },
      pulled: [{ wentTo: 'landfill', massKg: 1.5 }],
      // Four lots of one household at one moment, at two sites and at another time.
      visits: 3,
      byDepositor: [{ depositor: 'household', visits: 3, acceptedKg }],
      estimatedShare: estimatedKg / acceptedKg,
      acceptedShortTons: (acceptedKg / 907.18474).toFixed(2),
    });
    expect(body.byMaterial).toMatchObject([
      { material: 'food-scraps', lots: 4, acceptedKg: 35.5, estimatedKg: 0, pulledKg: 1.5 },
      { material: 'leaves', lots: 1, acceptedKg: estimatedKg, estimatedKg },
    ]);
    expect(body.bySite.map(({ code, lots }: any) => [code, lots])).toEqual([
      ['QS', 4],
      ['WG', 1],
    ]);
    expect(body.byMonth.map(({ month, lots }: any) => [month, lots])).toEqual([
      ['2025-08', 4],
      ['2025-09', 1],
    ]);
    const other = await diversion(ofThistleFord());
    expect(other.body.total).toMatchObject({ lots: 1, acceptedKg: 10 });
  });

  it('takes the reporting year of the jurisdiction around a day', async () => {
    const { larkHollow, thistleFord } = programme.jurisdictions;
    const yearOf = async (jurisdictionId: string, day: string, more = '') =>
      api.call('GET', `/diversion?jurisdictionId=${jurisdictionId}&yearOf=${day}${more}`, {
        as: api.coordinator,
      });
    expect((await yearOf(larkHollow.id, '2025-06-30')).body).toMatchObject({
      from: '2024-07-01',
      to: '2025-07-01',
    });
    expect((await yearOf(larkHollow.id, '2025-07-01')).body).toEqual((await diversion()).body);
    expect((await yearOf(thistleFord.id, '2025-07-01')).body).toMatchObject({
      from: '2025-01-01',
      to: '2026-01-01',
    });
    expect((await yearOf(larkHollow.id, '2025-02-29')).body.errors[0].pointer).toBe('/yearOf');
    expect((await yearOf(larkHollow.id, '2025-07-01', '&to=2025-08-01')).status).toBe(422);
  });

  it('counts by the local day of the site, summer time included', async () => {
    const period = { from: '2025-11-02', to: '2025-11-03' };
    // Clocks go back in that night: the day lasts 25 hours, from 06:00 to 07:00 the next day in UTC.
    for (const occurredAt of ['05:59:59', '06:00:00']) await lot({ occurredAt: `2025-11-02T${occurredAt}Z` });
    for (const occurredAt of ['06:59:59', '07:00:00']) await lot({ occurredAt: `2025-11-03T${occurredAt}Z` });
    expect((await diversion(period)).body.total.lots).toBe(2);
    const months = (await diversion({ from: '2025-11-01', to: '2025-12-01' })).body.byMonth;
    expect(months).toMatchObject([{ month: '2025-11', lots: 4 }]);
  });

  it('shows a manager their own sites only, and says so', async () => {
    const { body } = await diversion(
      { from: '2025-08-01', to: '2025-09-01' },
      programme.people.manager.token,
    );
    expect(body).toMatchObject({ everySite: false, total: { lots: 3 } });
    expect(body.bySite.map(({ code }: any) => code)).toEqual(['QS']);
  });

  it('gives the residue of a batch back to where its material came from, to the gram', async () => {
    const batch = await yard.begin({ occurredAt: '2026-03-03T15:00:00Z' });
    const lots = [
      await lot({ occurredAt: '2026-03-02T16:00:00Z', weight: { net: kg(100) } }),
      await lot({ occurredAt: '2026-03-02T16:00:00Z', weight: { net: kg(100) }, ...ofThistleFord() }),
      await lot({
        occurredAt: '2026-03-02T16:00:00Z',
        weight: { net: kg(100) },
        siteId: programme.hub2.id,
        ...ofThistleFord(),
      }),
    ];
    const path = `/batches/${batch.id as string}`;
    await made(api, `${path}/assignments`, { items: lots.map(({ id }) => ({ dropOffId: id })) });
    const water = { from: 'water', volume: { value: 500, unit: 'L' } };
    await made(api, `${path}/amendments`, water);
    await yard.enter(batch.id, 'active', 'curing');
    const period = { from: '2026-03-04', to: `${new Date().getUTCFullYear() + 1}-12-31` };
    const residue = { value: 10, unit: 'g' };
    await made(api, `${path}/screenings`, { compost: kg(50), residue, residueWentTo: 'landfill' });

    const town = (await diversion(period)).body;
    const county = (await diversion({ ...ofThistleFord(), ...period })).body;
    // 10 g over three lots of 100 kg: 4, 3 and 3 g, whatever the order; the parts make the whole.
    const residueKg = town.total.residueKg as number;
    expect(residueKg + Number(county.total.residueKg)).toBeCloseTo(0.01, 9);
    expect([0.003, 0.004]).toContain(residueKg);
    expect(town.total).toMatchObject({
      lots: 0,
      acceptedKg: 0,
      landfilledKg: residueKg,
      divertedKg: -residueKg,
    });
    expect(town.byMonth).toMatchObject([{ lots: 0, residueKg }]);
    expect(county.bySite.map(({ code }: any) => code)).toEqual(['QS', 'WG']);
    expect(county.byMaterial).toMatchObject([{ material: 'food-scraps', residueKg: county.total.residueKg }]);
    const elsewhere = (await diversion({ from: '2026-01-01', to: '2026-02-01' })).body;
    expect(elsewhere.total.residueKg).toBe(0);
  });
});
