import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SiteFactsService } from '../../apps/api/sites/site-facts.service.js';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { makeProgramme, type Programme } from '../support/programme.js';

const NOBODY = '01900000-0000-7000-8000-000000000000';
const target = (facts: object) => ({ figure: 'carbonToNitrogen', ...facts });

describe('permits', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterAll(() => api.stop());

  const post = (body: object) => api.call('POST', '/permits', { as: api.coordinator, body });
  const patch = (id: string, version: number, body: object) =>
    api.call('PATCH', `/permits/${id}`, {
      as: api.coordinator,
      body,
      headers: { 'if-match': `"${version}"` },
    });
  const ofYard2 = (body: object) => ({
    ...{ siteId: programme.yard2.id, reference: 'TF-7', validFrom: '2026-01-01', validTo: '2026-12-31' },
    ...body,
  });

  it('keeps every limit of the permit, and what was typed', async () => {
    const answer = await post(
      ofYard2({
        ...{ processRule: 'us-503-pfrp-windrow', processReading: 'cumulative' },
        ...{ minimumProbes: 5, longestGapHours: 24, cureDays: 21, cureReheat: { value: 104, unit: 'F' } },
        ...{ storedVolumeMax: { value: 500, unit: 'yd3' }, yearlyMassMax: { value: 2, unit: 'short-ton' } },
        ...{ weeklyMassMax: { value: 1000, unit: 'lb' }, massYearStart: '07-01' },
        ...{ materials: ['leaves', 'food-scraps', 'leaves'], requiredSamples: ['pathogens', 'maturity'] },
      }),
    );
    expect(answer.status).toBe(201);
    expect(answer.headers.etag).toBe('"1"');
    expect(answer.body).toMatchObject({
      ...{ validFrom: '2026-01-01', validTo: '2026-12-31' },
      ...{ processRule: 'us-503-pfrp-windrow', processReading: 'cumulative' },
      ...{ minimumProbes: 5, longestGapHours: 24, cureDays: 21, cureReheatC: 40 },
      // 500 yd³ of 764.554857984 L and 2 short tons of 907.18474 kg, NIST Handbook 44, Appendix C.
      ...{ storedVolumeMaxL: 382_277.429, yearlyMassMaxKg: 1814.369 },
      ...{ weeklyMassMaxKg: 453.592, massYearStart: '07-01' },
      ...{ materials: ['food-scraps', 'leaves'], requiredSamples: ['pathogens', 'maturity'] },
      entered: {
        cureReheat: { value: 104, unit: 'F' },
        storedVolumeMax: { value: 500, unit: 'yd3' },
        yearlyMassMax: { value: 2, unit: 'short-ton' },
        weeklyMassMax: { value: 1000, unit: 'lb' },
      },
    });
    const read = await api.call('GET', `/permits/${answer.body.id as string}`, { as: api.coordinator });
    expect(read.body).toEqual(answer.body);
  });

  it('keeps what it asks of a mix, and lets it be changed and cleared', async () => {
    const asked = [{ figure: 'moisturePercent', max: 60.5 }, target({ min: 25, max: 30 })];
    const { body } = await post({
      ...{ siteId: programme.hub2.id, reference: 'LH-OLD', validFrom: '2020-01-01', validTo: '2020-12-31' },
      mixTargets: asked,
    });
    const { id } = body as { id: string };
    const kept = [
      { figure: 'carbonToNitrogen', min: 25, max: 30 },
      { figure: 'moisturePercent', min: null, max: 60.5 },
    ];
    expect(body.mixTargets).toEqual(kept);
    const facts = api.app.get(SiteFactsService, { strict: false });
    const then = Date.parse('2020-06-01T12:00Z');
    expect((await facts.permitAt(programme.hub2.id, then))?.mixTargets).toEqual(kept);
    expect((await patch(id, 1, { cureDays: 10 })).body.mixTargets).toEqual(kept);
    const heavier = [{ figure: 'bulkDensityKgM3', min: 400, max: 650 }];
    const changed = await patch(id, 2, { mixTargets: heavier });
    expect(changed.body.mixTargets).toEqual(heavier);
    expect((await patch(id, 3, { mixTargets: [target({ min: 31, max: 30 })] })).status).toBe(422);
    expect((await patch(id, 3, { mixTargets: [] })).body.mixTargets).toEqual([]);
    const lines = (await auditOf(api, 'permit.changed')).filter((line) => line.subjectId === id);
    expect(lines.map(({ detail }) => detail)).toContainEqual({ mixTargets: { from: kept, to: heavier } });
    expect((await facts.permitAt(programme.hub2.id, then))?.mixTargets).toEqual([]);
  });

  it('lets two permits of a site follow each other, and never overlap', async () => {
    const overlapping = await post(ofYard2({ reference: 'TF-8', validFrom: '2026-12-31', validTo: null }));
    expect(overlapping.status).toBe(409);
    expect(overlapping.body.type).toBe('urn:heapwright:problem:permit-overlap');
    const following = await post(ofYard2({ reference: 'TF-8', validFrom: '2027-01-01', validTo: null }));
    expect(following.status).toBe(201);
    const { id } = following.body as { id: string };
    const back = await patch(id, 1, { validFrom: '2026-06-01' });
    expect(back.body.type).toBe('urn:heapwright:problem:permit-overlap');
    expect(
      (await post(ofYard2({ reference: 'TF-8', validFrom: '2020-01-01', validTo: '2020-02-01' }))).status,
    ).toBe(409);
  });

  it('changes what it is told to change and clears what is null', async () => {
    const { body } = await post({
      ...{ siteId: programme.hub2.id, reference: 'WG-1', validFrom: '2026-01-01' },
      ...{ cureDays: 30, processRule: 'us-503-pfrp-windrow', processReading: 'consecutive' },
      ...{ storedVolumeMax: { value: 10, unit: 'm3' }, yearlyMassMax: { value: 5, unit: 't' } },
      materials: ['leaves'],
    });
    const { id } = body as { id: string };
    const changed = await patch(id, 1, {
      ...{ yearlyMassMax: null, storedVolumeMax: { value: 12, unit: 'm3' }, processReading: null },
      materials: ['food-scraps', 'wood-chips'],
    });
    expect(changed.body).toMatchObject({
      ...{ version: 2, cureDays: 30, processReading: null, processRule: 'us-503-pfrp-windrow' },
      ...{ weeklyMassMaxKg: null, massYearStart: '01-01' },
      ...{ yearlyMassMaxKg: null, storedVolumeMaxL: 12_000, materials: ['food-scraps', 'wood-chips'] },
      entered: { storedVolumeMax: { value: 12, unit: 'm3' } },
    });
    expect(changed.body.entered).not.toHaveProperty('yearlyMassMax');
    expect((await patch(id, 1, { cureDays: 1 })).status).toBe(412);
    const lines = await auditOf(api, 'permit.changed');
    expect(lines.find((line) => line.subjectId === id)).toMatchObject({
      siteId: programme.hub2.id,
      detail: { storedVolumeMaxL: { from: 10_000, to: 12_000 }, yearlyMassMaxKg: { from: 5_000, to: null } },
    });
  });

  it.each([
    [{ siteId: NOBODY }, '/siteId'],
    [{ processRule: 'of-nowhere' }, '/processRule'],
    [{ processReading: 'cumulative' }, '/processReading'],
    [{ validTo: '2029-12-31' }, '/validTo'],
    [{ validFrom: '2030-02-30' }, '/validFrom'],
    [{ materials: ['leaves', 'moonstone'] }, '/materials/1'],
    [{ materials: ['Leaves!'] }, '/materials'],
    [{ cureDays: 731 }, '/cureDays'],
    [{ minimumProbes: 0 }, '/minimumProbes'],
    [{ storedVolumeMax: { value: 0, unit: 'L' } }, '/storedVolumeMax'],
    [{ yearlyMassMax: { value: 0.0001, unit: 'g' } }, '/yearlyMassMax'],
    [{ weeklyMassMax: { value: 0, unit: 'kg' } }, '/weeklyMassMax'],
    [{ massYearStart: '02-29' }, '/massYearStart'],
    [{ cureReheat: { value: 40, unit: 'K' } }, '/cureReheat/unit'],
    [{ mixTargets: [target({ min: 30, max: 25 })] }, '/mixTargets/0/max'],
    [{ mixTargets: [target({ min: 20 }), target({ max: 40 })] }, '/mixTargets/1/figure'],
    [{ mixTargets: [target({})] }, '/mixTargets/0'],
    [{ mixTargets: [target({ figure: 'ph', min: 6 })] }, '/mixTargets/0/figure'],
    [{ mixTargets: [target({ min: 0 })] }, '/mixTargets/0/min'],
    [{ mixTargets: [target({ min: -20 })] }, '/mixTargets/0/min'],
    [{ mixTargets: [target({ figure: 'moisturePercent', max: 100 })] }, '/mixTargets/0/max'],
    [{ mixTargets: [target({ figure: 'bulkDensityKgM3', max: '600' })] }, '/mixTargets/0/max'],
    [{ mixTargets: Array.from({ length: 11 }, () => target({ min: 20 })) }, '/mixTargets'],
  ])('refuses %j at its place, and keeps nothing', async (wrong, pointer) => {
    const answer = await post(
      ofYard2({ reference: 'NOPE', validFrom: '2030-01-01', validTo: null, ...wrong }),
    );
    expect(answer.status).toBe(422);
    expect(answer.body.errors.map((fault: { pointer: string }) => fault.pointer)).toEqual([pointer]);
    const list = await api.call('GET', '/permits?limit=200', { as: api.coordinator });
    expect(list.body.items.map((permit: { reference: string }) => permit.reference)).not.toContain('NOPE');
  });

  it('refuses a change that leaves the days the wrong way round', async () => {
    const answer = await patch(programme.permits.hub1.id, 1, { validTo: '2024-12-31' });
    expect(answer.status).toBe(422);
    expect(answer.body.errors[0].pointer).toBe('/validTo');
  });

  it('shows permits to the operators of a site, and no others', async () => {
    const { operator, volunteer, otherManager, manager } = programme.people;
    const { id } = programme.permits.yard1;
    const ids = async (token: string, query = '') => {
      const { body } = await api.call('GET', `/permits${query}`, { as: token });
      return (body.items as { id: string }[]).map((permit) => permit.id);
    };
    expect(await ids(operator.token)).toEqual([id]);
    expect((await ids(manager.token)).sort()).toEqual([programme.permits.hub1.id, id].sort());
    expect(await ids(manager.token, `?siteId=${programme.yard1.id}`)).toEqual([id]);
    expect(await ids(operator.token, `?siteId=${programme.hub1.id}`)).toEqual([]);
    expect((await api.call('GET', '/permits', { as: volunteer.token })).status).toBe(403);
    const elsewhere = await api.call('GET', `/permits/${id}`, { as: otherManager.token });
    expect(elsewhere.body.type).toBe('urn:heapwright:problem:other-site');
    expect((await api.call('GET', `/permits/${NOBODY}`, { as: manager.token })).status).toBe(404);
  });

  it('pages by site and first day', async () => {
    const all = await api.call('GET', '/permits?limit=200', { as: api.coordinator });
    const seen: string[] = [];
    for (let cursor = ''; ;) {
      const page = await api.call('GET', `/permits?limit=1${cursor}`, { as: api.coordinator });
      seen.push(...(page.body.items as { id: string }[]).map((permit) => permit.id));
      if (!page.body.next) break;
      cursor = `&cursor=${page.body.next as string}`;
    }
    expect(seen.length).toBeGreaterThanOrEqual(2);
    expect(seen).toEqual((all.body.items as { id: string }[]).map((permit) => permit.id));
  });
});
