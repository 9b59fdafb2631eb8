import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { Clock } from '../../apps/api/http/clock.js';
import { startApi, type TestApi } from '../support/api.js';
import { figuresFrom } from '../support/figures-from.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';

const lb = (value: number) => ({ value, unit: 'lb' });
const glass = { contaminant: 'glass', mass: lb(0.5), wentTo: 'landfill' };
const DAY_MS = 86_400_000;

describe('a drop-off, looked at again later', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterEach(() => vi.restoreAllMocks());
  afterAll(() => api.stop());

  const stated = (changes: object) => ({
    ...{ siteId: programme.hub1.id, material: 'food-scraps', depositor: 'household' },
    ...changes,
  });
  const record = (changes: object, as = programme.people.volunteer.token) =>
    made(api, '/drop-offs', stated(changes), as);
  const correct = async (lot: { id: string }, changes: object) => {
    const { siteId: _, ...rest } = stated(changes) as Record<string, unknown>;
    const body = {
      ...rest,
      jurisdictionId: programme.jurisdictions.larkHollow.id,
      rejects: [],
      reason: 'A shop',
    };
    const path = `/drop-offs/${lot.id}/corrections`;
    return made(api, path, { occurredAt: new Date().toISOString(), ...body }, programme.people.manager.token);
  };
  const reweigh = async (container: { id: string }, tare: object) => {
    const path = `/containers/${container.id}`;
    const { headers } = await api.call('GET', path, { as: api.coordinator });
    const change = { as: api.coordinator, body: { tare }, headers: { 'if-match': String(headers.etag) } };
    expect((await api.call('PATCH', path, change)).status).toBe(200);
  };

  it('keeps the tare it was weighed with when something else is corrected', async () => {
    const container = await made(api, '/containers', {
      siteId: programme.hub1.id,
      code: 'B-55',
      tare: lb(2),
    });
    const other = await made(api, '/containers', { siteId: programme.hub1.id, code: 'B-56', tare: lb(3) });
    const weight = { gross: lb(12), containerId: container.id };
    const lot = await record({ weight });
    expect(lot.netKg).toBe(4.536);
    await reweigh(container, lb(2.5));
    expect(await correct(lot, { weight, depositor: 'business' })).toMatchObject({
      netKg: 4.536,
      tareKg: lot.tareKg,
    });
    expect((await record({ weight })).netKg).toBe(4.309);
    const inAnother = { ...weight, containerId: other.id };
    expect((await correct(lot, { weight: inAnother })).netKg).toBe(4.082);
  });

  it('keeps the density it was estimated with when something else is corrected', async () => {
    const volume = { value: 5, unit: 'gal' };
    const lot = await record({ volume });
    const path = '/materials/food-scraps';
    const { headers } = await api.call('GET', path, { as: api.coordinator });
    const body = figuresFrom('Weighed ten buckets at the hub', { bulkDensityKgM3: 600 });
    const change = { as: api.coordinator, body, headers: { 'if-match': String(headers.etag) } };
    expect((await api.call('PATCH', path, change)).status).toBe(200);
    const corrected = await correct(lot, { volume, depositor: 'business' });
    expect(corrected).toMatchObject({ netKg: lot.netKg, densityKgM3: lot.densityKgM3 });
    expect((await record({ volume })).netKg).toBeGreaterThan(lot.netKg);
  });

  it('has rejects pulled by the volunteer only while it is fresh, by a manager at any time', async () => {
    const lot = await record({ weight: { net: lb(10) } });
    const pull = (as: string) => api.call('POST', `/drop-offs/${lot.id}/rejects`, { as, body: glass });
    expect((await pull(programme.people.volunteer.token)).status).toBe(201);
    vi.spyOn(Clock.prototype, 'nowMs').mockReturnValue(Date.now() + 2 * DAY_MS);
    expect((await pull(programme.people.volunteer.token)).status).toBe(403);
    expect((await pull(programme.people.manager.token)).status).toBe(201);
  });

  it('tells a stranger nothing of a void, whatever reason is guessed', async () => {
    const lot = await record({ weight: { net: lb(10) } });
    const mine = { as: programme.people.manager.token, body: { reason: 'Weighed twice' } };
    const path = `/drop-offs/${lot.id}/void`;
    expect((await api.call('POST', path, mine)).status).toBe(200);
    expect((await api.call('POST', path, mine)).status).toBe(200);
    vi.spyOn(Clock.prototype, 'nowMs').mockReturnValue(Date.now() + 2 * DAY_MS);
    const guessed = { as: programme.people.volunteer.token, body: mine.body };
    expect((await api.call('POST', path, guessed)).status).toBe(403);
  });

  it('is told when it is from before its shift was opened', async () => {
    const shift = await made(api, '/shifts', { siteId: programme.hub1.id }, programme.people.volunteer.token);
    const early = new Date(Date.parse(shift.openedAt as string) - 60_000).toISOString();
    const lot = await record({ weight: { net: lb(10) }, shiftId: shift.id, occurredAt: early });
    expect(lot.warnings.map(({ code }: { code: string }) => code)).toContain('before-shift');
  });
});
