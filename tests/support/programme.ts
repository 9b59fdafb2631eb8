import type { Answer, TestApi } from './api.js';

interface Place {
  id: string;
  code: string;
}

interface Persona {
  id: string;
  email: string;
  token: string;
}

export const PASSWORD = 'a password of the programme';

/** Throws unless the call made something: a fixture that fails half-way would only puzzle later. */
export async function made<T = any>(
  api: TestApi,
  path: string,
  body: unknown,
  as = api.coordinator,
): Promise<T> {
  const answer: Answer<T> = await api.call('POST', path, { as, body });
  if (answer.status !== 201) throw new Error(`POST ${path} answered ${answer.status}: ${answer.text}`);
  return answer.body;
}

interface GrantBody {
  role: string;
  siteId?: string;
  jurisdictionId?: string;
}

/** A person with an account, signed in. */
export async function makePersona(api: TestApi, name: string, grants: GrantBody[]): Promise<Persona> {
  const email = `${name.toLowerCase().replaceAll(' ', '.')}@larkhollow.example`;
  const { id } = await made<{ id: string }>(api, '/people', {
    email,
    displayName: name,
    password: PASSWORD,
    grants,
  });
  return { id, email, token: await api.signIn(email, PASSWORD) };
}

const permitTerms = {
  validFrom: '2025-01-01',
  processRule: 'us-503-pfrp-windrow',
  processReading: 'consecutive',
  cureDays: 30,
  materials: ['food-scraps', 'leaves', 'wood-chips'],
};

async function makeSites(api: TestApi, larkHollow: string, thistleFord: string) {
  const site = (body: object) =>
    made<Place>(api, '/sites', { timeZone: 'America/Denver', openedOn: '2025-03-01', ...body });
  const hubOf = (jurisdictionId: string, code: string, name: string) =>
    site({ code, name, jurisdictionId, takesDropOffs: true, runsBatches: false });
  const yardOf = (jurisdictionId: string, code: string, name: string, bays: string[]) =>
    site({
      ...{ code, name, jurisdictionId, takesDropOffs: false, runsBatches: true },
      bays: bays.map((bay) => ({ code: bay, capacity: { value: 30, unit: 'yd3' } })),
    });
  return {
    hub1: await hubOf(larkHollow, 'QS', 'Quill Street hub'),
    hub2: await hubOf(thistleFord, 'WG', 'Wren Gate hub'),
    yard1: await yardOf(larkHollow, 'MB', 'Mallow Bank yard', ['A1', 'A2', 'A3', 'A4']),
    yard2: await yardOf(thistleFord, 'OC', 'Otter Cairn yard', ['B1', 'B2']),
  };
}

async function makeEquipment(api: TestApi, hub1: Place, yard1: Place) {
  const bucket = { tare: { value: 2.1, unit: 'lb' }, volume: { value: 5, unit: 'gal' } };
  const tote = { tare: { value: 11.5, unit: 'kg' }, volume: { value: 240, unit: 'L' } };
  const scale = { kind: 'scale', division: { value: 0.1, unit: 'lb' }, verifyEveryDays: 90 };
  return {
    containers: {
      bucket: await made<Place>(api, '/containers', { siteId: hub1.id, code: 'B-07', ...bucket }),
      tote: await made<Place>(api, '/containers', { siteId: yard1.id, code: 'T-01', ...tote }),
    },
    instruments: {
      scale: await made<Place>(api, '/instruments', { siteId: hub1.id, code: 'S-1', ...scale }),
      thermometer: await made<Place>(api, '/instruments', {
        ...{ siteId: yard1.id, code: 'P-1', kind: 'thermometer' },
        resolution: { value: 1, unit: 'F' },
      }),
    },
  };
}

export type Programme = Awaited<ReturnType<typeof makeProgramme>>;

/**
 * An invented programme, made through the API: two jurisdictions, a hub and a yard in each, and their people.
 * Hub 1 and yard 1 are of one manager, yard 2 of another; the permits are of hub 1 and yard 1 and begin in 2025.
 */
export async function makeProgramme(api: TestApi) {
  const larkHollow = await made<{ id: string }>(api, '/jurisdictions', {
    name: 'Town of Lark Hollow',
    reportingYearStart: '07-01',
  });
  const thistleFord = await made<{ id: string }>(api, '/jurisdictions', {
    name: 'Thistle Ford County',
    reportingYearStart: '01-01',
  });
  const sites = await makeSites(api, larkHollow.id, thistleFord.id);
  const { hub1, yard1, yard2 } = sites;
  const permitOf = (site: Place, reference: string) =>
    made<{ id: string }>(api, '/permits', { siteId: site.id, reference, ...permitTerms });
  return {
    jurisdictions: { larkHollow, thistleFord },
    ...sites,
    permits: { hub1: await permitOf(hub1, 'LH-COMP-12'), yard1: await permitOf(yard1, 'LH-COMP-13') },
    ...(await makeEquipment(api, hub1, yard1)),
    people: {
      volunteer: await makePersona(api, 'Vera Lindqvist', [{ role: 'volunteer', siteId: hub1.id }]),
      operator: await makePersona(api, 'Osric Pine', [{ role: 'operator', siteId: yard1.id }]),
      manager: await makePersona(api, 'Maud Ferrier', [
        { role: 'manager', siteId: hub1.id },
        { role: 'manager', siteId: yard1.id },
      ]),
      otherManager: await makePersona(api, 'Otis Bram', [{ role: 'manager', siteId: yard2.id }]),
      coordinator: await makePersona(api, 'Cora Wick', [{ role: 'coordinator' }]),
      municipalReader: await makePersona(api, 'Rhea Dunmore', [
        { role: 'municipal-reader', jurisdictionId: larkHollow.id },
      ]),
    },
  };
}
