import { Temporal } from 'temporal-polyfill';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const m = (value: number) => ({ value, unit: 'm' });
const dayMs = 86_400_000;
const ago = (days: number) => new Date(Date.now() - days * dayMs).toISOString();

describe('headroom under a permit', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  const today = Temporal.Now.plainDateISO('America/Denver');

  const ask = async (siteId = yard.yard.id) => {
    const { status, body } = await api.call('GET', `/sites/${siteId}/headroom`, { as: api.coordinator });
    expect(status).toBe(200);
    return body;
  };
  const about = (body: { warnings: { about: string }[] }) => body.warnings.map((warning) => warning.about);
  const fill = async (batchId: string, days: number, massG: number, facts: object = {}) => {
    const dropOffId = await lotAtHub1(api, programme, massG, { occurredAt: ago(days + 1), ...facts });
    const body = { occurredAt: ago(days), items: [{ dropOffId }] };
    await made(api, `/batches/${batchId}/assignments`, body, yard.manager.token);
  };

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
  });
  afterAll(() => api.stop());

  it('says that no permit is in force, and holds nothing against nothing', async () => {
    const body = await ask();
    expect(body).toMatchObject({
      ...{ today: today.toString(), permit: null, notNamed: [], recent: { days: 0, massKg: 0 } },
      stored: { volumeL: 0, unknown: [], limitL: null, leftL: null, share: null, parts: [] },
      year: { from: `${today.year}-01-01`, usedKg: 0, limitKg: null, projectedKg: null },
      week: { to: today.add({ days: 8 - today.dayOfWeek }).toString(), usedKg: 0 },
    });
    expect(about(body)).toEqual(['no-permit']);
  });

  it('tells what is used and what will be, before a limit is reached', async () => {
    const validTo = today.add({ days: 30 }).toString();
    const yearStart = today.subtract({ days: 100 });
    const massYearStart = yearStart.toString().slice(5) === '02-29' ? '03-01' : yearStart.toString().slice(5);
    await made(api, '/permits', {
      ...{ siteId: yard.yard.id, reference: 'HS-9', validFrom: '2026-01-01', validTo, massYearStart },
      ...{ yearlyMassMax: kg(2000), weeklyMassMax: kg(400), materials: ['food-scraps'] },
      storedVolumeMax: { value: 3, unit: 'm3' },
    });
    const batch = (await yard.begin()) as { id: string; code: string };
    await fill(batch.id, 20, 560_000);
    await fill(batch.id, 0, 300_000);
    await fill(batch.id, 0, 40_000, { material: 'leaves', basis: 'volume' });
    const body = await ask();
    const { year, week, recent, warnings } = body;
    const first = Temporal.Instant.from(ago(20)).toZonedDateTimeISO('America/Denver').toPlainDate();
    const days = first.until(today, { largestUnit: 'day' }).days;
    expect(recent).toEqual({ days, massKg: 560 });
    expect(week).toMatchObject({ usedKg: 340, limitKg: 400, leftKg: 60, share: 0.85 });
    const daysLeft = today.until(year.to, { largestUnit: 'day' }).days - 1;
    expect(year).toMatchObject({ usedKg: 900, limitKg: 2000, leftKg: 1100 });
    expect(year.projectedKg).toBeCloseTo(900 + (560 / days) * daysLeft, 2);
    expect(year.projectedKg).toBeGreaterThan(2000);
    expect(body.notNamed).toMatchObject([{ material: 'leaves', massKg: 40 }]);
    expect(about(body)).toEqual(
      expect.arrayContaining(['permit-ends', 'yearly-mass', 'weekly-mass', 'material-not-named']),
    );
    const yearly = warnings.find((warning: { about: string }) => warning.about === 'yearly-mass');
    expect(yearly.text).toMatch(/^45 % is used: 900 kg of the 2000 kg .* more than is allowed\.$/);
  });

  it('measures what is stored by piles, and by the mix where no pile was measured', async () => {
    const before = (await ask()).stored;
    expect(before.parts).toMatchObject([{ what: 'batch', from: 'the volumes of its mix' }]);
    expect(before.volumeL).toBe(before.parts[0].volumeL);
    const { items } = (await api.call('GET', `/batches?siteId=${yard.yard.id}`, { as: api.coordinator }))
      .body;
    const pile = { shape: 'bin', length: m(1), width: m(2), height: m(1.3) };
    await made(api, `/batches/${items[0].id}/pile-measurements`, pile, yard.operator.token);
    const body = await ask();
    expect(body.stored).toMatchObject({ volumeL: 2600, limitL: 3000, leftL: 400, unknown: [] });
    expect(body.stored.parts).toEqual([
      { what: 'batch', name: items[0].code, volumeL: 2600, from: 'its pile as it was measured last' },
    ]);
    expect(about(body)).toContain('stored-volume');
    const chips = {
      siteId: yard.yard.id,
      material: 'wood-chips',
      amount: { volume: { value: 1, unit: 'm3' } },
    };
    await made(api, '/stock-counts', chips, yard.operator.token);
    const over = await ask();
    expect(over.stored).toMatchObject({ volumeL: 3600, leftL: -600, share: 1.2 });
    const texts = over.warnings.map(({ text }: { text: string }) => text);
    expect(texts).toContainEqual(expect.stringMatching(/^The limit is passed: 3\.6 m³ of the 3\.0 m³/));
  });

  it('counts at a hub what is dropped off there, less what is pulled', async () => {
    const { hub1, people } = programme;
    const pulled = [{ contaminant: 'glass', mass: kg(2), wentTo: 'landfill' }];
    const before = (await ask(hub1.id)).year.usedKg;
    await made(
      api,
      '/drop-offs',
      {
        ...{ siteId: hub1.id, material: 'food-scraps', depositor: 'household', rejects: pulled },
        weight: { net: kg(10) },
      },
      people.volunteer.token,
    );
    expect((await ask(hub1.id)).year.usedKg - before).toBeCloseTo(8, 6);
  });

  it('is for operators of the site', async () => {
    const path = `/sites/${yard.yard.id}/headroom`;
    expect((await api.call('GET', path)).status).toBe(401);
    expect((await api.call('GET', path, { as: yard.operator.token })).status).toBe(200);
    expect((await api.call('GET', path, { as: programme.people.volunteer.token })).status).toBe(403);
  });
});
