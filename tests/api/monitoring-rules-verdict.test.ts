import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { processRule, processRules } from '#libs/process';
import { startApi, type TestApi } from '../support/api.js';
import { heat, hoursAfter } from '../support/heat.js';
import { localRule } from '../support/local-rule.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { BEGUN_AT, lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

const FILLED_AT = hoursAfter(BEGUN_AT, 1);
const HOT_FROM = hoursAfter(BEGUN_AT, 24);
const { title, purpose, jurisdiction, citation, year, textStatus, textSource } = localRule;
const text = { title, purpose, jurisdiction, citation, year, textStatus, textSource };
/** 48 hours at 55 °C in a static pile. */
const plainRule = {
  ...text,
  ...{ threshold: { value: 55, unit: 'C' }, hours: 48, basis: 'elapsed', continuity: 'unstated' },
  methods: ['static-aerated'],
};

describe('the verdict under rules of one’s own', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
  });
  afterAll(() => api.stop());

  const addRule = (body: object) => made(api, '/process-rules', body);
  const nextVersion = (code: string, version: number, body: object) =>
    api.call('POST', `/process-rules/${code}/versions`, {
      as: api.coordinator,
      body,
      headers: { 'if-match': `"${version}"` },
    });
  const process = async (batchId: string, query = '') => {
    const { status, body } = await api.call('GET', `/batches/${batchId}/process${query}`, {
      as: yard.operator.token,
    });
    expect(status).toBe(200);
    return body;
  };

  /** A batch of one lot of food scraps, in the static pile. */
  async function filled(facts: object = {}): Promise<string> {
    const { id } = await yard.begin({ method: 'static-aerated', ...facts });
    const items = [{ dropOffId: await lotAtHub1(api, programme, 400_000) }];
    const body = { items, occurredAt: FILLED_AT };
    await made(api, `/batches/${id as string}/assignments`, body, yard.manager.token);
    return id as string;
  }

  it('is that of the version the batch began under, whatever is written later', async () => {
    await addRule({ ...plainRule, code: 'kept-rule' });
    const old = await filled({ processRule: 'kept-rule' });
    await heat(api, old, { from: HOT_FROM, hours: 72 });
    const before = await process(old);
    expect(before).toMatchObject({
      ...{ status: 'met', metAt: hoursAfter(HOT_FROM, 48), purpose: 'pathogen-reduction' },
      rule: { code: 'kept-rule', version: 1, textStatus: 'from-memory', fromMemory: [], region: null },
      required: { hours: 48, thresholdC: 55 },
    });
    const stricter = { ...plainRule, threshold: { value: 65, unit: 'C' } };
    expect((await nextVersion('kept-rule', 1, stricter)).status).toBe(201);
    const { notes: _before, ...same } = before;
    expect(await process(old)).toMatchObject(same);

    const young = await filled({ processRule: 'kept-rule' });
    await heat(api, young, { from: HOT_FROM, hours: 72 });
    expect(await process(young)).toMatchObject({
      rule: { code: 'kept-rule', version: 2 },
      ...{ status: 'not-started', creditedHours: 0, required: { thresholdC: 65 } },
    });
    expect(await process(old, '?rule=kept-rule&version=2')).toMatchObject({
      rule: { version: 2 },
      metAt: null,
    });
    expect(await process(young, '?rule=kept-rule&version=1')).toMatchObject({
      rule: { version: 1 },
      status: 'met',
    });
    const record = await api.call('GET', `/batches/${old}/record.json`, { as: yard.operator.token });
    expect(record.body.verdict).toMatchObject({ status: 'met', rule: { code: 'kept-rule', version: 1 } });
  });

  it('goes by the first version of a rule that was written after the batch', async () => {
    const id = await filled();
    await heat(api, id, { from: HOT_FROM, hours: 72 });
    await addRule({ ...plainRule, code: 'late-rule' });
    await nextVersion('late-rule', 1, { ...plainRule, hours: 200 });
    expect(await process(id, '?rule=late-rule')).toMatchObject({ rule: { version: 1 }, status: 'met' });
  });

  it('knows a rule that a batch or a permit names, and refuses others where they are named', async () => {
    await addRule({ ...plainRule, code: 'named-rule', continuity: 'consecutive' });
    const permit = { siteId: programme.hub2.id, reference: 'WG-9', validFrom: '2031-01-01' };
    const named = { ...permit, processRule: 'named-rule', furtherRules: ['us-503-vector-attraction'] };
    const kept = await api.call('POST', '/permits', { as: api.coordinator, body: named });
    expect(kept.body).toMatchObject({
      processRule: 'named-rule',
      furtherRules: ['us-503-vector-attraction'],
    });
    const change = (body: object) =>
      api.call('PATCH', `/permits/${kept.body.id as string}`, {
        ...{ as: api.coordinator, body },
        headers: { 'if-match': '"1"' },
      });
    const wrongs: [object, string][] = [
      [{ processRule: 'of-nowhere' }, '/processRule'],
      [{ furtherRules: ['us-503-psrp', 'of-nowhere'] }, '/furtherRules/1'],
      [{ furtherRules: ['named-rule'] }, '/furtherRules/0'],
      [{ furtherRules: ['Not a code'] }, '/furtherRules'],
      [{ processReading: 'cumulative' }, '/processReading'],
    ];
    for (const [wrong, pointer] of wrongs) {
      const answers = [
        await change(wrong),
        await api.call('POST', '/permits', {
          as: api.coordinator,
          body: { ...named, reference: 'WG-10', validFrom: '2020-01-01', validTo: '2020-12-31', ...wrong },
        }),
      ];
      for (const { status, body } of answers) {
        expect([status, body.errors?.[0]?.pointer]).toEqual([422, pointer]);
      }
    }
    const cleared = await change({ furtherRules: [] });
    expect(cleared.body).toMatchObject({ processRule: 'named-rule', furtherRules: [] });
    const batch = {
      siteId: yard.yard.id,
      bay: yard.freeBay(),
      method: 'in-vessel',
      processRule: 'of-nowhere',
    };
    const refused = await api.call('POST', '/batches', { as: yard.manager.token, body: batch });
    expect([refused.status, refused.body.errors[0].pointer]).toEqual([422, '/processRule']);
  });

  it('is told under the other reading as well, where the text is silent', async () => {
    const id = await filled({ processRule: 'us-503-pfrp-static-aerated' });
    await heat(api, id, { from: HOT_FROM, hours: 48 });
    await heat(api, id, { from: hoursAfter(HOT_FROM, 72), hours: 0, celsius: [50] });
    await heat(api, id, { from: hoursAfter(HOT_FROM, 96), hours: 24 });
    const consecutive = await process(id);
    expect(consecutive).toMatchObject({
      ...{ reading: 'consecutive', creditedHours: 24, metAt: null },
      otherReading: {
        ...{ reading: 'cumulative', status: 'met', creditedHours: 72, creditedDays: 3, turns: 0 },
        metAt: hoursAfter(HOT_FROM, 120),
      },
    });
    const kinds = consecutive.otherReading.evidence.map(({ kind }: { kind: string }) => kind);
    expect(kinds).toContain('met');
    const cumulative = await process(id, '?reading=cumulative');
    expect(cumulative).toMatchObject({
      reading: 'cumulative',
      otherReading: { reading: 'consecutive', creditedHours: 24, metAt: null },
    });
    // 6 NYCRR 361-3.7 says "consecutive" itself.
    expect(await process(id, '?rule=us-ny-361-3-7-static-or-vessel&reading=cumulative')).toMatchObject({
      ...{ reading: 'consecutive', otherReading: null },
    });
  });

  it('is told under what the permit asks besides, and under every rule of the method when asked', async () => {
    await made(api, '/permits', {
      ...{ siteId: yard.yard.id, reference: 'HS-2', validFrom: '2026-03-10', validTo: '2026-04-30' },
      ...{ processRule: 'us-503-pfrp-static-aerated', furtherRules: ['us-503-vector-attraction'] },
    });
    const occurredAt = '2026-03-10T15:00:00Z';
    const { id } = await yard.begin({ method: 'static-aerated', occurredAt });
    const items = [{ dropOffId: await lotAtHub1(api, programme, 400_000) }];
    await made(api, `/batches/${id as string}/assignments`, { items, occurredAt }, yard.manager.token);
    await heat(api, id, { from: hoursAfter(occurredAt, 24), hours: 96 });
    const verdict = await process(id);
    expect(verdict).toMatchObject({ status: 'met', purpose: 'pathogen-reduction' });
    expect(verdict.others).toHaveLength(1);
    expect(verdict.others[0]).toMatchObject({
      ...{ asked: true, purpose: 'vector-attraction', creditedHours: 96, metAt: null },
      rule: { code: 'us-503-vector-attraction', region: 'US', title: expect.any(String) },
      required: { hours: 336, thresholdC: 40, thresholdStrict: true },
    });
    expect(verdict.others[0].evidence.length).toBeGreaterThan(0);
    const { notes } = verdict.others[0];
    for (const note of processRule('us-503-vector-attraction')?.notes ?? []) {
      expect(notes.filter((one: string) => one === note)).toHaveLength(1);
    }
    expect(notes).toContain(
      "This speaks of the rule's recorded criteria only. The permit and the local authority decide.",
    );

    const all = await process(id, '?all=true');
    const codes = all.others.map(({ rule }: { rule: { code: string } }) => rule.code);
    expect(codes[0]).toBe('us-503-vector-attraction');
    const library = processRules
      .filter(({ methods }) => methods.includes('static-aerated'))
      .map(({ code }) => code);
    expect(codes).toEqual(
      expect.arrayContaining(library.filter((code) => code !== 'us-503-pfrp-static-aerated')),
    );
    expect(codes).toContain('kept-rule');
    expect(new Set(codes).size).toBe(codes.length);
    expect(all.others.filter(({ asked }: { asked: boolean }) => asked)).toHaveLength(1);
    const informed: { asked: boolean; otherReading: unknown; rule: { code: string } }[] = all.others.filter(
      ({ asked }: { asked: boolean }) => !asked,
    );
    expect(informed.map(({ otherReading }) => otherReading)).toEqual(informed.map(() => null));
    expect(informed.map(({ rule }) => rule.code)).toContain('kept-rule');
    expect((await process(id, '?all=false')).others).toHaveLength(1);

    const record = await api.call('GET', `/batches/${id as string}/record.json`, { as: yard.operator.token });
    expect(record.body.permit.furtherRules).toEqual(['us-503-vector-attraction']);
    expect(record.body.furtherVerdicts).toMatchObject([
      { rule: { code: 'us-503-vector-attraction' }, purpose: 'vector-attraction', creditedHours: 96 },
    ]);
    const [further] = record.body.furtherVerdicts;
    for (const told of [record.body.verdict, further]) {
      const days: { creditedHours: number }[] = told.days;
      const tenths = days.reduce((sum, { creditedHours }) => sum + Math.round(creditedHours * 10), 0);
      expect(tenths / 10).toBe(told.creditedHours);
      expect(days.map(({ creditedHours }) => creditedHours)).toEqual([15, 24, 24, 24, 9]);
    }
    expect(further.notes).toEqual(notes);
    expect(further.evidence.map(({ text }: { text: string }) => text)).toEqual(
      verdict.others[0].evidence.map(({ text }: { text: string }) => text),
    );
    expect(further.clockStartedAt).toBe(hoursAfter(occurredAt, 24));
  });

  it('counts zones, where a rule asks for more than one', async () => {
    await addRule({ ...plainRule, code: 'zoned-rule', minimumProbes: 2, minimumZones: 2 });
    const id = await filled({ processRule: 'zoned-rule' });
    const at = (hours: number, ...zones: string[]) =>
      made(api, `/batches/${id}/checks`, {
        occurredAt: hoursAfter(HOT_FROM, hours),
        readings: zones.map((zone, index) => ({
          ...{ position: `probe-${index}`, zone, temperature: { value: 60, unit: 'C' } },
        })),
      });
    for (const hours of [0, 24, 48]) await at(hours, 'core', 'edge');
    await at(36, 'core', 'core');
    const verdict = await process(id);
    expect(verdict).toMatchObject({ status: 'met', required: { zones: 2 } });
    expect(verdict.evidence).toContainEqual(expect.objectContaining({ kind: 'too-few-zones' }));
    const { body } = await api.call('GET', `/batches/${id}/record.json`, { as: yard.operator.token });
    expect(body.checks[0].readings[0]).toMatchObject({ position: 'probe-0', zone: 'core' });
  });

  describe('that asks for moisture and a C:N', () => {
    const both = { leastMoisturePercent: 40, carbonToNitrogen: { least: 10, most: 40 } };
    const stateOf = ({ conditions }: { conditions: { key: string; state: string }[] }, key: string) =>
      conditions.find((condition) => condition.key === key)?.state;

    it('takes moisture as it was measured, and not as it was felt', async () => {
      await addRule({ ...plainRule, code: 'moist-rule', ...both });
      const id = await filled({ processRule: 'moist-rule' });
      const check = (hours: number, moisture: unknown) =>
        made(api, `/batches/${id}/checks`, {
          occurredAt: hoursAfter(HOT_FROM, hours),
          readings: [{ position: 'core', temperature: { value: 60, unit: 'C' } }],
          moisture,
        });
      for (const hours of [0, 24, 48]) await check(hours, 'moist');
      const felt = await process(id);
      expect(felt).toMatchObject({ required: both, metAt: null });
      expect(stateOf(felt, 'moisture')).toBe('unknown');
      expect(stateOf(felt, 'carbon-to-nitrogen')).toBe('met');
      for (const hours of [1, 25, 47]) await check(hours, { percent: 55 });
      const measured = await process(id);
      expect(stateOf(measured, 'moisture')).toBe('met');
      expect(measured.status).toBe('met');
    });

    it('says which figures are missing for the C:N', async () => {
      await addRule({ ...plainRule, code: 'mixed-rule', carbonToNitrogen: { least: 10, most: 40 } });
      await made(api, '/materials', { code: 'mystery-chaff', name: 'Chaff', class: 'carbon' });
      const id = await filled({ processRule: 'mixed-rule' });
      const chaff = { material: 'mystery-chaff', from: 'stock', mass: { value: 5, unit: 'kg' } };
      await made(api, `/batches/${id}/amendments`, { ...chaff, occurredAt: FILLED_AT }, yard.manager.token);
      await heat(api, id, { from: HOT_FROM, hours: 72 });
      const verdict = await process(id);
      expect(stateOf(verdict, 'carbon-to-nitrogen')).toBe('unknown');
      expect(verdict.metAt).toBeNull();
      expect(verdict.notes).toContain(
        'The C:N of the mix is not known, because figures are missing of: mystery-chaff.',
      );
    });
  });

  it('refuses versions and lists of no kind', async () => {
    const { id } = await yard.begin();
    const pointerOf = async (query: string) => {
      const answer = await api.call('GET', `/batches/${id as string}/process${query}`, {
        as: yard.operator.token,
      });
      return [answer.status, answer.body.errors?.[0]?.pointer];
    };
    expect(await pointerOf('?version=1')).toEqual([422, '/version']);
    expect(await pointerOf('?rule=us-503-pfrp-windrow&version=9')).toEqual([422, '/version']);
    expect(await pointerOf('?rule=us-503-pfrp-windrow&version=0')).toEqual([422, '/version']);
    expect(await pointerOf('?all=yes')).toEqual([422, '/all']);
    expect(await pointerOf('?rule=Not%20a%20code')).toEqual([422, '/rule']);
    expect(await process(id)).toMatchObject({ rule: null, purpose: null, otherReading: null, others: [] });
  });
});
