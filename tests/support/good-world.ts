import type { TestApi } from './api.js';
import { lotBody } from './intake.js';
import { makeHauls } from './good-hauls.js';
import { makeHeld, showRecords } from './good-traces.js';
import { makeDevice } from './loggers.js';
import { localRule } from './local-rule.js';
import { made, makePersona, makeProgramme, PASSWORD } from './programme.js';
import { issueBody } from './reports.js';
import { makeCuring, maturity, permitTerms } from './released.js';
import { lotAtHub1, makeYard } from './yard-work.js';

interface Thing {
  id: string;
}

export const kg = (value: number) => ({ value, unit: 'kg' });
export const litres = (value: number) => ({ value, unit: 'L' });

export type GoodWorld = Awaited<ReturnType<typeof makeGoodWorld>>;

/** One of everything that a route can be about, with those who may use it. */
export async function makeGoodWorld(api: TestApi) {
  const programme = await makeProgramme(api);
  const yard = await makeYard(api, programme);
  await made(api, '/permits', { siteId: yard.yard.id, ...permitTerms });
  await showRecords(api, yard.yard.id);
  const { hub1, hub2 } = programme;
  const visitor = await makePersona(api, 'Tobias Reed', [{ role: 'volunteer', siteId: hub2.id }]);
  const leaver = await makePersona(api, 'Ines Moor', [{ role: 'volunteer', siteId: hub1.id }]);
  const tokens = {
    volunteer: programme.people.volunteer.token,
    operator: yard.operator.token,
    manager: yard.manager.token,
    coordinator: programme.people.coordinator.token,
    /** Volunteer of hub 2, where no shift is open. */
    visitor: visitor.token,
    leaver: leaver.token,
    leaverElsewhere: await api.signIn(leaver.email, PASSWORD),
  };
  const leaverSession = await made<Thing>(api, '/sessions', { email: leaver.email, password: PASSWORD });
  const probe = { code: 'P-9', kind: 'thermometer', resolution: { value: 1, unit: 'F' } };
  const thermometer = await made<Thing>(api, '/instruments', { siteId: yard.yard.id, ...probe });
  const intake = await makeIntake(api, programme, tokens.volunteer);
  const batches = await makeBatches(api, programme, yard);
  const loggerOf = async (code: string, batchIds: string[] = []) => {
    const bays = [yard.freeBay()];
    const { id, key } = await makeDevice(api, { siteId: yard.yard.id, code, bays, batchIds }, tokens.manager);
    return { id, key, bays };
  };
  const device = await loggerOf('L-1', [batches.building.id]);
  const stock = await makeStock(api, yard.yard.id);
  const sample = { siteId: yard.yard.id, material: 'leaves', by: 'bucket test', ashPercentDry: 10 };
  return {
    ...stock,
    held: await makeHeld(api, yard.begin, tokens.manager),
    ...(await makeHauls(api, programme, yard)),
    measurement: await made<Thing>(api, '/material-measurements', sample),
    report: await made<Thing>(api, '/diversion-reports', issueBody(programme), tokens.coordinator),
    complaint: await made<Thing>(api, '/complaints', {
      ...{ siteId: yard.yard.id, occurredAt: '2026-03-05T16:30:00Z', kind: 'animals', about: 'Rats' },
    }),
    device,
    loggerImported: await importLogger(api, device, tokens.manager),
    setAside: await setAside(api, device.id, tokens.operator),
    toRevoke: await loggerOf('L-2'),
    programme,
    yard: { ...yard, thermometer },
    visitor,
    leaver,
    leaverSession,
    tokens,
    ownRule: await made<{ code: string }>(api, '/process-rules', localRule),
    ...intake,
    ...batches,
  };
}

function importLogger(api: TestApi, device: { id: string; bays: string[] }, manager: string): Promise<Thing> {
  const file = { fileName: 'card.csv', csv: 'time,core\n2026-03-05 10:00,60\n', dryRun: false };
  const probes = [{ name: 'core', position: 'core-9' }];
  const read = { bay: device.bays[0], columns: { time: 'time' }, probes, unit: 'C' };
  return made<Thing>(api, '/logger-imports', { deviceId: device.id, ...file, ...read }, manager);
}

function setAside(api: TestApi, deviceId: string, operator: string): Promise<Thing> {
  const turned = { from: '2026-03-05T16:30:00Z', to: '2026-03-05T17:30:00Z', reason: 'Pulled for a turn' };
  return made<Thing>(api, '/logger-readings/set-aside', { deviceId, ...turned }, operator);
}

/** A barrow of known volume, chips counted in it, and what is usually mixed with them. */
async function makeStock(api: TestApi, siteId: string) {
  const bin = { siteId, code: 'BW-1', tare: kg(12), volume: litres(90) };
  const barrow = await made<Thing>(api, '/containers', bin);
  const amount = { containerId: barrow.id, count: 4 };
  const parts = [
    { material: 'food-scraps', parts: 1, fromDropOffs: true },
    { material: 'wood-chips', parts: 2, fromDropOffs: false },
  ];
  return {
    barrow,
    stockCount: await made<Thing>(api, '/stock-counts', { siteId, material: 'wood-chips', amount }),
    recipe: await made<Thing>(api, '/recipes', { siteId, name: 'Usual mix', basis: 'volume', parts }),
  };
}

async function makeIntake(
  api: TestApi,
  programme: Awaited<ReturnType<typeof makeProgramme>>,
  volunteer: string,
) {
  const { hub1, instruments } = programme;
  const lot = () => made<Thing>(api, '/drop-offs', lotBody(programme), volunteer);
  const refusal = { siteId: hub1.id, material: 'leaves', contaminant: 'glass', reason: 'Broken jars in it' };
  const file = {
    ...{ kind: 'drop-offs', fileName: 'winter.csv', csv: 'day,pounds\n2025-04-02,7\n', dryRun: false },
    ...{ columns: { date: 'day', mass: 'pounds' }, massUnit: 'lb', sites: [{ siteId: hub1.id }] },
    defaults: { material: 'leaves', depositor: 'household' },
  };
  return {
    imported: await made<Thing>(api, '/imports', file),
    shift: await made<Thing>(api, '/shifts', { siteId: hub1.id }, volunteer),
    lots: { toCorrect: await lot(), toReject: await lot(), toVoid: await lot(), toAssign: await lot() },
    refusal: await made<Thing>(api, '/refusals', refusal, volunteer),
    verified: instruments.scale,
  };
}

type Yard = Awaited<ReturnType<typeof makeYard>>;

async function makeBatches(api: TestApi, programme: Awaited<ReturnType<typeof makeProgramme>>, yard: Yard) {
  const manager = yard.manager.token;
  const add = (batchId: string, what: string, body: object) =>
    made<Thing>(api, `/batches/${batchId}/${what}`, body, manager);
  const building = (await yard.begin()) as Thing;
  const dropOffId = await lotAtHub1(api, programme, 40_000);
  const { items } = await made<{ items: Thing[] }>(
    api,
    `/batches/${building.id}/assignments`,
    { items: [{ dropOffId, mass: kg(15) }] },
    manager,
  );
  const reading = { position: 'core-1', temperature: { value: 30, unit: 'C' } };
  const side = { value: 1.2, unit: 'm' };
  const sides = { length: side, width: side, height: side };
  const entries = {
    assignment: items[0]!,
    amendment: await add(building.id, 'amendments', { from: 'stock', material: 'leaves', mass: kg(30) }),
    check: await add(building.id, 'checks', { readings: [reading] }),
    turn: await add(building.id, 'turns', {}),
    watering: await add(building.id, 'waterings', { volume: litres(20) }),
    pile: await add(building.id, 'pile-measurements', { shape: 'bin', ...sides }),
  };
  const toMerge = [(await yard.begin()) as Thing, (await yard.begin()) as Thing] as const;
  for (const { id } of toMerge)
    await add(id, 'amendments', { from: 'stock', material: 'leaves', mass: kg(60) });
  const curing = await makeCuring(api, programme, yard);
  const screened = { compost: kg(300), compostVolume: litres(600), overs: kg(100) };
  return {
    building,
    ...entries,
    begun: (await yard.begin()) as Thing,
    toMerge,
    curing: { id: curing },
    sample: await add(curing, 'samples', maturity('information')),
    screening: await add(curing, 'screenings', screened),
    ...(await makeReleased(api, await makeCuring(api, programme, yard), manager)),
  };
}

async function makeReleased(api: TestApi, id: string, manager: string) {
  const post = (what: string, body: object) => made(api, `/batches/${id}/${what}`, body, manager);
  await post('samples', maturity('passed'));
  await post('screenings', { compost: kg(300), compostVolume: litres(600) });
  const { seal } = (await post('release', { password: PASSWORD })) as { seal: string };
  const taken = { recipient: 'school', use: 'vegetable-beds', mass: kg(10) };
  return { released: { id }, seal, distribution: (await post('distributions', taken)) as Thing };
}
