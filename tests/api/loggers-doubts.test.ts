import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Caution } from '#libs/process';
import { CautionsService } from '../../apps/api/monitoring/cautions.service.js';
import { ProcessService } from '../../apps/api/monitoring/process.service.js';
import { startApi, type TestApi } from '../support/api.js';
import { hoursAfter } from '../support/heat.js';
import { makeDevice, reading, send } from '../support/loggers.js';
import { made, makeProgramme } from '../support/programme.js';
import { BEGUN_AT, makeYard, type Yard } from '../support/yard-work.js';

describe('what speaks against loggers', () => {
  let api: TestApi;
  let yard: Yard;
  let loggers = 0;
  beforeAll(async () => {
    api = await startApi();
    yard = await makeYard(api, await makeProgramme(api));
  });
  afterAll(() => api.stop());

  const at = (hours: number) => hoursAfter(BEGUN_AT, hours);

  /** A batch with a logger of two probes that told of it hour by hour. */
  const told = async (celsius: (hour: number, probe: number) => number, instrumentId?: string) => {
    loggers += 1;
    const bay = yard.freeBay();
    const batch = await yard.begin({ bay });
    const facts = { siteId: yard.yard.id, code: `L-${loggers}`, bays: [bay] };
    const device = await makeDevice(
      api,
      { ...facts, ...(instrumentId === undefined ? {} : { instrumentId }) },
      yard.manager.token,
    );
    const readings = Array.from({ length: 96 }, (_, quarter) =>
      [0, 1].map((probe) =>
        reading({
          ...{ bay, position: `p-${probe}`, occurredAt: at(1 + quarter / 4) },
          temperature: { value: celsius(1 + quarter / 4, probe), unit: 'C' },
        }),
      ),
    ).flat();
    expect((await send(api, device.key, readings)).body.refused).toEqual([]);
    return { id: batch.id, bay, logger: `L-${loggers}` };
  };
  const doubts = async (batchId: string): Promise<readonly Caution[]> =>
    (await api.app.get(ProcessService).facts(batchId)).process.cautions ?? [];
  const kindsOf = (cautions: readonly Caution[]) => [...new Set(cautions.map(({ kind }) => kind))];
  const lively = (hour: number, probe: number) => 50 + probe + (hour % 7) / 10;

  it('is nothing where they live and nobody was there', async () => {
    const batch = await told(lively);
    expect(await doubts(batch.id)).toEqual([]);
  });

  it('is a probe that stays on one figure', async () => {
    const batch = await told((hour, probe) => (probe === 0 ? 61.3 : lively(hour, probe) + hour / 5));
    const cautions = await doubts(batch.id);
    expect(kindsOf(cautions)).toEqual(['stuck']);
    expect(cautions[0]).toMatchObject({ instrument: expect.stringContaining(batch.logger) });
  });

  it('is what the hand found beside them, and what they showed before the batch came is not', async () => {
    const batch = await told(lively);
    const check = (celsius: number) => ({
      occurredAt: at(12.1),
      readings: [{ position: 'by-hand', temperature: { value: celsius, unit: 'C' } }],
    });
    const path = `/batches/${batch.id as string}/checks`;
    const agreed = await made(api, path, check(52), yard.operator.token);
    expect(await doubts(batch.id)).toEqual([]);
    const why = { reason: 'Read again' };
    await api.call('POST', `${path}/${agreed.id as string}/void`, { as: yard.manager.token, body: why });
    await made(api, path, check(30), yard.operator.token);
    const cautions = await doubts(batch.id);
    expect(kindsOf(cautions)).toEqual(['disagreement']);
    const foreign = await yard.begin();
    expect(await doubts(foreign.id)).toEqual([]);
    const asked = { batchId: foreign.id, timeZone: 'America/Denver', checks: [], asOfMs: Date.now() };
    expect(await api.app.get(CautionsService).cautionsOf(asked)).toEqual([]);
  });

  it('is boiling water, and a thermometer whose verification is overdue', async () => {
    const probe = {
      ...{ siteId: yard.yard.id, code: 'P-7', kind: 'thermometer', verifyEveryDays: 30 },
      resolution: { value: 0.1, unit: 'C' },
    };
    const thermometer = await made(api, '/instruments', probe);
    const batch = await told(
      (hour, one) => (hour === 5 && one === 1 ? 101 : lively(hour, one)),
      thermometer.id as string,
    );
    const cautions = await doubts(batch.id);
    expect(kindsOf(cautions).sort()).toEqual(['implausible', 'verification-overdue']);
    expect(cautions.find(({ kind }) => kind === 'verification-overdue')?.instrument).toBe('P-7');
    const log = `/instruments/${thermometer.id as string}/verifications`;
    await made(api, log, { occurredAt: at(-24), passed: true, reference: 'Ice and boiling water' });
    expect(kindsOf(await doubts(batch.id))).toEqual(['implausible']);
  });
});
