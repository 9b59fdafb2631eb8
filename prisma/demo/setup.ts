import type { Temporal } from 'temporal-polyfill';
import { ZONE } from './calendar.js';
import type { Caller } from './client.js';
import { enterCountyRule } from './county-rule.js';
import { addBuckets, addScale, addThermometers } from './equipment.js';
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
import { addBarrow, addRecipe, measureChips } from './stock.js';
import { CURE_DAYS, REHEAT, type Yard } from './story.js';

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
      publicRecords: 'bays' in site && site.publicRecords,
    });
    sites[site.code] = id;
  }
  return { sites, towns };
}

async function addPermits(coordinator: Caller, sites: Ids, validFrom: string): Promise<void> {
  for (const site of [...hubs, ...yards]) {
    await coordinator.post('/permits', {
      siteId: need(sites, site.code),
      reference: `${site.code}-COMPOST-${validFrom.slice(0, 4)}`,
      validFrom,
      materials: permitMaterials,
      ...('rule' in site ? yardTerms(site) : { requiredSamples: [] }),
    });
  }
}

const yardTerms = ({ rule, furtherRules, mixTargets, samples, yearlyMassShortTon }: YardStory) => ({
  ...{ processRule: rule, processReading: 'consecutive', furtherRules, mixTargets, minimumProbes: 3 },
  ...{ requiredSamples: samples, cureDays: CURE_DAYS, cureReheat: REHEAT },
  ...{
    storedVolumeMax: { value: 100, unit: 'yd3' },
    yearlyMassMax: { value: yearlyMassShortTon, unit: 'short-ton' },
  },
});

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
  siteId: string,
  jurisdictionId: string,
  first: Temporal.PlainDate,
): Promise<Hub> {
  return {
    ...story,
    id: siteId,
    jurisdictionId,
    containers: await addBuckets(coordinator, siteId),
    scaleId: await addScale(coordinator, siteId, story, first),
    volunteer: await signIn(story.jurisdiction === 'larkhollow' ? 'volunteer' : 'rivervolunteer'),
  };
}

async function equipYard(
  coordinator: Caller,
  signIn: SignIn,
  story: YardStory,
  sites: Ids,
  first: Temporal.PlainDate,
): Promise<Yard> {
  const id = need(sites, story.code);
  const river = story.jurisdiction === 'emberford';
  const manager = await signIn(river ? 'rivermanager' : 'manager');
  const yard = {
    ...story,
    id,
    hubIds: story.hubs.map((code) => need(sites, code)),
    crew: await signIn(river ? 'rivercrew' : 'crew'),
    manager,
    ...(await addThermometers(coordinator, id, story, first)),
    barrowId: await addBarrow({ manager, id }),
    overs: [],
  };
  await addRecipe(yard);
  if (story.measuresChips) await measureChips(yard, first.add({ days: 12 }));
  return yard;
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
  await enterCountyRule(coordinator);
  await addPermits(coordinator, sites, openedOn);
  await addPeople(coordinator, sites, towns);
  const signIn: SignIn = (key) => coordinator.signIn(emailOf(key), PASSWORD);
  const world: World = { hubs: [], yards: [] };
  for (const hub of hubs) {
    const jurisdictionId = need(towns, hub.jurisdiction satisfies JurisdictionKey);
    world.hubs.push(await equipHub(coordinator, signIn, hub, need(sites, hub.code), jurisdictionId, first));
  }
  for (const yard of yards) world.yards.push(await equipYard(coordinator, signIn, yard, sites, first));
  return world;
}
