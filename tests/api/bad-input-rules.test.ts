import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { goodCalls } from '../support/good-bodies.js';
import type { GoodCall } from '../support/good-calls.js';
import { type GoodWorld, kg, makeGoodWorld } from '../support/good-world.js';
import { amiss, isTold, send } from '../support/refused.js';
import { RowWatch } from '../support/rows.js';

const BEYOND = { value: 1e12, unit: 't' };
const inOneUnit = { gross: { value: 20, unit: 'lb' }, tare: { value: 1, unit: 'kg' } };

describe('well-formed requests that break a rule', () => {
  let api: TestApi;
  let world: GoodWorld;
  let calls: GoodCall[];
  let rows: RowWatch;
  beforeAll(async () => {
    api = await startApi();
    world = await makeGoodWorld(api);
    calls = goodCalls(world);
    rows = await RowWatch.over(api.databaseUrl);
  });
  afterAll(async () => {
    await rows.stop();
    await api.stop();
  });

  const good = (route: string) => calls.find((call) => call.route === route)!;

  /** The good call of a route with some of its fields, its batch or its asker put wrong. */
  async function refused(
    route: string,
    { body = {}, id, as }: { body?: object; id?: string; as?: string },
    status: number,
    told: string,
  ): Promise<void> {
    const call = good(route);
    const before = await rows.state();
    const text = JSON.stringify({ ...call.body, ...body });
    const answer = await send(api, as === undefined ? call : { ...call, as }, {
      text,
      ...(id ? { params: { id } } : {}),
    });
    expect(amiss(answer, [status])).toBeNull();
    if (status === 422) expect(isTold(told, answer), answer.text).toBe(true);
    else expect(answer.body.type).toBe(`urn:heapwright:problem:${told}`);
    expect(await rows.state()).toEqual(before);
  }

  it.each<[string, string, object, string]>([
    ['a mass beyond any load', 'POST /drop-offs', { weight: { net: BEYOND } }, '/weight/net'],
    ['a tare above the gross', 'POST /drop-offs', { weight: { gross: kg(2), tare: kg(3) } }, '/weight/tare'],
    ['mixed units', 'POST /drop-offs', { weight: inOneUnit }, '/weight/tare/unit'],
    ['a material of nobody', 'POST /drop-offs', { material: 'moon-dust' }, '/material'],
    [
      'a container of nobody',
      'POST /drop-offs',
      { weight: { gross: kg(9), containerId: v7() } },
      '/weight/containerId',
    ],
    ['a jurisdiction of nobody', 'POST /drop-offs', { jurisdictionId: v7() }, '/jurisdictionId'],
    ['a scale of nobody', 'POST /drop-offs', { instrumentId: v7() }, '/instrumentId'],
    ['a shift of nobody', 'POST /drop-offs', { shiftId: v7() }, '/shiftId'],
    ['a mass beyond any load', 'POST /batches/:id/amendments', { mass: BEYOND }, '/mass'],
    ['a material of nobody', 'POST /batches/:id/amendments', { material: 'moon-dust' }, '/material'],
    ['a mass of nothing', 'POST /batches/:id/amendments', { mass: kg(0) }, '/mass'],
    ['a bay of nobody', 'POST /batches', { bay: 'Z99' }, '/bay'],
    ['a rule of nobody', 'POST /batches', { processRule: 'rule-of-thumb' }, '/processRule'],
    ['a bay of nobody', 'POST /batches/:id/moves', { bay: 'Z99' }, '/bay'],
    [
      'a lot of nobody',
      'POST /batches/:id/assignments',
      { items: [{ dropOffId: v7() }] },
      '/items/0/dropOffId',
    ],
    [
      'residue that went nowhere',
      'POST /batches/:id/screenings',
      { residueWentTo: undefined },
      '/residueWentTo',
    ],
    [
      'an override of no gate',
      'POST /batches/:id/release',
      { overrides: [{ gate: 'moon', reason: 'It is full now' }] },
      '/overrides',
    ],
    ['a zone of nobody', 'POST /sites', { timeZone: 'Moon/Tranquility' }, '/timeZone'],
    [
      'neither hub nor yard',
      'POST /sites',
      { takesDropOffs: false, runsBatches: false, bays: [] },
      '/takesDropOffs',
    ],
    ['a last day before the first', 'POST /permits', { validTo: '2025-01-01' }, '/validTo'],
    ['a role without its site', 'POST /people', { grants: [{ role: 'manager' }] }, '/grants'],
    ['an import of no site', 'POST /imports', { sites: [] }, '/sites'],
  ])('refuses %s (%s)', (_, route, body, pointer) => refused(route, { body }, 422, pointer));

  it('refuses to assign more of a lot than is left, or to a batch that is built', async () => {
    const route = 'POST /batches/:id/assignments';
    const { toAssign } = world.lots;
    const most = { items: [{ dropOffId: toAssign.id, mass: kg(10_000) }] };
    await refused(route, { body: most }, 409, 'beyond-what-is-left');
    await refused(route, { id: world.curing.id }, 409, 'not-building');
    await refused(route, { id: world.released.id }, 409, 'not-building');
  });

  it('refuses a stage out of its order', async () => {
    const route = 'POST /batches/:id/stage';
    for (const to of ['curing', 'emptied']) await refused(route, { body: { to } }, 409, 'stage-order');
    for (const to of ['building', 'released']) await refused(route, { body: { to } }, 422, '/to');
    await refused(route, { id: world.curing.id }, 409, 'stage-order');
    await refused(
      route,
      { id: world.released.id, body: { to: 'condemned', reason: 'Glass in it' } },
      409,
      'stage-order',
    );
  });

  it('refuses work that the stage does not allow', async () => {
    const { building, released, curing } = world;
    await refused('POST /batches/:id/samples', { id: building.id }, 409, 'stage-closed');
    await refused('POST /batches/:id/screenings', { id: building.id }, 409, 'stage-closed');
    await refused('POST /batches/:id/distributions', { id: curing.id }, 409, 'stage-closed');
    await refused('POST /batches/:id/release', { id: building.id }, 409, 'stage-closed');
    await refused('POST /batches/:id/release', { id: released.id }, 409, 'batch-released');
    for (const what of ['checks', 'turns', 'waterings'])
      await refused(`POST /batches/:id/${what}`, { id: released.id }, 409, 'stage-closed');
  });

  it('refuses a release by somebody without the role, or without the password', async () => {
    const route = 'POST /batches/:id/release';
    const { operator, volunteer, visitor } = world.tokens;
    for (const as of [operator, volunteer, visitor]) await refused(route, { as }, 403, 'not-allowed');
    const reader = world.programme.people.municipalReader.token;
    await refused(route, { as: reader }, 403, 'not-allowed');
    await refused(route, { as: world.programme.people.otherManager.token }, 403, 'other-site');
    await refused(route, { body: { password: 'not this one at all' } }, 403, 'wrong-password');
  });

  it('refuses to bring out more than went in', async () => {
    await refused('POST /batches/:id/screenings', { body: { compost: kg(40_000) } }, 409, 'balance-exceeded');
    await refused('POST /batches/:id/distributions', { body: { mass: kg(40_000) } }, 409, 'balance-exceeded');
  });

  it('takes ids in capital letters for what they are', async () => {
    const capitals = (value: unknown): unknown =>
      JSON.parse(
        JSON.stringify(value).replaceAll(/[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/g, (id) =>
          id.toUpperCase(),
        ),
      );
    const amissOnes: string[] = [];
    for (const call of calls) {
      const { status, text, body } = await send(api, {
        ...call,
        params: capitals(call.params) as Record<string, string>,
        ...(call.body ? { body: capitals(call.body) as Record<string, unknown> } : {}),
        ...(call.query ? { query: capitals(call.query) as Record<string, string> } : {}),
      });
      const items = call.route === 'POST /drop-offs/bulk' ? (body.items as { status: number }[]) : [];
      if ([status, ...items.map((item) => item.status)].some((one) => one > 204))
        amissOnes.push(`${call.route} ${status} ${text.slice(0, 300)}`);
    }
    expect(amissOnes.join('\n')).toBe('');
  });
});
