import type { Temporal } from 'temporal-polyfill';
import { ZONE } from './calendar.js';
import type { Caller } from './client.js';
import type { Hub } from './hub-day.js';
import {
  emailOf,
  hubs,
  type HubStory,
  type JurisdictionKey,
  jurisdictions,
  PASSWORD,
  people,
  permitMaterials,
  yards,
  type YardStory,
} from './places.js';
import { CURE_DAYS, type Yard } from './story.js';

type Ids = Record<string, string>;

const need = (ids: Ids, key: string): string => {
  const id = ids[key];
  if (!id) throw new Error(`the demo has no ${key}`);
  return id;
};

async function addSites(coordinator: Caller, openedOn: string): Promise<{ sites: Ids; towns: Ids }> {
  const towns: Ids = {};
  for (const { key, name, reportingYearStart } of jurisdictions) {
    towns[key] = (await coordinator.post('/jurisdictions', { name, reportingYearStart })).id;
  }
  const sites: Ids = {};
  for (const site of [...hubs, ...yards]) {
    const bays =
      'bays' in site ? site.bays.map((code) => ({ code, capacity: { value: 6, unit: 'yd3' } })) : [];
    const { id } = await coordinator.post('/sites', {
      name: site.name,
      code: site.code,
      takesDropOffs: !('bays' in site),
      runsBatches: 'bays' in site,
      timeZone: ZONE,
      jurisdictionId: need(towns, site.jurisdiction),
      openedOn,
      bays,
    });
    sites[site.code] = id;
  }
  return { sites, towns };
}

async function addPermits(coordinator: Caller, sites: Ids, validFrom: string): Promise<void> {
  for (const site of [...hubs, ...yards]) {
    const yard = 'rule' in site;
    await coordinator.post('/permits', {
      siteId: need(sites, site.code),
      reference: `${site.code}-COMPOST-${validFrom.slice(0, 4)}`,
      validFrom,
      materials: permitMaterials,
      requiredSamples: yard ? ['germination'] : [],
      ...(yard
        ? { processRule: site.rule, processReading: 'consecutive', cureDays: CURE_DAYS, minimumProbes: 3 }
        : {}),
      ...(yard
        ? { storedVolumeMax: { value: 100, unit: 'yd3' }, yearlyMassMax: { value: 60, unit: 'short-ton' } }
        : {}),
    });
  }
}

async function addPeople(coordinator: Caller, sites: Ids, towns: Ids): Promise<void> {
  const keys = [...new Set(people.map(({ key }) => key))].filter((key) => key !== 'coordinator');
  for (const key of keys) {
    const own = people.filter((person) => person.key === key);
    await coordinator.post('/people', {
      email: emailOf(key),
      displayName: own[0]?.name,
      password: PASSWORD,
      grants: own.map(({ role, site }) => ({
        role,
        ...(site ? { siteId: need(sites, site) } : {}),
        ...(role === 'municipal-reader' ? { jurisdictionId: need(towns, 'larkhollow') } : {}),
      })),
    });
  }
}

async function equipHub(
  coordinator: Caller,
  signIn: SignIn,
  story: HubStory,
  sites: Ids,
  jurisdictionId: string,
): Promise<Hub> {
  const siteId = need(sites, story.code);
  const containers: string[] = [];
  for (let number = 1; number <= 8; number += 1) {
    const { id } = await coordinator.post('/containers', {
      siteId,
      code: `B-${String(number).padStart(2, '0')}`,
      tare: { value: 2.2, unit: 'lb' },
      volume: { value: 5, unit: 'gal' },
    });
    containers.push(id);
  }
  const scale = {
    siteId,
    code: 'S-1',
    kind: 'scale',
    division: { value: 0.2, unit: 'lb' },
    verifyEveryDays: 365,
  };
  const scaleId = story.hasScale ? (await coordinator.post('/instruments', scale)).id : null;
  const volunteer = await signIn(story.jurisdiction === 'larkhollow' ? 'volunteer' : 'rivervolunteer');
  return { ...story, id: siteId, jurisdictionId, containers, scaleId, volunteer };
}

async function equipYard(coordinator: Caller, signIn: SignIn, story: YardStory, sites: Ids): Promise<Yard> {
  const siteId = need(sites, story.code);
  const probe = {
    siteId,
    code: 'T-1',
    kind: 'thermometer',
    resolution: { value: 1, unit: 'F' },
    verifyEveryDays: 365,
  };
  const { id: probeId } = await coordinator.post('/instruments', probe);
  const river = story.jurisdiction === 'emberford';
  return {
    ...story,
    id: siteId,
    hubIds: story.hubs.map((code) => need(sites, code)),
    crew: await signIn(river ? 'rivercrew' : 'crew'),
    manager: await signIn(river ? 'rivermanager' : 'manager'),
    probeId,
  };
}

type SignIn = (key: string) => Promise<Caller>;

export interface World {
  hubs: Hub[];
  yards: Yard[];
}

/** Towns, sites, permits, people, buckets, scales and probes, as a coordinator would type them in. */
export async function setUp(coordinator: Caller, first: Temporal.PlainDate): Promise<World> {
  const openedOn = first.toString();
  const { sites, towns } = await addSites(coordinator, openedOn);
  await addPermits(coordinator, sites, openedOn);
  await addPeople(coordinator, sites, towns);
  const signIn: SignIn = (key) => coordinator.signIn(emailOf(key), PASSWORD);
  const world: World = { hubs: [], yards: [] };
  for (const hub of hubs) {
    const jurisdictionId = need(towns, hub.jurisdiction satisfies JurisdictionKey);
    world.hubs.push(await equipHub(coordinator, signIn, hub, sites, jurisdictionId));
  }
  for (const yard of yards) world.yards.push(await equipYard(coordinator, signIn, yard, sites));
  return world;
}
