import { createHash } from 'node:crypto';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canonicalJson } from '#libs/documents';
import { startApi, type TestApi } from '../support/api.js';
import { heat, hoursAfter } from '../support/heat.js';
import { made, makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { CURING_FROM, FILLED_AT, HOT_FROM, maturity, permitTerms } from '../support/released.js';
import { makeYard, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const sum = (lines: Record<string, number>[], field: string) =>
  Math.round(lines.reduce((total, line) => total + line[field]! * 1000, 0)) / 1000;

describe('the batch record', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let batchId: string;

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    await made(api, '/permits', {
      siteId: yard.yard.id,
      ...permitTerms,
      materials: [...permitTerms.materials, 'wood-chips'],
    });
    batchId = await workedBatch();
  });
  afterAll(() => api.stop());

  const as = () => yard.operator.token;
  const get = (path: string, token = as()) => api.call('GET', `/batches/${batchId}${path}`, { as: token });
  const post = (path: string, body: object) => made(api, `/batches/${batchId}${path}`, body);
  const record = async () => (await get('/record.json')).body;

  const lot = (changes: object) =>
    made(api, '/drop-offs', {
      ...{ siteId: programme.hub1.id, occurredAt: '2026-03-02T16:00:00Z' },
      ...{ material: 'food-scraps', depositor: 'household', weight: { net: kg(100) } },
      ...changes,
    });
  const reject = (contaminant: string, mass: number) => ({
    rejects: [{ contaminant, mass: kg(mass), wentTo: 'landfill' }],
  });

  /** A batch of four lots of two jurisdictions, one estimated and one split, with everything that can be recorded of it. */
  async function workedBatch(): Promise<string> {
    const whole = await lot(reject('film-plastic', 2));
    const estimated = await lot({ weight: undefined, volume: { value: 50, unit: 'gal' } });
    const leaves = await lot({ siteId: programme.hub2.id, material: 'leaves', weight: { net: kg(30) } });
    const split = await lot({ weight: { net: kg(10) }, ...reject('glass', 1) });
    const [batch, other] = [await yard.begin({ method: 'static-aerated' }), await yard.begin()];
    batchId = batch.id;
    const put = (id: string, items: object[]) =>
      made(api, `/batches/${id}/assignments`, { items, occurredAt: FILLED_AT });
    await put(other.id, [{ dropOffId: split.id, mass: kg(3) }]);
    await put(batchId, [
      { dropOffId: whole.id },
      { dropOffId: estimated.id },
      { dropOffId: leaves.id },
      { dropOffId: split.id, mass: kg(6) },
    ]);
    const chips = { from: 'stock', material: 'wood-chips', volume: { value: 0.1, unit: 'yd3' } };
    await post('/amendments', { ...chips, occurredAt: FILLED_AT });
    await post('/amendments', { from: 'water', volume: { value: 20, unit: 'L' }, occurredAt: FILLED_AT });
    await post('/stage', { to: 'active', occurredAt: HOT_FROM });
    await heat(api, batchId, { from: HOT_FROM, hours: 96, as: as() });
    const fahrenheit = {
      position: 'edge',
      depth: { value: 18, unit: 'in' },
      temperature: { value: 131, unit: 'F' },
    };
    const check = {
      readings: [fahrenheit],
      moisture: 'moist',
      odour: 'earthy',
      signs: [],
      texture: 'clumpy',
      note: 'Steam at the crown.',
    };
    await made(api, `/batches/${batchId}/checks`, { ...check, occurredAt: hoursAfter(HOT_FROM, 97) }, as());
    await post('/turns', { occurredAt: hoursAfter(HOT_FROM, 98) });
    await post('/waterings', { volume: { value: 5, unit: 'gal' }, occurredAt: hoursAfter(HOT_FROM, 99) });
    await post('/moves', { bay: yard.freeBay(), occurredAt: hoursAfter(HOT_FROM, 100) });
    await post('/stage', { to: 'curing', occurredAt: CURING_FROM });
    await post('/samples', maturity('passed'));
    const screened = { compost: kg(60), overs: kg(20), residue: kg(1.5), residueWentTo: 'landfill' };
    await post('/screenings', { ...screened, occurredAt: hoursAfter(CURING_FROM, 31 * 24 + 2) });
    return batchId;
  }

  it('is for the crew of the yard', async () => {
    const { volunteer, otherManager, municipalReader } = programme.people;
    for (const path of ['/record.json', '/record.pdf']) {
      expect((await api.call('GET', `/batches/${batchId}${path}`)).status).toBe(401);
      for (const person of [volunteer, otherManager, municipalReader]) {
        expect((await get(path, person.token)).status).toBe(403);
      }
      const elsewhere = '/batches/0197f0a0-0000-7000-8000-00000000000a';
      expect((await api.call('GET', `${elsewhere}${path}`, { as: as() })).status).toBe(404);
    }
  });

  it('has the form that its schema gives, which anybody may read', async () => {
    const schema = await api.call('GET', '/schemas/batch-record.json');
    expect(schema.status).toBe(200);
    const ajv = new Ajv2020({ strict: true, validateFormats: false, allErrors: true, allowUnionTypes: true });
    const validate = ajv.compile(schema.body);
    validate(await record());
    expect(validate.errors ?? []).toEqual([]);
  });

  it('says of a draft that it is one', async () => {
    const answer = await get('/record.json');
    expect(answer.headers['content-type']).toBe('application/json; charset=utf-8');
    expect(answer.headers['etag']).toBeUndefined();
    expect(answer.body).toMatchObject({
      status: 'draft',
      programme: { name: 'Lark Hollow Compost' },
      site: { code: 'HS', timeZone: 'America/Denver' },
      permit: {
        reference: 'HS-PERMIT-3',
        cureDays: 30,
        cureReheatC: 45,
        requiredSamples: ['maturity'],
        materials: expect.arrayContaining(['Leaves, mixed']),
      },
      batch: { code: 'HS-2026-001', method: 'static-aerated', stage: 'curing' },
      release: null,
    });
    expect(answer.body.asOf).toBe(hoursAfter(CURING_FROM, 31 * 24 + 2));
  });

  it('adds up what went in the same way by material, hub and jurisdiction', async () => {
    const { intake, jurisdictions } = await record();
    const estimatedKg = intake.estimatedKg as number;
    expect(estimatedKg).toBeGreaterThan(50);
    expect(intake).toMatchObject({ dropOffs: 4, weighedKg: 134 });
    expect(intake.acceptedKg).toBe(Math.round((134 + estimatedKg) * 1000) / 1000);
    expect(intake.firstAt).toBe('2026-03-02T16:00:00.000Z');
    for (const lines of [intake.materials, intake.origins, jurisdictions]) {
      expect(sum(lines, 'acceptedKg')).toBe(intake.acceptedKg);
      expect(sum(lines, 'lots')).toBe(4);
    }
    expect(intake.materials).toMatchObject([
      { code: 'food-scraps', lots: 3, weighedKg: 104, estimatedKg, densitySources: [expect.any(String)] },
      { code: 'leaves', lots: 1, acceptedKg: 30, estimatedKg: 0, densitySources: [] },
    ]);
    expect(intake.origins.map(({ siteCode, lots }: any) => [siteCode, lots])).toEqual([
      ['QS', 3],
      ['WG', 1],
    ]);
    expect(jurisdictions.map(({ name }: any) => name)).toEqual([
      'Thistle Ford County',
      'Town of Lark Hollow',
    ]);
    expect(intake.amendments).toMatchObject([
      { material: 'wood-chips', from: 'stock', basis: 'volume', entered: { value: 0.1, unit: 'yd3' } },
      { material: 'water', from: 'water', massKg: 20, entered: { value: 20, unit: 'L' } },
    ]);
  });

  it('takes the part of a reject that falls to what is here of a split lot, and the residue', async () => {
    const { intake } = await record();
    // 1 kg of glass was pulled from a lot of which 6 of 9 kg are here: 666.67 g of it.
    expect(intake.rejects).toEqual([
      { contaminant: 'film-plastic', found: 'drop-off', massKg: 2, wentTo: 'landfill' },
      { contaminant: 'glass', found: 'drop-off', massKg: 0.667, wentTo: 'landfill' },
      { contaminant: 'residue', found: 'batch', massKg: 1.5, wentTo: 'landfill' },
    ]);
    expect(intake).toMatchObject({ pulledKg: 2.667, residueKg: 1.5 });
  });

  it('carries the figures that the other routes answer', async () => {
    const { balance, mix, verdict, gates } = await record();
    const asked = async (path: string) => (await get(path)).body;
    const { inputs, outputs, ...totals } = await asked('/balance');
    const { inputs: drawn, outputs: out, ...same } = balance;
    expect(totals).toMatchObject(same);
    expect(out).toEqual(outputs);
    expect(sum(drawn, 'massKg')).toBe(balance.inputKg);
    expect(drawn.map(({ massKg }: any) => massKg)).toEqual(inputs.map(({ massKg }: any) => massKg));
    const mixed = await asked('/mix');
    for (const told of ['massKg', 'weighedKg', 'estimatedKg', 'volumeL', 'greensToBrowns', 'figuresAsOf'])
      expect(mix[told]).toEqual(mixed[told]);
    for (const [figure, told] of Object.entries<any>(mix.figures)) {
      expect(told.value).toBe(mixed[figure]);
      expect(told.range).toEqual(mixed.ranges[figure]);
      expect(told.knownMassPercent).toBe(mixed.knownMassPercent[figure]);
    }
    expect(mix.targets).toEqual(mixed.targets.map(({ value: _, ...target }: any) => target));
    expect(mix.figuresAsOf).toBe(HOT_FROM);
    const process = await asked('/process');
    expect(verdict).toMatchObject({ status: 'met', metAt: process.metAt, evidence: expect.any(Array) });
    expect(verdict.creditedSpans).toEqual(process.creditedSpans);
    expect(verdict.evidence.map(({ text }: any) => text)).toEqual(
      process.evidence.map(({ text }: any) => text),
    );
    const answered = (await asked('/gates')).gates;
    expect(gates.map(({ key, state, text }: any) => [key, state, text])).toEqual(
      answered.map(({ key, state, text }: any) => [key, state, text]),
    );
  });

  it('names the source of every figure of every material that the mix was computed from', async () => {
    const { mix } = await record();
    const materials = (await api.call('GET', '/materials?limit=200', { as: as() })).body.items;
    const nameOf = (code: string) => materials.find((material: any) => material.code === code).name;
    const names = mix.materials.map(({ name }: any) => name);
    expect(names.toSorted()).toEqual(['food-scraps', 'leaves', 'water', 'wood-chips'].map(nameOf).toSorted());
    for (const { name, figures } of mix.materials) {
      const kept = materials.find((material: any) => material.name === name);
      for (const [figure, told] of Object.entries<any>(figures)) {
        if (told === null) expect(kept[figure]).toBeNull();
        else {
          const { source, verification } = kept[figure];
          expect(told).toMatchObject({ source, verification, measuredOn: null });
          expect(told.typical).toBeCloseTo(kept[figure].typical, 1);
        }
      }
    }
    const leaves = mix.materials.find(({ name }: any) => name === nameOf('leaves'));
    expect(leaves.figures.moisturePercent.basis).toBe('wet mass');
    expect(leaves.figures.nitrogenPercentDry.basis).toBe('dry matter');
  });

  it('lists every check with what governs it, and everything done to the pile', async () => {
    const { checks, actions, samples, screenings, cure } = await record();
    expect(checks).toHaveLength(6);
    expect(checks.at(-1)).toMatchObject({
      readings: [{ position: 'edge', depthCm: 45.7, temperatureC: 55, entered: { value: 131, unit: 'F' } }],
      ...{ governingC: 55, counted: true, remark: null, moisture: 'moist', odour: 'earthy' },
      ...{ signs: [], texture: 'clumpy', inputsVisible: null },
      ...{ note: 'Steam at the crown.', by: 'B. T.' },
    });
    expect(actions).toMatchObject([
      { kind: 'turn', volumeL: null },
      { kind: 'watering', volumeL: 18.927, entered: { value: 5, unit: 'gal' } },
      { kind: 'move', toBay: 'H3' },
    ]);
    expect(samples).toMatchObject([
      {
        ...{ kind: 'maturity', outcome: 'passed', warnings: [] },
        results: [{ parameter: 'emergence', title: 'Emergence of seedlings', value: 85 }],
      },
    ]);
    expect(samples[0].findings).toContainEqual(
      expect.objectContaining({ scale: 'CCQC index, group B', class: 'mature', textStatus: 'from-memory' }),
    );
    expect(screenings).toMatchObject([{ compostKg: 60, residueKg: 1.5, residueWentTo: 'landfill' }]);
    expect(cure).toMatchObject({ status: 'done', daysDone: 30, daysRequired: 30 });
  });

  it('is printed from that same document', async () => {
    const answer = await get('/record.pdf');
    expect(answer.status).toBe(200);
    expect(answer.headers['content-type']).toBe('application/pdf');
    expect(answer.headers['content-disposition']).toBe('inline; filename="batch-record-HS-2026-001.pdf"');
    expect(answer.bytes.subarray(0, 5).toString()).toBe('%PDF-');
    expect(Number(answer.headers['content-length'])).toBe(answer.bytes.length);
  });

  it('stays to the byte what was sealed, whatever leaves the yard later', async () => {
    const { seal } = await made(
      api,
      `/batches/${batchId}/release`,
      { password: PASSWORD },
      yard.manager.token,
    );
    const sealed = await get('/record.json');
    expect(sealed.headers['etag']).toBe(`"${seal as string}"`);
    expect(createHash('sha256').update(sealed.bytes).digest('hex')).toBe(seal);
    expect(canonicalJson(sealed.body)).toBe(sealed.text);
    expect(sealed.body).toMatchObject({
      ...{ status: 'signed', version: 1, amends: null },
      batch: { stage: 'released' },
      release: { signedBy: 'Petra Hollis', role: 'manager' },
    });
    expect(sealed.body.asOf).toBe(sealed.body.release.signedAt);
    expect(sealed.body.batch.stages.at(-1)).toMatchObject({ stage: 'released', enteredAt: sealed.body.asOf });
    // Nothing is left unparted once it was screened; the balance of the released batch says the same.
    const { stillHereKg, processLossKg } = (await get('/balance')).body;
    expect(sealed.body.balance).toMatchObject({ stillHereKg: 0, processLossKg });
    expect(stillHereKg).toBe(0);

    const pdf = await get('/record.pdf');
    const given = { recipient: 'community-garden', use: 'vegetable-beds', mass: kg(25) };
    await made(api, `/batches/${batchId}/distributions`, given, yard.manager.token);
    expect((await get('/record.json')).text).toBe(sealed.text);
    expect((await get('/record.pdf')).bytes.equals(pdf.bytes)).toBe(true);
    expect((await get('/distributions')).body.items).toHaveLength(1);
    const check = await api.call('GET', `/seals/${seal as string}`, {
      as: programme.people.municipalReader.token,
    });
    expect(check.body).toMatchObject({ intact: true, kind: 'batch-record', version: 1 });
  });
});
