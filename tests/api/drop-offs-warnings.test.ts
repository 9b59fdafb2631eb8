import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { codesOf, lotBody } from '../support/intake.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';

const lb = (value: number) => ({ value, unit: 'lb' });
const kg = (value: number) => ({ value, unit: 'kg' });
const DAY_MS = 86_400_000;

describe('warnings, which are kept with a lot and refuse nothing', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterAll(() => api.stop());

  const post = async (changes: object) => {
    const body = lotBody(programme, changes);
    const answer = await api.call('POST', '/drop-offs', { as: api.coordinator, body });
    expect(answer.status, answer.text).toBe(201);
    const kept = await api.call('GET', `/drop-offs/${body.id}`, { as: api.coordinator });
    expect(kept.body.warnings).toEqual(answer.body.warnings);
    return answer;
  };
  const inBucket = (gross: object) => ({ weight: { gross, containerId: programme.containers.bucket.id } });

  it('says nothing of an ordinary lot', async () => {
    expect(codesOf(await post({}))).toEqual([]);
  });

  it('tells a lot that weighs nothing', async () => {
    expect(codesOf(await post({ weight: { net: lb(0) } }))).toEqual(['zero-weight']);
  });

  // The scale of the hub shows 0.1 lb. In binary, 31.3 / 0.1 is no whole number; as typed it is.
  it.each([
    [{ gross: lb(31.3), tare: lb(2.1) }, []],
    [{ gross: lb(31.35), tare: lb(2.1) }, ['/weight/gross']],
    [{ gross: lb(31.35), tare: lb(2.14) }, ['/weight/gross', '/weight/tare']],
    [{ net: lb(7.05) }, ['/weight/net']],
    // 16 oz are one pound; 1.6 oz are 0.1 lb, 1 oz is 0.0625 lb.
    [{ net: { value: 33.6, unit: 'oz' } }, []],
    [{ net: { value: 33, unit: 'oz' } }, ['/weight/net']],
    // No whole number of grams is a whole number of tenths of a pound.
    [{ net: kg(3) }, ['/weight/net']],
    [{ net: { value: 4535.9237, unit: 'g' } }, []],
  ])('holds %j against the scale’s division', async (weight, pointers) => {
    const answer = await post({ weight, instrumentId: programme.instruments.scale.id });
    const told = answer.body.warnings.filter(({ code }: { code: string }) => code === 'scale-division');
    expect(told.map(({ pointer }: { pointer: string }) => pointer)).toEqual(pointers);
  });

  it('takes the scale of the shift, where the lot names none', async () => {
    const { hub1, instruments } = programme;
    const occurredAt = new Date(Date.now() - 2 * 3_600_000).toISOString();
    const opened = { siteId: hub1.id, instrumentId: instruments.scale.id, occurredAt };
    const shift = await made(api, '/shifts', opened);
    const answer = await post({ shiftId: shift.id, weight: { net: lb(7.05) } });
    expect(answer.body.instrumentId).toBe(instruments.scale.id);
    expect(codesOf(answer)).toEqual(['scale-division']);
    const byVolume = await post({ shiftId: shift.id, weight: undefined, volume: { value: 5, unit: 'gal' } });
    expect([byVolume.body.instrumentId, codesOf(byVolume)]).toEqual([null, []]);
    await api.call('POST', `/shifts/${shift.id}/close`, { as: api.coordinator, body: { countedLots: 2 } });
  });

  it('tells what is far outside the usual of its container', async () => {
    const { body } = await api.call('GET', '/materials/food-scraps', { as: api.coordinator });
    // Five US gallons of it: 18.927 L at its bulk density.
    const fullKg = (18.927 * body.bulkDensityKgM3.typical) / 1000;
    const tareKg = 0.953;
    const gross = (share: number) => inBucket(kg(Number((fullKg * share + tareKg).toFixed(3))));
    expect(codesOf(await post(gross(0.05)))).toEqual(['container-light']);
    expect(codesOf(await post(gross(0.15)))).toEqual([]);
    expect(codesOf(await post(gross(1.1)))).toEqual([]);
    const heaviestKg = Math.min(2 * fullKg, 18.927);
    const heavy = await post({
      ...inBucket(kg(Number((heaviestKg + tareKg + 0.2).toFixed(3)))),
      depositor: 'school',
    });
    expect(codesOf(heavy)).toEqual(['container-heavy']);
    expect(heavy.body.warnings[0].text).toContain('B-07');
  });

  it('tells what is more than a household brings, or a site hauls', async () => {
    const codes = async (net: object, depositor: string) =>
      codesOf(await post({ weight: { net }, depositor }));
    expect(await codes(lb(40), 'household')).toEqual([]);
    expect(await codes(lb(40.1), 'household')).toEqual(['household-large']);
    expect(await codes(lb(400), 'school')).toEqual([]);
    expect(await codes(lb(2500), 'public-works')).toEqual([]);
    expect(await codes(lb(2501), 'public-works')).toEqual(['lot-large']);
  });

  it('tells what the permit of the day does not cover', async () => {
    const weight = { net: lb(5) };
    const coffee = await post({ weight, material: 'coffee-grounds' });
    expect(coffee.body.warnings).toEqual([
      {
        code: 'material-not-on-permit',
        text: 'Permit LH-COMP-12 does not list coffee-grounds.',
        pointer: '/material',
      },
    ]);
    expect(codesOf(await post({ weight, siteId: programme.hub2.id }))).toEqual(['no-permit']);
  });

  it('asks where grass comes from, and tells what burns or draws animals', async () => {
    const { id } = await made(api, '/sites', {
      ...{ name: 'Juniper Corner', code: 'JC', timeZone: 'America/Denver', takesDropOffs: true },
      ...{ runsBatches: false, jurisdictionId: programme.jurisdictions.larkHollow.id },
    });
    await made(api, '/permits', { siteId: id, reference: 'JC-1', validFrom: '2020-01-01' });
    const weight = { net: lb(5) };
    const told = async (material: string, siteId = id) =>
      (await post({ weight, material, siteId })).body.warnings.map(
        ({ code, pointer }: { code: string; pointer: string }) => [code, pointer],
      );
    expect(await told('grass-clippings')).toEqual([['herbicide-risk', '/material']]);
    expect(await told('wood-ash')).toEqual([['caustic', '/material']]);
    expect(await told('citrus-peel')).toEqual([]);
    expect(await told('meat-scraps')).toEqual([['animal-product', '/material']]);
    const unlisted = await post({ weight, material: 'meat-scraps' });
    expect(codesOf(unlisted)).toEqual(['animal-product', 'material-not-on-permit']);
    expect(unlisted.body.warnings[1].text).toContain('Permit LH-COMP-12 as recorded does not list it.');
    const unpermitted = await post({ weight, material: 'meat-scraps', siteId: programme.hub2.id });
    expect(codesOf(unpermitted)).toEqual(['animal-product', 'no-permit']);
    expect(unpermitted.body.warnings[1].text).toContain('No permit of that day is on record.');
  });

  it('tells what is from before the site opened, or recorded long after', async () => {
    const at = (ms: number) => new Date(Date.now() - ms).toISOString();
    expect(codesOf(await post({ occurredAt: at(6.9 * DAY_MS) }))).toEqual([]);
    const late = await post({ occurredAt: at(9.5 * DAY_MS) });
    expect(late.body.warnings).toEqual([
      { code: 'recorded-late', text: 'It is recorded 9 days after.', pointer: '/occurredAt' },
    ]);
    // The hub opened on 1 March 2025 in Denver: at 06:59 UTC it was still February there, a minute later March.
    const before = await post({ occurredAt: '2025-03-01T06:59:59Z' });
    expect(codesOf(before)).toEqual(['before-site-opened', 'recorded-late']);
    const first = await post({ occurredAt: '2025-03-01T07:00:00Z' });
    expect(codesOf(first)).toEqual(['recorded-late']);
    const early = await post({ occurredAt: '2024-12-31T12:00:00Z' });
    expect(codesOf(early)).toEqual(['before-site-opened', 'no-permit', 'recorded-late']);
  });

  it('tells what is retired, and still takes it: a paper day may be typed in later', async () => {
    const { bucket } = programme.containers;
    const old = await made(api, '/containers', { siteId: programme.hub1.id, code: 'B-99', tare: lb(2) });
    const retired = await api.call('PATCH', `/containers/${old.id}`, {
      as: api.coordinator,
      body: { retired: true },
      headers: { 'if-match': '"1"' },
    });
    expect(retired.status, retired.text).toBe(200);
    expect(codesOf(await post({ weight: { gross: lb(20), containerId: old.id } }))).toEqual(['retired']);
    expect(codesOf(await post({ weight: { gross: lb(20), containerId: bucket.id } }))).toEqual([]);
  });
});
