import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startingMaterials } from '#libs/materials';
import { Problem } from '../../apps/api/http/problems/catalogue.js';
import { SiteFactsService } from '../../apps/api/sites/site-facts.service.js';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';

const NOBODY = '01900000-0000-7000-8000-000000000000';
const at = (text: string) => Date.parse(text);

describe('what the other areas ask of sites', () => {
  let api: TestApi;
  let programme: Programme;
  let facts: SiteFactsService;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    facts = api.app.get(SiteFactsService, { strict: false });
  });
  afterAll(() => api.stop());

  it('answers every lot in order, with all that it refers to', async () => {
    const { hub1, containers, instruments, jurisdictions, permits } = programme;
    const [whole, bare, unknown] = await facts.forIntake(hub1.id, [
      {
        ...{ materialCode: 'food-scraps', jurisdictionId: jurisdictions.larkHollow.id },
        // A client may write a UUID in capitals.
        ...{ containerId: containers.bucket.id.toUpperCase(), instrumentId: instruments.scale.id },
        atMs: at('2026-05-02T15:00:00Z'),
      },
      { materialCode: 'sawdust', atMs: at('2026-05-02T15:00:00Z') },
      {
        ...{ materialCode: 'moonstone', jurisdictionId: NOBODY, containerId: NOBODY, instrumentId: NOBODY },
        atMs: at('2024-05-02T15:00:00Z'),
      },
    ]);
    const site = {
      ...{ id: hub1.id, code: 'QS', timeZone: 'America/Denver', takesDropOffs: true },
      ...{ jurisdictionId: jurisdictions.larkHollow.id, openedOn: '2025-03-01' },
    };
    const scraps = startingMaterials.find(({ code }) => code === 'food-scraps')!;
    expect(whole).toEqual({
      site,
      material: {
        ...{ code: 'food-scraps', name: scraps.name, class: 'nitrogen' },
        ...{ traits: [...scraps.traits], retired: false },
        bulkDensityKgM3: scraps.bulkDensityKgM3!.typical,
        densitySource: scraps.bulkDensityKgM3!.source,
      },
      jurisdictionKnown: true,
      container: {
        ...{ id: containers.bucket.id, siteId: hub1.id, code: 'B-07', tareG: 953, volumeMl: 18_927 },
        retired: false,
      },
      instrument: {
        ...{ id: instruments.scale.id, siteId: hub1.id, kind: 'scale' },
        division: { value: 0.1, unit: 'lb' },
        retired: false,
      },
      permit: { id: permits.hub1.id, reference: 'LH-COMP-12', allowsMaterial: true },
    });
    expect(bare).toMatchObject({
      ...{ material: { code: 'sawdust' }, jurisdictionKnown: true, container: null, instrument: null },
      permit: { allowsMaterial: false },
    });
    expect(unknown).toEqual({
      site,
      ...{ material: null, jurisdictionKnown: false, container: null, instrument: null, permit: null },
    });
  });

  it('names what is of another site or retired as such', async () => {
    const { hub1, containers, people } = programme;
    const options = { as: people.manager.token, body: { retired: true }, headers: { 'if-match': '"1"' } };
    expect((await api.call('PATCH', `/containers/${containers.tote.id}`, options)).status).toBe(200);
    const [lot] = await facts.forIntake(hub1.id, [
      { materialCode: 'leaves', containerId: containers.tote.id, atMs: Date.now() },
    ]);
    expect(lot?.container).toMatchObject({ siteId: programme.yard1.id, tareG: 11_500, retired: true });
  });

  it('refuses a site that is not there, and answers no lots with nothing', async () => {
    const lots = [{ materialCode: 'leaves', atMs: Date.now() }];
    await expect(facts.forIntake(NOBODY, lots)).rejects.toMatchObject({ code: 'invalid' });
    await expect(facts.site(NOBODY)).rejects.toBeInstanceOf(Problem);
    expect(await facts.forIntake(programme.hub1.id, [])).toEqual([]);
  });

  it('finds the permit of the local day, first and last day included', async () => {
    const { yard2 } = programme;
    const limits = {
      ...{ minimumProbes: 3, longestGapHours: 30, cureDays: 14, cureReheat: { value: 45, unit: 'C' } },
      ...{ storedVolumeMax: { value: 4_000, unit: 'yd3' }, yearlyMassMax: { value: 5_000, unit: 't' } },
    };
    const permit = await made<{ id: string }>(api, '/permits', {
      ...{ siteId: yard2.id, reference: 'TF-7', validFrom: '2026-03-08', validTo: '2026-03-09', ...limits },
      ...{ processRule: 'us-503-pfrp-windrow', processReading: 'consecutive', requiredSamples: ['maturity'] },
    });
    // Denver is seven hours behind UTC before 2026-03-08, 02:00, and six after it.
    const found = async (moment: string) => (await facts.permitAt(yard2.id, at(moment)))?.id ?? null;
    expect(await found('2026-03-08T06:59:59Z')).toBeNull();
    expect(await found('2026-03-08T07:00:00Z')).toBe(permit.id);
    expect(await found('2026-03-10T05:59:59Z')).toBe(permit.id);
    expect(await found('2026-03-10T06:00:00Z')).toBeNull();
    expect(await facts.permitAt(yard2.id, at('2026-03-09T12:00:00Z'))).toEqual({
      ...{
        id: permit.id,
        furtherRules: [],
        siteId: yard2.id,
        reference: 'TF-7',
        validFrom: '2026-03-08',
        validTo: '2026-03-09',
      },
      ...{ processRule: 'us-503-pfrp-windrow', processReading: 'consecutive', minimumProbes: 3 },
      ...{ longestGapHours: 30, cureDays: 14, cureReheatDeciC: 450, requiredSamples: ['maturity'] },
      ...{ storedVolumeMaxMl: 3_058_219_432, yearlyMassMaxG: 5_000_000_000 },
      ...{ massYearStart: '01-01', weeklyMassMaxG: null, materials: [], mixTargets: [] },
    });
  });

  it('takes a permit that lists no materials as one that allows all', async () => {
    const { yard2 } = programme;
    await made(api, '/permits', { siteId: yard2.id, reference: 'TF-8', validFrom: '2026-04-01' });
    const [lot] = await facts.forIntake(yard2.id, [
      { materialCode: 'sawdust', atMs: at('2026-05-02T15:00:00Z') },
    ]);
    expect(lot?.permit).toMatchObject({ reference: 'TF-8', allowsMaterial: true });
  });

  it('knows a site and its bays', async () => {
    const { yard1, jurisdictions } = programme;
    expect(await facts.site(yard1.id)).toEqual({
      ...{ id: yard1.id, code: 'MB', name: 'Mallow Bank yard', timeZone: 'America/Denver' },
      ...{ jurisdictionId: jurisdictions.larkHollow.id, takesDropOffs: false, runsBatches: true },
      openedOn: '2025-03-01',
    });
    expect(await facts.bay(yard1.id, 'A2')).toMatchObject({ code: 'A2', siteId: yard1.id });
    expect(await facts.bay(yard1.id, 'B1')).toBeNull();
  });

  it('hands on the figures as the library states them', async () => {
    const byCode = (a: { code: string }, b: { code: string }) => (a.code < b.code ? -1 : 1);
    expect(await facts.materialFigures()).toEqual([...startingMaterials].sort(byCode));
    const some = await facts.materialFigures(['leaves', 'moonstone']);
    expect(some).toEqual(startingMaterials.filter(({ code }) => code === 'leaves'));
  });
});
