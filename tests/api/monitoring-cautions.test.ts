import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { hoursAfter } from '../support/heat.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { BEGUN_AT, lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

/** The days after the batch was begun on 3 March 2026, 8:00 in Denver. */
const day = (number: number) => hoursAfter(BEGUN_AT, number * 24);

describe('a thermometer whose verification is overdue', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let thermometers = 0;

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
  });
  afterAll(() => api.stop());

  async function thermometer(verifiedAt?: string): Promise<string> {
    thermometers += 1;
    const facts = {
      siteId: yard.yard.id,
      code: `T-${thermometers}`,
      kind: 'thermometer',
      verifyEveryDays: 30,
    };
    const { id } = await made(api, '/instruments', facts, yard.manager.token);
    if (verifiedAt !== undefined) await verify(id, verifiedAt, true);
    return id;
  }
  const verify = (id: string, occurredAt: string, passed: boolean) => {
    const reference = 'ice water, 0.0 °C';
    return made(
      api,
      `/instruments/${id}/verifications`,
      { occurredAt, passed, reference },
      yard.manager.token,
    );
  };
  /** A static pile that was 60 °C on five mornings running. */
  async function heated(instrumentId: string): Promise<string> {
    const rule = { method: 'static-aerated', processRule: 'us-503-pfrp-static-aerated' };
    const { id } = await yard.begin(rule);
    const dropOffId = await lotAtHub1(api, programme, 100_000);
    await made(
      api,
      `/batches/${id}/assignments`,
      { occurredAt: BEGUN_AT, items: [{ dropOffId }] },
      yard.manager.token,
    );
    for (const number of [1, 2, 3, 4, 5]) {
      const readings = [{ position: 'core-1', temperature: { value: 60, unit: 'C' }, instrumentId }];
      await made(api, `/batches/${id}/checks`, { occurredAt: day(number), readings }, yard.operator.token);
    }
    return id;
  }
  const process = async (id: string) =>
    (await api.call('GET', `/batches/${id}/process`, { as: yard.operator.token })).body;
  const gate = async (id: string) => {
    const { gates } = (await api.call('GET', `/batches/${id}/gates`, { as: yard.manager.token })).body;
    return gates.find(({ key }: { key: string }) => key.startsWith('process'));
  };

  it('is used, and told of in the verdict and at the gate', async () => {
    // Good until 5 March: the checks of 4 and 5 March are in order, those of 6, 7 and 8 March are not.
    const id = await heated(await thermometer('2026-02-03T12:00:00-07:00'));
    const { status, cautions } = await process(id);
    expect(status).toBe('met');
    expect(cautions).toEqual([
      {
        ...{ kind: 'verification-overdue', instrument: 'T-1', from: day(3), to: day(5) },
        text:
          'T-1, 3 readings, from 6 Mar 2026 08:00 to 8 Mar 2026 09:00: its last verification, of 3 Feb 2026, was good until ' +
          '5 Mar 2026 (one is asked for every 30 days). They are used all the same.',
      },
    ]);
    const { state, text } = await gate(id);
    expect(state).toBe('met');
    expect(text).toContain('T-1, 3 readings');
  });

  it('is not told of where the verification was in order, though it is overdue by now', async () => {
    const id = await heated(await thermometer('2026-03-01T12:00:00-07:00'));
    const { status, cautions } = await process(id);
    expect([status, cautions]).toEqual(['met', []]);
    expect((await gate(id)).text).not.toContain('verification');
  });

  it('is told of where it was never verified, and no more once the readings are taken back', async () => {
    const id = await heated(await thermometer());
    const [caution] = (await process(id)).cautions;
    expect(caution.text).toContain('it had not been verified yet, and one is asked for every 30 days');
    const as = yard.manager.token;
    const { items } = (await api.call('GET', `/batches/${id}/checks`, { as })).body;
    for (const check of items) {
      const path = `/batches/${id}/checks/${check.id}/void`;
      expect((await api.call('POST', path, { as, body: { reason: 'of another pile' } })).status).toBe(200);
    }
    expect((await process(id)).cautions).toEqual([]);
  });

  it('is told of where it failed, and where it fails the next time', async () => {
    const instrumentId = await thermometer('2026-03-01T12:00:00-07:00');
    const id = await heated(instrumentId);
    await verify(instrumentId, day(3.5), false);
    const texts = (await process(id)).cautions.map(({ text }: { text: string }) => text);
    expect(texts).toEqual([
      expect.stringContaining(
        '3 readings, from 4 Mar 2026 08:00 to 6 Mar 2026 08:00: it failed its next verification',
      ),
      expect.stringContaining(
        '2 readings, from 7 Mar 2026 08:00 to 8 Mar 2026 09:00: it had failed its verification',
      ),
    ]);
  });
});
