import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { heat, hoursAfter } from '../support/heat.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { BEGUN_AT, lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

const FILLED_AT = hoursAfter(BEGUN_AT, 1);
const HOT_FROM = hoursAfter(BEGUN_AT, 24);

describe('the process verdict', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
  });
  afterAll(() => api.stop());

  const verdict = async (batchId: string, query = '', as = yard.operator.token) =>
    api.call('GET', `/batches/${batchId}/process${query}`, { as });
  const post = (path: string, body: unknown) => made(api, path, body, yard.manager.token);
  const kindsOf = ({ body }: { body: any }) => body.evidence.map(({ kind }: { kind: string }) => kind);

  /** A batch of one lot under the rule of static aerated piles: 72 hours at 55 °C or more. */
  async function filled(facts: object = {}): Promise<string> {
    const rule = { method: 'static-aerated', processRule: 'us-503-pfrp-static-aerated' };
    const { id } = await yard.begin({ ...rule, ...facts });
    const lot = await lotAtHub1(api, programme, 400_000);
    await post(`/batches/${id as string}/assignments`, {
      items: [{ dropOffId: lot }],
      occurredAt: FILLED_AT,
    });
    return id;
  }

  it('is met by 72 hours at 60 °C, and shows how', async () => {
    const id = await filled();
    await heat(api, id, { from: HOT_FROM, hours: 96 });
    const { status, body } = await verdict(id);
    expect(status).toBe(200);
    expect(body).toMatchObject({
      rule: {
        code: 'us-503-pfrp-static-aerated',
        citation: '40 CFR 503 Appendix B, (B)(1)',
        title: expect.any(String),
        textStatus: expect.any(String),
      },
      reading: 'consecutive',
      status: 'met',
      turns: 0,
      required: { hours: 72, days: null, turns: 0, thresholdC: 55, longestGapHours: 36, probes: 1 },
      clockStartedAt: HOT_FROM,
      metAt: hoursAfter(HOT_FROM, 72),
    });
    expect(body.creditedSpans[0].from).toBe(HOT_FROM);
    expect(body.timeAboveHours).toContainEqual({ temperatureC: 60, hours: 96 });
    const met = body.evidence.find(({ kind }: { kind: string }) => kind === 'met');
    expect(met).toMatchObject({
      from: hoursAfter(HOT_FROM, 72),
      to: hoursAfter(HOT_FROM, 72),
      checkId: null,
    });
    // Mountain time: 8 o'clock in the morning of 7 March.
    expect(met.text).toContain('7 Mar 2026 08:00');
    expect(body.notes.at(-1)).toMatch(/The permit and the local authority decide\.$/);
  });

  it('loses a run to a cold check, unless the time is added up', async () => {
    const id = await filled();
    await heat(api, id, { from: HOT_FROM, hours: 48 });
    await heat(api, id, { from: hoursAfter(HOT_FROM, 72), hours: 0, celsius: [60, 54.9] });
    const cold = (await api.call('GET', `/batches/${id}/checks?limit=1`, { as: yard.operator.token })).body
      .items[0].id;
    await heat(api, id, { from: hoursAfter(HOT_FROM, 96), hours: 24 });
    const broken = await verdict(id, '?reading=consecutive');
    expect(broken.body).toMatchObject({ metAt: null, creditedHours: 24 });
    expect(broken.body.evidence).toContainEqual(
      expect.objectContaining({ kind: 'below-threshold', checkId: cold }),
    );
    expect((await verdict(id, '?reading=cumulative')).body).toMatchObject({
      status: 'met',
      reading: 'cumulative',
      metAt: hoursAfter(HOT_FROM, 120),
    });
    await api.call('POST', `/batches/${id}/checks/${cold as string}/void`, {
      as: yard.manager.token,
      body: { reason: 'the second probe had come out' },
    });
    // Without it the checks before and after are 48 hours apart, which nobody credits.
    const without = await verdict(id);
    expect(without.body).toMatchObject({ metAt: null });
    expect(kindsOf(without)).toContain('gap');
    expect(kindsOf(without)).not.toContain('below-threshold');
  });

  it('starts again after raw material went in, and says so', async () => {
    const id = await filled();
    await heat(api, id, { from: HOT_FROM, hours: 96 });
    await made(api, `/batches/${id}/stage`, { to: 'active', occurredAt: HOT_FROM }, yard.manager.token);
    await post(`/batches/${id}/amendments`, {
      material: 'wood-chips',
      from: 'stock',
      mass: { value: 40, unit: 'kg' },
      occurredAt: hoursAfter(HOT_FROM, 100),
    });
    const topped = await verdict(id);
    expect(topped.body).toMatchObject({ status: 'not-started', metAt: null, creditedHours: 0 });
    const restarted = topped.body.evidence.find(({ kind }: { kind: string }) => kind === 'clock-restarted');
    expect(restarted.text).toContain('wood-chips 40 kg from stock');
  });

  it('counts turns and moves under a rule that asks for turns', async () => {
    const id = await filled();
    await heat(api, id, { from: HOT_FROM, hours: 16 * 24 });
    for (const day of [2, 4, 6, 8]) {
      await post(`/batches/${id}/turns`, { occurredAt: hoursAfter(HOT_FROM, day * 24 + 1) });
    }
    const four = await verdict(id, '?rule=us-503-pfrp-windrow');
    expect(four.body).toMatchObject({ turns: 4, required: { hours: 360, turns: 5 }, metAt: null });
    await post(`/batches/${id}/moves`, {
      bay: yard.freeBay(),
      occurredAt: hoursAfter(HOT_FROM, 10 * 24 + 1),
    });
    const five = await verdict(id, '?rule=us-503-pfrp-windrow');
    expect(five.body).toMatchObject({ turns: 5, status: 'met', rule: { code: 'us-503-pfrp-windrow' } });
    expect((await verdict(id)).body.rule.code).toBe('us-503-pfrp-static-aerated');
  });

  it('is not changed by the days after the record was closed', async () => {
    const id = await filled();
    await heat(api, id, { from: HOT_FROM, hours: 48 });
    expect((await verdict(id)).body.status).toBe('insufficient-data');
    const occurredAt = hoursAfter(HOT_FROM, 49);
    await post(`/batches/${id}/stage`, { to: 'condemned', reason: 'glass all through it', occurredAt });
    expect((await verdict(id)).body).toMatchObject({ status: 'in-progress', creditedHours: 48 });
  });

  it('says so where no rule is named', async () => {
    const { id } = await yard.begin();
    const { status, body } = await verdict(id);
    expect(status).toBe(200);
    expect(body).toMatchObject({ rule: null, reading: null, status: 'insufficient-data', required: null });
    expect(body.notes[0]).toMatch(/^No process rule is named for this batch/);
  });

  it('refuses rules and readings of no kind', async () => {
    const { id } = await yard.begin();
    const pointersOf = async (query: string) => {
      const { status, body } = await verdict(id, query);
      return [status, body.errors?.[0]?.pointer];
    };
    expect(await pointersOf('?rule=boil-it')).toEqual([422, '/rule']);
    expect(await pointersOf('?reading=generous')).toEqual([422, '/reading']);
    expect(await pointersOf('?probes=1')).toEqual([422, '/probes']);
  });

  it('is for the crew of the yard', async () => {
    const { id } = await yard.begin();
    expect((await api.call('GET', `/batches/${id as string}/process`)).status).toBe(401);
    expect((await verdict(id, '', programme.people.volunteer.token)).status).toBe(403);
    expect((await verdict(id, '', programme.people.otherManager.token)).status).toBe(403);
    expect((await verdict('01a00000-0000-7000-8000-000000000000')).status).toBe(404);
  });

  describe('where the permit has a say', () => {
    beforeAll(async () => {
      const terms = { processRule: 'us-503-pfrp-static-aerated', processReading: 'cumulative' };
      await made(api, '/permits', {
        ...{ siteId: yard.yard.id, reference: 'HS-1', validFrom: '2026-03-05', validTo: '2026-04-30' },
        ...{ ...terms, minimumProbes: 2, longestGapHours: 24 },
      });
    });

    it('goes by the permit in force when the batch began', async () => {
      const { id } = await yard.begin({ method: 'static-aerated', occurredAt: '2026-03-05T15:00:00Z' });
      const lot = await lotAtHub1(api, programme, 400_000);
      const occurredAt = '2026-03-05T16:00:00Z';
      await post(`/batches/${id as string}/assignments`, { items: [{ dropOffId: lot }], occurredAt });
      const from = '2026-03-06T15:00:00Z';
      await heat(api, id, { from, hours: 48, celsius: [60, 61] });
      const lone = await post(`/batches/${id as string}/checks`, {
        occurredAt: hoursAfter(from, 60),
        readings: [{ position: 'core-1', temperature: { value: 60, unit: 'C' } }],
      });
      expect(lone.warnings).toEqual([
        { code: 'too-few-probes', pointer: '/readings', text: expect.stringContaining('1 of the 2 probes') },
      ]);
      await heat(api, id, { from: hoursAfter(from, 73), hours: 0, celsius: [60, 61] });
      const answer = await verdict(id);
      expect(answer.body).toMatchObject({
        reading: 'cumulative',
        creditedHours: 48,
        metAt: null,
        required: { probes: 2, longestGapHours: 24 },
      });
      expect(answer.body.notes[0]).toBe(
        'Permit HS-1 asks for 2 probes a check and at most 24 hours between checks.',
      );
      expect(kindsOf(answer)).toEqual(expect.arrayContaining(['too-few-probes', 'gap']));
      expect((await verdict(id, '?reading=consecutive')).body).toMatchObject({ creditedHours: 0 });
    });

    it('leaves an earlier batch to what was in force then', async () => {
      const id = await filled();
      expect((await verdict(id)).body.required).toMatchObject({ probes: 1, longestGapHours: 36 });
    });
  });
});
