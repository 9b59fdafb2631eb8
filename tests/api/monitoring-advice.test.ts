import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { hoursAfter } from '../support/heat.js';
import { makeDevice, reading, send } from '../support/loggers.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { BEGUN_AT, lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

const DAY = 24;

/** So many days ago, and some hours after that. */
const ago = (days: number, hours = 0) => hoursAfter(new Date().toISOString(), hours - days * DAY);

describe('advice on a batch', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let operator: string;
  let manager: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    operator = yard.operator.token;
    manager = yard.manager.token;
  });
  afterAll(() => api.stop());

  const adviceOn = async (batchId: string, as = operator) =>
    api.call('GET', `/batches/${batchId}/advice`, { as });
  const check = (batchId: string, celsius: number[], facts: object = {}, days = 0) =>
    made(
      api,
      `/batches/${batchId}/checks`,
      {
        occurredAt: ago(days, days === 0 ? -1 : 0),
        readings: celsius.map((value, index) => ({
          position: `core-${index + 1}`,
          temperature: { value, unit: 'C' },
        })),
        ...facts,
      },
      operator,
    );

  /** An active batch of food scraps, filled so many days ago. */
  const makeActive = async (days: number, facts: object = {}): Promise<string> => {
    const { id } = await yard.begin({ occurredAt: ago(days + 1), ...facts });
    const lot = await lotAtHub1(api, programme, 900_000, { occurredAt: ago(days + 2) });
    await made(
      api,
      `/batches/${id as string}/assignments`,
      { items: [{ dropOffId: lot }], occurredAt: ago(days) },
      manager,
    );
    await made(api, `/batches/${id as string}/stage`, { to: 'active', occurredAt: ago(days) }, manager);
    return id as string;
  };

  it('is for the crew of the yard', async () => {
    const { id } = await yard.begin();
    expect((await api.call('GET', `/batches/${id as string}/advice`)).status).toBe(401);
    expect((await adviceOn(id, programme.people.volunteer.token)).status).toBe(403);
    expect((await adviceOn(id, programme.people.municipalReader.token)).status).toBe(403);
    expect((await adviceOn(id, programme.people.otherManager.token)).status).toBe(403);
    for (const as of [operator, manager, api.coordinator]) expect((await adviceOn(id, as)).status).toBe(200);
    expect((await adviceOn(v7(), api.coordinator)).status).toBe(404);
  });

  it('says nothing of a batch that nothing went into', async () => {
    const { id } = await yard.begin({ occurredAt: BEGUN_AT });
    const { body } = await adviceOn(id);
    expect(body).toMatchObject({ advice: [], asOf: expect.any(String) });
    expect(body.notes[0]).toContain('no certainty');
    expect(body.notes.at(-1)).toContain('look at what it still needs');
  });

  it('leads with the mix of raw scraps while they are being built, by what the permit asks', async () => {
    await made(api, '/permits', {
      ...{ siteId: yard.yard.id, reference: 'HS-9', validFrom: '2026-01-01' },
      mixTargets: [{ figure: 'moisturePercent', min: 50, max: 60 }],
    });
    const { id } = await yard.begin({ occurredAt: ago(2) });
    const lot = await lotAtHub1(api, programme, 900_000, { occurredAt: ago(3) });
    const items = [{ dropOffId: lot }];
    await made(api, `/batches/${id as string}/assignments`, { items, occurredAt: ago(1) }, manager);
    const { advice } = (await adviceOn(id)).body;
    const mix = (await api.call('GET', `/batches/${id as string}/mix`, { as: operator })).body;
    expect(advice[0]).toMatchObject({
      ...{ key: 'mix-missed', urgency: 'soon', source: { title: expect.stringContaining('LSU AgCenter') } },
      actions: [{ key: 'complete-mix' }],
    });
    expect(advice[0].seen.join(' ')).toContain(
      `Its moisture is ${mix.moisturePercent as number} % by the typical figures of its materials; asked for: 50 to 60 %.`,
    );
  });

  it('calls for the fire service, and for nothing that opens the pile', async () => {
    const id = await makeActive(5);
    await check(id, [81, 60], { moisture: 'dry', signs: ['flies'] });
    const { advice } = (await adviceOn(id)).body;
    expect(advice).toHaveLength(1);
    expect(advice[0]).toMatchObject({
      ...{ key: 'fire-danger', title: 'Danger of fire', urgency: 'now' },
      source: { title: expect.stringContaining('Surrey'), status: 'verified' },
    });
    expect(advice[0].actions.map(({ key }: { key: string }) => key).slice(0, 2)).toEqual([
      'keep-away',
      'call-fire-service',
    ]);
    expect(advice[0].seen[0]).toContain('core-1, 81 °C');
  });

  it('rests on checks, smell, signs, the mix and the waterings, and not on what was voided', async () => {
    const id = await makeActive(9);
    const wrong = await check(id, [90], {}, 1);
    await made(
      api,
      `/batches/${id}/waterings`,
      { occurredAt: ago(0, -0.5), volume: { value: 200, unit: 'L' } },
      operator,
    );
    await check(id, [30], { moisture: 'dry', odour: 'sour', signs: ['rodents'] });
    const before = (await adviceOn(id)).body.advice;
    expect(before.map(({ key }: { key: string }) => key)).not.toContain('not-heating');
    const voided = await api.call('POST', `/batches/${id}/checks/${wrong.id as string}/void`, {
      as: manager,
      body: { reason: 'typed in °F' },
    });
    expect(voided.status).toBe(200);
    const { advice } = (await adviceOn(id)).body;
    expect(advice.map(({ key, urgency }: any) => [key, urgency])).toEqual([
      ['not-heating', 'soon'],
      ['sour', 'soon'],
      ['rodents', 'soon'],
      ['dry', 'watch'],
    ]);
    const [notHeating, , , dry] = advice;
    expect(notHeating.causes[0]).toMatchObject({
      key: 'dry',
      seen: expect.stringContaining('dry by the hand'),
    });
    expect(dry.seen[1]).toContain('watered since');
    const water = notHeating.actions.find(({ key }: any) => key === 'water');
    expect(water.cautions.map(({ key }: any) => key)).toEqual(expect.arrayContaining(['spores', 'lifting']));
  });

  it('knows of a move as of a turn, and of the method', async () => {
    const id = await makeActive(20, { method: 'static-aerated' });
    await check(id, [60], {}, 12);
    await check(id, [36], { moisture: 'moist' }, 6);
    await made(api, `/batches/${id}/moves`, { bay: yard.freeBay(), occurredAt: ago(5) }, manager);
    await check(id, [33], { moisture: 'moist' });
    const { advice } = (await adviceOn(id)).body;
    expect(advice.map(({ key }: any) => key)).toEqual(['finishing']);
    expect(advice[0].seen.at(-1)).toContain('has not reheated');
  });

  it('hears loggers as well as people', async () => {
    const id = await makeActive(8);
    expect((await adviceOn(id)).body.advice.map(({ key }: any) => key)).toEqual(['not-checked']);
    const device = await makeDevice(api, { siteId: yard.yard.id, code: 'L-7', batchIds: [id] });
    const told = (hours: number, value: number) =>
      reading({ batchId: id, occurredAt: ago(0, -hours), temperature: { value, unit: 'C' } });
    expect((await send(api, device.key, [told(30, 60), told(2, 61)])).body.refused).toEqual([]);
    expect((await adviceOn(id)).body.advice).toEqual([]);
    await send(api, device.key, [told(1, 83)]);
    const { advice } = (await adviceOn(id)).body;
    expect(advice.map(({ key }: any) => key)).toEqual(['fire-danger']);
    expect(advice[0].seen[0]).toContain('L-7, 83 °C');
  });

  it('takes what only a fire or a broken probe shows for a fire, for a day', async () => {
    const id = await makeActive(8);
    const device = await makeDevice(api, { siteId: yard.yard.id, code: 'L-8', batchIds: [id] });
    const tell = async (hours: number, position: string, value: number) => {
      const told = { batchId: id, occurredAt: ago(0, -hours), position, temperature: { value, unit: 'C' } };
      expect((await send(api, device.key, [reading(told)])).body.refused).toEqual([]);
    };
    await tell(27, 'core-1', 130);
    await tell(1, 'core-1', 60);
    expect((await adviceOn(id)).body.advice).toEqual([]);
    await tell(22, 'core-2', 120);
    const { advice } = (await adviceOn(id)).body;
    expect(advice).toMatchObject([{ key: 'fire-danger', urgency: 'now' }]);
    expect(advice[0].seen).toEqual([expect.stringMatching(/^L-8, probe core-2, from .+: 120 °C /)]);
  });
});
