import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { heat, hoursAfter } from '../support/heat.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { CURING_FROM, makeCuring, maturity, permitTerms } from '../support/released.js';
import { lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

const HOUR_MS = 3_600_000;
const ago = (hours: number) => hoursAfter(new Date().toISOString(), -hours);

describe('readiness and outlook of a batch', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let operator: string;
  let manager: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    await made(api, '/permits', { siteId: yard.yard.id, ...permitTerms });
    operator = yard.operator.token;
    manager = yard.manager.token;
  });
  afterAll(() => api.stop());

  const readinessOf = async (id: string, as = operator) =>
    api.call('GET', `/batches/${id}/readiness`, { as });
  const states = (body: any) => Object.fromEntries(body.findings.map(({ key, state }: any) => [key, state]));
  const open = (body: any) => Object.fromEntries(body.outlook.gates.map((gate: any) => [gate.gate, gate]));

  it('is for the crew of the yard', async () => {
    const { id } = await yard.begin();
    expect((await api.call('GET', `/batches/${id as string}/readiness`)).status).toBe(401);
    expect((await readinessOf(id, programme.people.volunteer.token)).status).toBe(403);
    expect((await readinessOf(id, programme.people.municipalReader.token)).status).toBe(403);
    expect((await readinessOf(id, programme.people.otherManager.token)).status).toBe(403);
    for (const as of [operator, manager, api.coordinator])
      expect((await readinessOf(id, as)).status).toBe(200);
    expect((await readinessOf(v7(), api.coordinator)).status).toBe(404);
  });

  it('looks for no sign in a batch that nothing went into, and promises nothing', async () => {
    const { id } = await yard.begin({ method: 'static-aerated' });
    const { body } = await readinessOf(id);
    expect(body.findings).toEqual([]);
    expect(body.notes[0]).toContain('still being built: it has been neither heated nor cured');
    expect(body.outlook).toMatchObject({ earliest: null, latest: null });
    expect(body.outlook.notes[0]).toContain('still being built');
    expect(body.outlook.notes[1]).toContain('no promise');
    expect(open(body)['inputs-allowed']).toMatchObject({ earliest: null, latest: null });
  });

  it('tells no time of raw scraps, though every gate of a bare permit is met', async () => {
    const site = await made<{ id: string }>(api, '/sites', {
      ...{ code: 'RP', name: 'Reed Pool yard', timeZone: 'America/Denver' },
      ...{ takesDropOffs: false, runsBatches: true, bays: [{ code: 'R1' }] },
      jurisdictionId: programme.jurisdictions.larkHollow.id,
    });
    await made(api, '/permits', { siteId: site.id, reference: 'RP-1', validFrom: '2026-01-01' });
    const begun = { siteId: site.id, bay: 'R1', method: 'turned-windrow', occurredAt: ago(60) };
    const { id } = await made<{ id: string }>(api, '/batches', begun);
    const lot = await lotAtHub1(api, programme, 900_000, { occurredAt: ago(72) });
    const items = [{ dropOffId: lot }];
    await made(api, `/batches/${id}/assignments`, { items, occurredAt: ago(50) });
    const built = (await readinessOf(id, api.coordinator)).body;
    expect(built.outlook).toMatchObject({ gates: [], earliest: null, latest: null });
    expect(built.outlook.notes[0]).toContain('still being built');
    await made(api, `/batches/${id}/stage`, { to: 'active', occurredAt: ago(49) });
    const active = (await readinessOf(id, api.coordinator)).body;
    expect(active.outlook).toMatchObject({ gates: [], earliest: null, latest: null });
    expect(active.outlook.notes[0]).toContain('nothing can be told of when it is ready');
  });

  it('tells a curing batch sign by sign, with the last test', async () => {
    const id = await makeCuring(api, programme, yard);
    const turnedAt = hoursAfter(CURING_FROM, 24);
    await made(api, `/batches/${id}/turns`, { occurredAt: turnedAt }, operator);
    await heat(api, id, { from: hoursAfter(turnedAt, 24), hours: 72, celsius: [30, 28], as: operator });
    await made(
      api,
      `/batches/${id}/checks`,
      {
        occurredAt: ago(1),
        readings: [{ position: 'core-1', temperature: { value: 20, unit: 'C' } }],
        ambient: { value: 17, unit: 'C' },
        ...{ odour: 'earthy', texture: 'crumbly', inputsVisible: true },
      },
      operator,
    );
    await made(api, `/batches/${id}/samples`, maturity('passed'), manager);
    const { body } = await readinessOf(id);
    expect(states(body)).toEqual({
      ...{ temperature: 'yes', 'no-reheating': 'yes', smell: 'yes', texture: 'yes', inputs: 'no' },
      'test:maturity': 'yes',
    });
    expect(body.findings[0]).toMatchObject({
      source: { status: 'verified', title: expect.stringContaining('AgriFutures') },
    });
    expect(body).not.toHaveProperty('score');
    expect(open(body)).not.toHaveProperty('cure');
    const gates = await api.call('GET', `/batches/${id}/gates`, { as: operator });
    const unmet = gates.body.gates.filter(({ state }: any) => state === 'unmet' || state === 'unknown');
    expect(body.outlook.gates.map(({ gate }: any) => gate)).toEqual(unmet.map(({ key }: any) => key));
  });

  it('tells of a hot batch when its rule, its cure and its sample can be there', async () => {
    const { id } = await yard.begin({ method: 'static-aerated', occurredAt: ago(60) });
    const lot = await lotAtHub1(api, programme, 900_000, { occurredAt: ago(72) });
    const assigned = { items: [{ dropOffId: lot }], occurredAt: ago(50) };
    await made(api, `/batches/${id as string}/assignments`, assigned, manager);
    await made(api, `/batches/${id as string}/stage`, { to: 'active', occurredAt: ago(49) }, manager);
    const from = ago(25);
    await heat(api, id, { from, hours: 24, as: operator });
    const { body } = await readinessOf(id);
    const { 'process-rule': rule, cure, 'sample:maturity': sample } = open(body);
    expect(Date.parse(rule.earliest)).toBe(Date.parse(from) + 72 * HOUR_MS);
    expect(Date.parse(rule.latest)).toBe(Date.parse(from) + 96 * HOUR_MS);
    expect(rule.assumptions[0]).toContain('48 hours more at 55 °C (131 °F) or more');
    expect(cure.latest).toBeNull();
    const cured = (Date.parse(cure.earliest) - Date.parse(rule.earliest)) / (24 * HOUR_MS);
    expect(cured).toBeCloseTo(30, 0);
    expect(sample).toMatchObject({ latest: null });
    expect(body.outlook).toMatchObject({ earliest: cure.earliest, latest: null });
  });
});
