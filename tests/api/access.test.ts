import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { OwnedKind, Scope } from '../../apps/api/http/access/access.js';
import type { SiteRole } from '../../apps/api/http/access/actor.js';
import { startApi, type TestApi } from '../support/api.js';
import type { DeviceKey } from '../support/loggers.js';
import { made, makePersona, makeProgramme, type Programme } from '../support/programme.js';
import { type Route, routesOf } from '../support/routes.js';
import { putDistribution, putRelease } from '../support/yard-work.js';

type Rank = 'reader' | Exclude<SiteRole, 'coordinator'>;

/** The most that somebody may be who must still be refused. */
const justBelow: Record<SiteRole, Rank> = {
  volunteer: 'reader',
  operator: 'volunteer',
  manager: 'operator',
  coordinator: 'manager',
};

/** All that a municipal reader may read. */
const READ = [
  'GET /diversion-reports',
  'GET /diversion-reports/:id',
  'GET /diversion-reports/:id.csv',
  'GET /diversion-reports/:id.json',
  'GET /diversion-reports/:id.pdf',
  'GET /diversion-reports/:id/rows.csv',
];

const nameOf = ({ method, path }: Route) => `${method} ${path}`;

describe('every route, with every kind of caller', () => {
  let api: TestApi;
  let programme: Programme;
  let routes: Route[];
  /** Tokens of people at the sites of the programme's first half, and of people elsewhere only. */
  const here = {} as Record<Rank, string>;
  const elsewhere = {} as Record<Rank, string>;
  let deviceKey: string;
  const things = {} as Record<OwnedKind, { id: string; siteId: string }>;

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    const { hub1, hub2, yard1, yard2, people } = programme;
    here.reader = elsewhere.reader = people.municipalReader.token;
    for (const role of ['volunteer', 'operator', 'manager'] as const) {
      const at = (...ids: string[]) => ids.map((siteId) => ({ role, siteId }));
      here[role] = (await makePersona(api, `Here ${role}`, at(hub1.id, yard1.id))).token;
      elsewhere[role] = (await makePersona(api, `Elsewhere ${role}`, at(hub2.id, yard2.id))).token;
    }
    await makeThings();
    routes = routesOf(api.app);
  });
  afterAll(() => api.stop());

  /** What a volunteer enters is entered by the one here: of a hub's intake a volunteer sees the own part. */
  async function makeThings(): Promise<void> {
    const { hub1, yard1, containers, instruments, permits } = programme;
    const lot = { siteId: hub1.id, material: 'food-scraps', depositor: 'household' };
    const weight = { net: { value: 6, unit: 'lb' } };
    const refused = { siteId: hub1.id, material: 'food-scraps', contaminant: 'glass', reason: 'Broken jars' };
    const batch = { siteId: yard1.id, bay: 'A1', method: 'turned-windrow' };
    const at = (siteId: string, thing: { id: string }) => ({ id: thing.id, siteId });
    const entered = (path: string, body: object) => made(api, path, body, here.volunteer);
    things.shift = at(hub1.id, await entered('/shifts', { siteId: hub1.id }));
    things['drop-off'] = at(hub1.id, await entered('/drop-offs', { ...lot, weight }));
    const lots = { dropOffIds: [things['drop-off'].id] };
    const haul = await entered('/hauls', { siteId: hub1.id, toSiteId: yard1.id, lots });
    things.haul = at(hub1.id, haul);
    things['incoming-haul'] = at(yard1.id, haul);
    things.refusal = at(hub1.id, await entered('/refusals', refused));
    things.batch = at(yard1.id, await made(api, '/batches', batch));
    const told = { siteId: yard1.id, kind: 'dust', about: 'Dust over the fence' };
    things.complaint = at(yard1.id, await made(api, '/complaints', told));
    things.container = at(hub1.id, containers.bucket);
    things.instrument = at(hub1.id, instruments.scale);
    things.permit = at(hub1.id, permits.hub1);
    const counted = { siteId: yard1.id, material: 'wood-chips', amount: { mass: { value: 90, unit: 'kg' } } };
    const measured = { siteId: yard1.id, material: 'leaves', by: 'bucket test', ashPercentDry: 10 };
    things['material-measurement'] = at(yard1.id, await made(api, '/material-measurements', measured));
    things['stock-count'] = at(yard1.id, await made(api, '/stock-counts', counted));
    const parts = ['food-scraps', 'wood-chips'].map((material) => ({ material, parts: 1 }));
    const recipe = {
      ...{ siteId: yard1.id, name: 'Usual mix', basis: 'volume' },
      parts: parts.map((part, index) => ({ ...part, fromDropOffs: index === 0 })),
    };
    const logger = { siteId: yard1.id, code: 'L-1', bays: ['A4'] };
    things.recipe = at(yard1.id, await made(api, '/recipes', recipe));
    const device = await made<DeviceKey>(api, '/device-keys', logger);
    things['device-key'] = at(yard1.id, device);
    things.distribution = at(yard1.id, await handedOut(yard1.id));
    deviceKey = device.key;
  }

  async function handedOut(siteId: string): Promise<{ id: string }> {
    const { id } = await made(api, '/batches', { siteId, bay: 'A3', method: 'turned-windrow' });
    for (const to of ['active', 'curing']) await made(api, `/batches/${id}/stage`, { to });
    const person = programme.people.manager.id;
    await putRelease(api, person, id);
    return putDistribution(api, person, id);
  }

  /** A call that reaches the place the route asks for, and nothing beyond. */
  function callOf(route: Route, scope: Scope | undefined) {
    const params: Record<string, string> = {};
    let body: object = {};
    if (scope?.at === 'thing') params[scope.param] = things[scope.kind].id;
    if (scope?.at === 'site' && scope.in === 'params') params[scope.field] = programme.hub1.id;
    if (scope?.at === 'site' && scope.in === 'body') body = { [scope.field]: programme.hub1.id };
    const path = route.path.replaceAll(/:(\w+)/g, (_, name: string) => params[name] ?? v7());
    return (as?: string) =>
      api.call(route.method, path, {
        ...(as ? { as } : {}),
        ...(route.method === 'GET' || route.method === 'DELETE' ? {} : { body }),
      });
  }

  it('finds the routes, and each says whom it lets in', () => {
    expect(routes.length).toBeGreaterThan(60);
    expect(routes.filter(({ rule }) => !rule)).toEqual([]);
  });

  it('lets in without a session only what is meant to be public', () => {
    const open = routes.filter(({ rule }) => rule?.kind === 'public').map(nameOf);
    // A record is shown in short where the coordinator let its yard do so, and to whoever has its seal.
    // The schemas say how a record and a report are made up, for whoever checks one; they tell of nobody and of no place.
    expect(open.sort()).toEqual([
      'GET /health/live',
      'GET /health/ready',
      'GET /public/batch-records/:seal',
      'GET /schemas/batch-record.json',
      'GET /schemas/diversion-report.json',
      'POST /sessions',
    ]);
  });

  it('answers 401 without a session', async () => {
    for (const route of routes.filter(({ rule }) => rule?.kind !== 'public')) {
      const answer = await callOf(route, undefined)();
      expect(answer.status, `${route.method} ${route.path}`).toBe(401);
    }
  });

  it('answers 403 to a device on every route but the one of devices, and there to everybody else', async () => {
    const ofDevices = routes.filter(({ rule }) => rule?.kind === 'device');
    expect(ofDevices.map(nameOf)).toEqual(['POST /logger-readings']);
    for (const route of routes) {
      if (route.rule?.kind === 'public' || route.rule?.kind === 'device') continue;
      const answer = await callOf(route, undefined)(deviceKey);
      expect([answer.status, answer.body.type], nameOf(route)).toEqual([
        403,
        'urn:heapwright:problem:not-allowed',
      ]);
    }
    const { coordinator } = programme.people;
    for (const token of [...Object.values(here), ...Object.values(elsewhere), coordinator.token]) {
      const answer = await callOf(ofDevices[0]!, undefined)(token);
      expect([answer.status, answer.body.type]).toEqual([403, 'urn:heapwright:problem:not-allowed']);
    }
    const own = await callOf(ofDevices[0]!, undefined)(deviceKey);
    expect(own.status).toBe(422);
  });

  it('answers 403 to a role that does not reach', async () => {
    for (const route of routes) {
      if (route.rule?.kind !== 'role') continue;
      const { role, scope } = route.rule;
      const answer = await callOf(route, scope)(here[justBelow[role]]);
      expect(answer.status, `${route.method} ${route.path} as ${justBelow[role]}`).toBe(403);
    }
  });

  it('answers 403 to the right role at the wrong site', async () => {
    let tried = 0;
    for (const route of routes) {
      if (route.rule?.kind !== 'role') continue;
      const { role, scope } = route.rule;
      if (role === 'coordinator' || (scope.at !== 'site' && scope.at !== 'thing')) continue;
      const answer = await callOf(route, scope)(elsewhere[role]);
      expect(answer.status, `${route.method} ${route.path} as ${role} elsewhere`).toBe(403);
      expect(answer.body.type).toBe('urn:heapwright:problem:other-site');
      tried += 1;
    }
    expect(tried).toBeGreaterThan(20);
  });

  it('lets the right role at the right site through, to be told what is wrong with an empty body', async () => {
    for (const route of routes) {
      if (route.rule?.kind !== 'role') continue;
      const { role, scope } = route.rule;
      const token = role === 'coordinator' ? programme.people.coordinator.token : here[role];
      const answer = await callOf(route, scope)(token);
      const told = `${route.method} ${route.path} as ${role}: ${answer.text.slice(0, 200)}`;
      expect([401, 403], told).not.toContain(answer.status);
      expect(answer.status, told).toBeLessThan(500);
    }
  });

  it('tells a municipal reader nothing of what is recorded from day to day', async () => {
    const { municipalReader } = programme.people;
    for (const route of routes) {
      if (route.rule?.kind !== 'role') continue;
      const answer = await callOf(route, route.rule.scope)(municipalReader.token);
      expect(answer.status, `${route.method} ${route.path}`).toBe(403);
      expect(answer.body.type).toBe('urn:heapwright:problem:not-allowed');
    }
    // What is issued to jurisdictions: tests/api/diversion-reports-reader.test.ts.
    expect(
      routes
        .filter(({ rule }) => rule?.kind === 'reader')
        .map(nameOf)
        .sort(),
    ).toEqual(READ);
    // What is left is about the reader, or about a seal that somebody has in hand.
    expect(
      routes
        .filter(({ rule }) => rule?.kind === 'signed-in')
        .map(nameOf)
        .sort(),
    ).toEqual([
      'DELETE /sessions/:id',
      'DELETE /sessions/current',
      'GET /people/me',
      'GET /seals/:hash',
      'GET /sessions',
      'POST /sessions/password',
    ]);
  });

  it.each<[Rank, string[]]>([
    ['volunteer', ['/drop-offs', '/shifts', '/refusals', '/containers', '/instruments']],
    ['operator', ['/permits', '/batches', '/material-measurements', '/stock-counts', '/recipes']],
  ])('shows a %s lists of the own sites only', async (role, lists) => {
    for (const path of lists) {
      const own = await api.call('GET', `${path}?limit=200`, { as: here[role] });
      const foreign = await api.call('GET', `${path}?limit=200`, { as: elsewhere[role] });
      expect(own.body.items.length, path).toBeGreaterThan(0);
      expect(foreign.body.items, path).toEqual([]);
      const site = (own.body.items as { siteId: string }[])[0]!.siteId;
      const asked = await api.call('GET', `${path}?siteId=${site}`, { as: elsewhere[role] });
      expect([asked.status, asked.body.items], path).toEqual([200, []]);
    }
  });

  describe('with lots at both hubs', () => {
    const lotAt = (siteId: string) => ({
      ...{ id: v7(), siteId, material: 'leaves', depositor: 'household' },
      ...{ weight: { net: { value: 8, unit: 'lb' } }, occurredAt: '2026-04-02T16:00:00Z' },
    });
    const idsOf = (items: { id: string }[]) => items.map(({ id }) => id).sort();
    let lots: { here: string; elsewhere: string };
    beforeAll(async () => {
      const { hub1, hub2 } = programme;
      lots = {
        here: (await made<{ id: string }>(api, '/drop-offs', lotAt(hub1.id), here.volunteer)).id,
        elsewhere: (await made<{ id: string }>(api, '/drop-offs', lotAt(hub2.id), elsewhere.volunteer)).id,
      };
    });

    it('shows a volunteer those of the own hub', async () => {
      const seen = (token: string) => api.call('GET', '/drop-offs?limit=200', { as: token });
      expect(idsOf((await seen(here.volunteer)).body.items)).toEqual(
        [things['drop-off'].id, lots.here].sort(),
      );
      expect(idsOf((await seen(elsewhere.volunteer)).body.items)).toEqual([lots.elsewhere]);
      const foreign = await api.call('GET', `/drop-offs/${lots.elsewhere}`, { as: here.volunteer });
      expect([foreign.status, foreign.body.type]).toEqual([403, 'urn:heapwright:problem:other-site']);
    });

    it('takes no lot of another hub among many', async () => {
      const { hub1, hub2 } = programme;
      const items = [lotAt(hub1.id), lotAt(hub2.id)];
      const answer = await api.call('POST', '/drop-offs/bulk', { as: here.volunteer, body: { items } });
      expect(answer.body.items.map(({ status }: { status: number }) => status)).toEqual([201, 403]);
      const kept = await api.call('GET', `/drop-offs/${items[1]!.id}`, { as: api.coordinator });
      expect(kept.status).toBe(404);
    });

    it('puts no lot of another hub into a batch', async () => {
      const path = `/batches/${things.batch.id}/assignments`;
      const some = { items: [{ dropOffId: lots.elsewhere }] };
      const all = { allUnassigned: { siteIds: [programme.hub2.id] } };
      for (const body of [some, all]) {
        const answer = await api.call('POST', path, { as: here.manager, body });
        expect([answer.status, answer.body.type]).toEqual([403, 'urn:heapwright:problem:other-site']);
      }
    });

    it('counts and hands out those of the own hub only', async () => {
      const { jurisdictions, hub1, hub2 } = programme;
      const table = (query = '') =>
        api.call('GET', `/exports/drop-offs.csv${query}`, { as: elsewhere.manager });
      expect((await table()).text).toContain(lots.elsewhere);
      expect((await table()).text).not.toContain(lots.here);
      expect((await table(`?siteId=${hub1.id}`)).text).not.toContain(lots.here);
      const path = `/diversion?from=2026-04-01&to=2026-05-01&jurisdictionId=`;
      const { larkHollow, thistleFord } = jurisdictions;
      const own = await api.call('GET', path + thistleFord.id, { as: elsewhere.manager });
      expect([own.body.total.lots, own.body.everySite]).toEqual([1, false]);
      expect(own.body.bySite.map(({ code }: { code: string }) => code)).toEqual([hub2.code]);
      const foreign = await api.call('GET', path + larkHollow.id, { as: elsewhere.manager });
      expect(foreign.body.total).toMatchObject({ lots: 0, acceptedKg: 0 });
    });
  });
});
