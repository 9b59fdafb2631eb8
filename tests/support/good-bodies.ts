import { v7 } from 'uuid';
import { FIRST } from './api.js';
import { accountCalls } from './good-accounts.js';
import { type GoodCall, of } from './good-calls.js';
import { haulCalls } from './good-hauls.js';
import { loggerImportCalls } from './good-logger-files.js';
import { materialCalls } from './good-materials.js';
import { mixingCalls } from './good-mixing.js';
import { mergeCalls } from './good-merges.js';
import { pileCalls } from './good-piles.js';
import { traceCalls } from './good-traces.js';
import { type GoodWorld, kg, litres } from './good-world.js';
import { reportCalls } from './good-reports.js';
import { lotBody } from './intake.js';
import { localRule } from './local-rule.js';
import { PASSWORD } from './programme.js';
import { permitTerms } from './released.js';

const hoursAgo = (hours: number) => new Date(Date.now() - hours * 3_600_000).toISOString();
const hourAgo = () => hoursAgo(1);
const why = { reason: 'Entered twice' };
const note = { note: 'Grün und feucht' };
/** What an entry may carry that is sent by a device. */
const entry = () => ({ id: v7(), occurredAt: hourAgo() });

/** A good call of every route, in an order in which all of them can be made. */
export function goodCalls(world: GoodWorld): GoodCall[] {
  return [
    ...healthCalls(),
    ...placeCalls(world),
    ...materialCalls(world),
    ...ruleCalls(world),
    ...equipmentCalls(world),
    ...intakeCalls(world),
    ...haulCalls(world),
    ...buildingCalls(world),
    ...pileCalls(world),
    ...mixingCalls(world),
    ...loggerCalls(world),
    ...monitoringCalls(world),
    ...mergeCalls(world),
    ...curingCalls(world),
    ...traceCalls(world),
    ...releaseCalls(world),
    ...accountCalls(world),
    ...reportCalls(world),
    ...recordsCalls(world),
    ...peopleCalls(world),
    ...sessionCalls(world),
  ];
}

const healthCalls = (): GoodCall[] =>
  [
    'GET /health/live',
    'GET /health/ready',
    'GET /schemas/batch-record.json',
    'GET /schemas/diversion-report.json',
  ].map((route) => ({
    ...{ route, params: {} },
  }));

function placeCalls({ programme, tokens }: GoodWorld): GoodCall[] {
  const { jurisdictions, hub1, hub2, yard1 } = programme;
  const [volunteer, coordinator] = [of(tokens.volunteer), of(tokens.coordinator)];
  const named = { name: 'Bramble Weir', reportingYearStart: '01-01' };
  const bay = { code: 'A9', capacity: litres(9_000) };
  const site = {
    ...{ name: 'Bramble Weir', takesDropOffs: true, runsBatches: true, timeZone: 'America/Denver' },
    ...{ jurisdictionId: jurisdictions.larkHollow.id, openedOn: '2025-03-01' },
    publicRecords: true,
  };
  return [
    volunteer.get('/jurisdictions'),
    volunteer.get('/jurisdictions/:id', { id: jurisdictions.larkHollow.id }),
    coordinator.patch('/jurisdictions/:id', { id: jurisdictions.thistleFord.id }, named),
    coordinator.post('/jurisdictions', {}, { id: v7(), ...named, name: 'Weir Town' }),
    volunteer.get('/sites'),
    coordinator.get('/sites/:id', { id: hub1.id }),
    coordinator.patch('/sites/:id', { id: hub2.id }, site),
    coordinator.post('/sites/:id/bays', { id: yard1.id }, bay),
    coordinator.post('/sites', {}, { id: v7(), code: 'BW', ...site, bays: [bay] }),
  ];
}

function ruleCalls({ programme, tokens, ownRule }: GoodWorld): GoodCall[] {
  const { code: _, ...ruleTerms } = localRule;
  const { hub2, permits } = programme;
  const [volunteer, operator, coordinator] = [
    of(tokens.volunteer),
    of(tokens.operator),
    of(tokens.coordinator),
  ];
  const terms = {
    ...permitTerms,
    ...{ minimumProbes: 2, longestGapHours: 24, validTo: '2030-12-31', furtherRules: ['us-503-psrp'] },
    mixTargets: [{ figure: 'carbonToNitrogen', min: 25, max: 35 }],
    ...{ storedVolumeMax: litres(90_000), yearlyMassMax: kg(400_000) },
    ...{ weeklyMassMax: kg(9_000), massYearStart: '07-01' },
  };
  return [
    volunteer.get('/process-rules'),
    { ...volunteer.get('/process-rules/:code', { code: 'us-503-psrp' }), query: { version: '1' } },
    coordinator.post('/process-rules', {}, { ...localRule, code: 'weir-bins' }),
    {
      ...coordinator.post('/process-rules/:code/versions', { code: ownRule.code }, ruleTerms),
      headers: { 'if-match': '"1"' },
    },
    operator.get('/permits'),
    coordinator.get('/permits/:id', { id: permits.hub1.id }),
    coordinator.post('/permits', {}, { id: v7(), siteId: hub2.id, ...terms }),
    coordinator.patch('/permits/:id', { id: permits.yard1.id }, terms),
  ];
}

function equipmentCalls({ programme, tokens, verified }: GoodWorld): GoodCall[] {
  const { hub1, containers } = programme;
  const [volunteer, manager] = [of(tokens.volunteer), of(tokens.manager)];
  const bucket = { code: 'B-99', tare: kg(2), volume: litres(20) };
  const scale = { code: 'S-9', division: { value: 0.1, unit: 'lb' }, verifyEveryDays: 90 };
  const new1 = () => ({ id: v7(), siteId: hub1.id });
  const log = '/instruments/:id/verifications';
  return [
    volunteer.get('/containers'),
    volunteer.get('/containers/:id', { id: containers.bucket.id }),
    manager.post('/containers', {}, { ...new1(), ...bucket }),
    manager.patch(
      '/containers/:id',
      { id: containers.bucket.id },
      { ...bucket, code: 'B-08', retired: false },
    ),
    volunteer.get('/instruments'),
    volunteer.get('/instruments/:id', { id: verified.id }),
    manager.post('/instruments', {}, { ...new1(), kind: 'scale', ...scale }),
    manager.patch('/instruments/:id', { id: verified.id }, { ...scale, code: 'S-2', retired: false }),
    volunteer.get(log, { id: verified.id }),
    manager.post(
      log,
      { id: verified.id },
      { ...entry(), passed: true, reference: '10 kg test mass', ...note },
    ),
  ];
}

function intakeCalls({ programme, tokens, shift, lots, refusal }: GoodWorld): GoodCall[] {
  const { hub1, hub2, jurisdictions, instruments, containers } = programme;
  const [volunteer, visitor, manager] = [of(tokens.volunteer), of(tokens.visitor), of(tokens.manager)];
  const reject = { contaminant: 'glass', mass: { value: 0.4, unit: 'lb' }, wentTo: 'landfill' };
  const said = {
    ...{ jurisdictionId: jurisdictions.larkHollow.id, instrumentId: instruments.scale.id },
    ...{ rejects: [reject], ...note },
  };
  const lot = () => ({ ...lotBody(programme), ...said });
  const { siteId: _, ...stated } = lot();
  const refused = { siteId: hub1.id, shiftId: shift.id, material: 'leaves', contaminant: 'glass', ...why };
  const volume = { weight: { gross: kg(30), containerId: containers.bucket.id } };
  const counted = { containerId: containers.bucket.id, count: 2.5 };
  return [
    visitor.post('/shifts', {}, { ...entry(), siteId: hub2.id, ...note }),
    volunteer.get('/shifts'),
    volunteer.get('/shifts/:id', { id: shift.id }),
    volunteer.post('/drop-offs', {}, { ...lot(), ...volume, shiftId: shift.id }),
    volunteer.post('/drop-offs', {}, { ...lot(), weight: { gross: kg(30), tare: kg(2) } }),
    volunteer.post('/drop-offs', {}, { ...lot(), weight: undefined, volume: litres(40) }),
    volunteer.post('/drop-offs', {}, { ...lot(), weight: undefined, containers: counted }),
    volunteer.post('/drop-offs/bulk', {}, { items: [{ ...lot(), shiftId: shift.id }, lot()] }),
    volunteer.get('/drop-offs'),
    volunteer.get('/drop-offs/:id', { id: lots.toCorrect.id }),
    manager.post('/drop-offs/:id/corrections', { id: lots.toCorrect.id }, { ...stated, revision: 1, ...why }),
    volunteer.post('/drop-offs/:id/rejects', { id: lots.toReject.id }, { id: v7(), ...reject }),
    volunteer.post('/drop-offs/:id/void', { id: lots.toVoid.id }, why),
    volunteer.post('/refusals', {}, { ...entry(), ...refused, mass: kg(4) }),
    volunteer.get('/refusals'),
    volunteer.post('/refusals/:id/void', { id: refusal.id }, why),
    volunteer.post('/shifts/:id/close', { id: shift.id }, { countedLots: 8, ...note }),
  ];
}

function buildingCalls(world: GoodWorld): GoodCall[] {
  const { programme, yard, tokens, building, begun, lots, barrow, assignment, amendment } = world;
  const [operator, manager] = [of(tokens.operator), of(tokens.manager)];
  const { id } = building;
  const rule = { processRule: 'us-503-pfrp-windrow', method: 'turned-windrow' };
  const stock = { from: 'stock', material: 'leaves' };
  const containers = { containerId: barrow.id, count: 1.5 };
  const all = { siteIds: [programme.hub1.id], upTo: new Date().toISOString() };
  const items = [{ id: v7(), dropOffId: lots.toAssign.id, mass: kg(1) }];
  return [
    operator.get('/batches'),
    manager.post('/batches', {}, { ...entry(), siteId: yard.yard.id, bay: yard.freeBay(), ...rule, ...note }),
    ...['', '/balance', '/lineage', '/assignments', '/amendments'].map((what) =>
      operator.get(`/batches/:id${what}`, { id }),
    ),
    {
      ...manager.post('/batches/:id/assignments', { id }, { occurredAt: new Date().toISOString(), items }),
      toldElsewhere: ['/allUnassigned'],
    },
    manager.post('/batches/:id/assignments', { id }, { allUnassigned: all }),
    manager.post('/batches/:id/assignments/:assignmentId/void', { id, assignmentId: assignment.id }, why),
    manager.post('/batches/:id/amendments', { id }, { ...entry(), ...stock, mass: kg(25), ...note }),
    manager.post('/batches/:id/amendments', { id }, { ...entry(), ...stock, containers }),
    manager.post('/batches/:id/amendments/:amendmentId/void', { id, amendmentId: amendment.id }, why),
    operator.post('/batches/:id/moves', { id }, { ...entry(), bay: yard.freeBay() }),
    manager.post('/batches/:id/stage', { id: begun.id }, { to: 'active', occurredAt: hourAgo() }),
  ];
}

function loggerCalls({ yard, tokens, building, device, toRevoke, setAside }: GoodWorld): GoodCall[] {
  const [operator, manager] = [of(tokens.operator), of(tokens.manager)];
  const key = {
    ...{ id: v7(), siteId: yard.yard.id, code: 'L-9', name: 'Grey box', instrumentId: yard.thermometer.id },
    ...{ bays: [yard.freeBay()], batchIds: [building.id] },
  };
  const told = {
    ...{ position: 'core-1', zone: 'core', depth: { value: 18, unit: 'in' }, occurredAt: hourAgo() },
    temperature: { value: 140, unit: 'F' },
  };
  const readings = [
    { ...told, bay: device.bays[0] },
    { ...told, batchId: building.id },
  ];
  const pulled = {
    ...{ id: v7(), deviceId: device.id, from: hoursAgo(2), to: hoursAgo(1) },
    reason: 'Für das Umsetzen gezogen',
  };
  return [
    manager.get('/device-keys'),
    manager.post('/device-keys', {}, key),
    { route: 'POST /device-keys/:id/revoke', params: { id: toRevoke.id }, as: tokens.manager },
    {
      ...of(device.key).post('/logger-readings', {}, { readings }),
      judgedByItem: ['/readings/0/occurredAt'],
    },
    { ...operator.get('/logger-readings'), query: { deviceId: device.id } },
    operator.post('/logger-readings/set-aside', {}, { ...pulled, bay: device.bays[0], position: 'core-9' }),
    operator.post('/logger-readings/set-aside', {}, { ...pulled, id: v7(), batchId: building.id }),
    { ...operator.get('/logger-readings/set-aside'), query: { deviceId: device.id } },
    manager.post('/logger-readings/set-aside/:id/void', { id: setAside.id }, why),
  ];
}

function monitoringCalls({ yard, tokens, building, check, turn, watering }: GoodWorld): GoodCall[] {
  const [operator, manager] = [of(tokens.operator), of(tokens.manager)];
  const { id } = building;
  const reading = {
    ...{
      position: 'core-1',
      zone: 'core',
      depth: { value: 18, unit: 'in' },
      temperature: { value: 140, unit: 'F' },
    },
    instrumentId: yard.thermometer.id,
  };
  const seen = {
    ...{ readings: [reading], moisture: { percent: 55 }, odour: 'earthy', oxygen: 12 },
    ...{ signs: ['flies'], texture: 'crumbly', inputsVisible: false },
    ambient: { value: 60, unit: 'F' },
  };
  return [
    {
      ...operator.get('/batches/:id/process', { id }),
      query: { rule: 'us-503-psrp', version: '1', reading: 'cumulative', all: 'true' },
    },
    operator.get('/batches/:id/advice', { id }),
    ...['checks', 'turns', 'waterings'].map((what) => operator.get(`/batches/:id/${what}`, { id })),
    operator.post('/batches/:id/checks', { id }, { ...entry(), ...seen, ...note }),
    manager.post('/batches/:id/checks/:checkId/void', { id, checkId: check.id }, why),
    operator.post('/batches/:id/turns', { id }, { ...entry(), ...note }),
    manager.post('/batches/:id/turns/:turnId/void', { id, turnId: turn.id }, why),
    operator.post('/batches/:id/waterings', { id }, { ...entry(), volume: litres(40), ...note }),
    manager.post('/batches/:id/waterings/:wateringId/void', { id, wateringId: watering.id }, why),
  ];
}

function curingCalls({ tokens, curing, sample, screening }: GoodWorld): GoodCall[] {
  const [operator, manager] = [of(tokens.operator), of(tokens.manager)];
  const { id } = curing;
  const found = {
    ...{ kind: 'maturity', outcome: 'passed', mass: kg(1) },
    results: [
      {
        ...{ parameter: 'co2-evolution', value: 4, unit: 'mg CO2-C/g OM/day' },
        ...{ qualifier: '<', laboratoryWord: 'stable' },
      },
    ],
    ...{ finding: 'Grün', laboratory: 'Fell Laboratory', reference: 'FL-204' },
  };
  const screened = {
    ...{ compost: kg(40), compostVolume: litres(80), overs: kg(10), residue: kg(1) },
    ...{ residueWentTo: 'landfill', ...note },
  };
  const signed = {
    ...{
      password: PASSWORD,
      statement: 'Gesehen und für gut befunden',
      occurredAt: new Date().toISOString(),
    },
    overrides: [],
  };
  return [
    ...['samples', 'screenings', 'gates', 'readiness', 'distributions', 'record.json', 'record.pdf'].map(
      (what) => operator.get(`/batches/:id/${what}`, { id }),
    ),
    manager.post('/batches/:id/screenings', { id }, { ...entry(), ...screened }),
    manager.post('/batches/:id/screenings/:screeningId/void', { id, screeningId: screening.id }, why),
    manager.post('/batches/:id/samples/:sampleId/void', { id, sampleId: sample.id }, why),
    manager.post('/batches/:id/samples', { id }, { ...entry(), ...found }),
    manager.post('/batches/:id/release', { id }, signed),
  ];
}

function releaseCalls({ programme, tokens, released, distribution, seal }: GoodWorld): GoodCall[] {
  const [volunteer, manager] = [of(tokens.volunteer), of(tokens.manager)];
  const { id } = released;
  const taken = { recipient: 'school', use: 'vegetable-beds', mass: kg(10), ...note };
  const jurisdictionId = programme.jurisdictions.larkHollow.id;
  return [
    manager.post(
      '/batches/:id/distributions',
      { id },
      { ...entry(), ...taken, occurredAt: new Date().toISOString() },
    ),
    manager.get('/batches/:id/distributions/:distributionId/label.pdf', {
      ...{ id, distributionId: distribution.id },
    }),
    manager.post(
      '/batches/:id/distributions/:distributionId/void',
      { id, distributionId: distribution.id },
      why,
    ),
    {
      ...volunteer.get('/compost-use'),
      query: {
        ...{ areaValue: '1000', areaUnit: 'ft2', depthValue: '0.5', depthUnit: 'in' },
        ...{ densityKgM3: '650', containerLitres: '90' },
      },
    },
    manager.get('/seals/:hash', { hash: seal }),
    { ...manager.get('/diversion'), query: { jurisdictionId, from: '2026-01-01', to: '2026-07-01' } },
  ];
}

function recordsCalls(world: GoodWorld): GoodCall[] {
  const { programme, tokens, imported } = world;
  const { hub1, instruments, jurisdictions } = programme;
  const [manager, coordinator] = [of(tokens.manager), of(tokens.coordinator)];
  const jurisdictionId = jurisdictions.larkHollow.id;
  const read = {
    columns: { date: 'day', mass: 'pounds', site: 'place', material: 'what', note: 'remark' },
    ...{ massUnit: 'lb', dateForm: 'year-month-day', decimalMark: '.', delimiter: ',' },
    sites: [{ name: 'Quill', siteId: hub1.id, instrumentId: instruments.scale.id }],
    materials: [{ name: 'Food', code: 'food-scraps' }],
    jurisdictions: [{ name: 'Lark Hollow', jurisdictionId }],
    defaults: { material: 'leaves', jurisdictionId, depositor: 'household', localTime: '12:00' },
  };
  const csv = 'day,place,pounds,what,remark\n2025-05-02,Quill,10.5,Food,Grün\n2025-05-03,Quill,8,Food,\n';
  const file = { kind: 'drop-offs', fileName: 'spring.csv', dryRun: false, leaveOut: [3] };
  const csvBase64 = Buffer.from(csv.replaceAll('2025', '2026')).toString('base64');
  return [
    { ...manager.post('/imports', {}, { id: v7(), ...file, ...read, csv }), toldElsewhere: ['/csv'] },
    { ...manager.post('/imports', {}, { id: v7(), ...file, ...read, csvBase64 }), toldElsewhere: ['/csv'] },
    ...loggerImportCalls(world),
    manager.get('/imports'),
    manager.get('/imports/:id', { id: imported.id }),
    manager.get('/exports/drop-offs.csv'),
    ...['/audit', '/audit/seals', '/audit/verification'].map((path) => coordinator.get(path)),
    { route: 'POST /audit/seals', params: {}, as: tokens.coordinator },
  ];
}

function peopleCalls({ programme, tokens, visitor }: GoodWorld): GoodCall[] {
  const [volunteer, coordinator] = [of(tokens.volunteer), of(tokens.coordinator)];
  const password = 'another long password';
  const grants = [{ role: 'volunteer', siteId: programme.hub2.id, jurisdictionId: null }];
  const person = { displayName: 'Jørn Weir', password, grants };
  return [
    coordinator.get('/people'),
    volunteer.get('/people/me'),
    coordinator.get('/people/:id', { id: visitor.id }),
    coordinator.post('/people', {}, { id: v7(), email: 'jorn@larkhollow.example', ...person }),
    coordinator.patch('/people/:id', { id: visitor.id }, { ...person, disabled: false }),
  ];
}

function sessionCalls({ tokens, leaver, leaverSession }: GoodWorld): GoodCall[] {
  const here = of(tokens.leaver);
  return [
    { route: 'POST /sessions', params: {}, body: { email: FIRST.email, password: FIRST.password } },
    here.get('/sessions'),
    here.delete('/sessions/:id', { id: leaverSession.id }),
    of(tokens.leaverElsewhere).delete('/sessions/current'),
    here.post(
      '/sessions/password',
      {},
      { currentPassword: PASSWORD, newPassword: `${PASSWORD} ${leaver.id}` },
    ),
  ];
}
