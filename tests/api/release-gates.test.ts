import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { heat, hoursAfter } from '../support/heat.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { CURING_FROM, makeCuring, maturity, permitTerms } from '../support/released.js';
import { lotAtHub1, makeYard, putRelease, type Yard } from '../support/yard-work.js';

describe('the gates of a batch', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
  });
  afterAll(() => api.stop());

  const post = (path: string, body: unknown) => made(api, path, body, yard.manager.token);
  const gates = async (batchId: string, as = yard.operator.token) =>
    api.call('GET', `/batches/${batchId}/gates`, { as });
  const statesOf = ({ body }: { body: any }) =>
    Object.fromEntries(body.gates.map(({ key, state }: { key: string; state: string }) => [key, state]));
  const textOf = ({ body }: { body: any }, wanted: string) =>
    body.gates.find(({ key }: { key: string }) => key === wanted).text as string;

  it('are unknown where no permit and no rule is recorded', async () => {
    const { id } = await yard.begin();
    const answer = await gates(id);
    expect(answer.status).toBe(200);
    expect(answer.body).toMatchObject({ releasable: false, signedAt: null });
    expect(statesOf(answer)).toEqual({
      'permit-valid': 'unknown',
      'process-rule': 'unknown',
      cure: 'unknown',
      samples: 'unknown',
      'inputs-allowed': 'unknown',
      balance: 'unknown',
    });
  });

  it('ask for no samples where the permit was entered without any', async () => {
    const body = { siteId: programme.yard1.id, bay: 'A1', method: 'turned-windrow' };
    const { id } = await made<{ id: string }>(api, '/batches', body);
    const answer = await gates(id, api.coordinator);
    expect([answer.status, statesOf(answer)['samples']]).toEqual([200, 'not-required']);
  });

  it('are for the crew of the yard', async () => {
    const { id } = await yard.begin();
    expect((await api.call('GET', `/batches/${id as string}/gates`)).status).toBe(401);
    expect((await gates(id, programme.people.volunteer.token)).status).toBe(403);
    expect((await gates(id, programme.people.otherManager.token)).status).toBe(403);
  });

  describe('under a permit', () => {
    beforeAll(() => made(api, '/permits', { siteId: yard.yard.id, ...permitTerms }));

    it('are met one after the other, and then the batch is releasable', async () => {
      const id = await makeCuring(api, programme, yard);
      const before = await gates(id);
      expect(statesOf(before)).toEqual({
        'permit-valid': 'met',
        'process-rule': 'met',
        cure: 'met',
        'sample:maturity': 'unmet',
        'inputs-allowed': 'met',
        balance: 'met',
      });
      expect(before.body.releasable).toBe(false);
      expect(textOf(before, 'process-rule')).toMatch(/were met on 7 Mar 2026 08:00\.$/);
      // 9 March is after the clocks went forward: 15:00 UTC is 9 o'clock in the morning, 30 days later as well.
      expect(textOf(before, 'cure')).toMatch(
        /^Cured 30 days since 9 Mar 2026 09:00, done on 8 Apr 2026 09:00\. No turn is recorded since .* No reading is recorded after 9 Mar 2026 09:00: the days are counted/,
      );
      await post(`/batches/${id}/samples`, maturity('information'));
      expect((await gates(id)).body.releasable).toBe(false);
      await post(`/batches/${id}/samples`, maturity('passed'));
      const after = await gates(id);
      expect(after.body.releasable).toBe(true);
      expect(after.body.gates).toHaveLength(6);
      await post(`/batches/${id}/samples`, maturity('failed', 32));
      expect(statesOf(await gates(id))['sample:maturity']).toBe('unmet');
      await post(`/batches/${id}/samples`, maturity('passed', 33));
      expect(statesOf(await gates(id))['sample:maturity']).toBe('met');
    });

    it('forget a sample that was taken back', async () => {
      const id = await makeCuring(api, programme, yard);
      const { id: sampleId } = await post(`/batches/${id}/samples`, maturity('passed'));
      const path = `/batches/${id}/samples/${sampleId as string}/void`;
      const body = { reason: 'another batch' };
      expect((await api.call('POST', path, { as: yard.manager.token, body })).status).toBe(200);
      expect(statesOf(await gates(id))['sample:maturity']).toBe('unmet');
    });

    it('begin the cure anew when the batch is found hot again', async () => {
      const id = await makeCuring(api, programme, yard);
      const found = new Date(Date.now() - 10 * 86_400_000).toISOString();
      await heat(api, id, { from: found, hours: 0, celsius: [30, 45] });
      const answer = await gates(id);
      expect(statesOf(answer).cure).toBe('unmet');
      expect(textOf(answer, 'cure')).toMatch(/^Cured (9|10) of 30 days since /);
    });

    it('tell an unmet rule, a foreign material and a batch that is not curing', async () => {
      const { id } = await yard.begin({ method: 'static-aerated' });
      const lot = await lotAtHub1(api, programme, 10_000);
      await post(`/batches/${id as string}/assignments`, { items: [{ dropOffId: lot }] });
      await post(`/batches/${id as string}/amendments`, {
        ...{ from: 'stock', material: 'wood-chips', mass: { value: 5, unit: 'kg' } },
      });
      await post(`/batches/${id as string}/amendments`, { from: 'water', mass: { value: 5, unit: 'kg' } });
      const answer = await gates(id);
      expect(statesOf(answer)).toMatchObject({
        'process-rule': 'unmet',
        cure: 'unmet',
        'inputs-allowed': 'unmet',
      });
      expect(textOf(answer, 'cure')).toBe('Curing has not begun. Permit HS-PERMIT-3 asks for 30 days.');
      expect(textOf(answer, 'inputs-allowed')).toBe(
        'Permit HS-PERMIT-3 does not list all that went in. Not listed: Wood chips, mixed or unknown wood.',
      );
    });

    it('stay as they stood at the signature', async () => {
      const id = await makeCuring(api, programme, yard);
      await putRelease(api, yard.manager.id, id);
      expect((await gates(id)).body).toEqual({
        gates: [],
        releasable: false,
        signedAt: expect.any(String),
        hold: null,
      });
    });

    it('hold water that keeps a balance up: it is not taken back from under what came out', async () => {
      const id = await makeCuring(api, programme, yard);
      const water = await post(`/batches/${id}/waterings`, { volume: { value: 100, unit: 'L' } });
      const screened = { occurredAt: hoursAfter(CURING_FROM, 800), compost: { value: 1050, unit: 'kg' } };
      await post(`/batches/${id}/screenings`, screened);
      const taken = await api.call('POST', `/batches/${id}/waterings/${water.id as string}/void`, {
        as: yard.manager.token,
        body: { reason: 'of the next bay' },
      });
      expect([taken.status, taken.body.type]).toEqual([409, 'urn:heapwright:problem:balance-exceeded']);
      expect(taken.body.detail).toBe('50 kg more have come out of the batch than would have gone in.');
      const answer = await gates(id);
      expect(statesOf(answer).balance).toBe('met');
      expect(textOf(answer, 'balance')).toBe('1050.000 kg came out of the 1100.000 kg that went in.');
    });
  });

  describe('of a permit that ended', () => {
    it('are unmet, and say when it ended', async () => {
      const permit = (await api.call('GET', `/permits?siteId=${yard.yard.id}`, { as: api.coordinator })).body
        .items[0];
      await api.call('PATCH', `/permits/${permit.id as string}`, {
        as: api.coordinator,
        headers: { 'if-match': `"${permit.version as number}"` },
        body: { validTo: '2026-03-31' },
      });
      const id = await makeCuring(api, programme, yard);
      const answer = await gates(id);
      expect(statesOf(answer)).toMatchObject({ 'permit-valid': 'unmet', cure: 'met' });
      expect(textOf(answer, 'permit-valid')).toMatch(
        /^Permit HS-PERMIT-3 is not in force on .* \(valid 1 Jan 2026 to 31 Mar 2026\)\.$/,
      );
    });

    it('take the temperature of a cure from the rule where the next one names none', async () => {
      const { cureReheat: _, ...terms } = permitTerms;
      const next = { ...terms, reference: 'HS-PERMIT-4', validFrom: '2026-04-01' };
      await made(api, '/permits', { siteId: yard.yard.id, ...next });
      const id = await makeCuring(api, programme, yard);
      const found = (days: number) => new Date(Date.now() - days * 86_400_000).toISOString();
      await heat(api, id, { from: found(12), hours: 0, celsius: [30, 54] });
      const cool = await gates(id);
      expect(statesOf(cool).cure).toBe('met');
      expect(textOf(cool, 'cure')).toContain(
        'The permit names no temperature at which a cure starts anew: 55 °C (131 °F) is taken from us-503-pfrp-static-aerated.',
      );
      expect(textOf(cool, 'cure')).toContain(
        'No turn is recorded since it was last at 55 °C (131 °F) or more',
      );
      await heat(api, id, { from: found(10), hours: 0, celsius: [30, 55] });
      const answer = await gates(id);
      expect(statesOf(answer).cure).toBe('unmet');
      expect(textOf(answer, 'cure')).toMatch(/^Cured (9|10) of 30 days since .* starts anew\./);
    });
  });
});
