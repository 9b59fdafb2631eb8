import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { processRules } from '#libs/process';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { localRule } from '../support/local-rule.js';
import { makeProgramme, type Programme } from '../support/programme.js';
import { sqlOf } from '../support/yard-work.js';

describe('the process rules', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterAll(() => api.stop());

  const post = (body: object, as = api.coordinator) => api.call('POST', '/process-rules', { as, body });
  const next = (code: string, version: number, body: object) =>
    api.call('POST', `/process-rules/${code}/versions`, {
      as: api.coordinator,
      body,
      headers: { 'if-match': `"${version}"` },
    });
  const get = (path = '', as = programme.people.volunteer.token) =>
    api.call('GET', `/process-rules${path}`, { as });
  const { code: _, ...terms } = localRule;

  it('of the library are told, with where their figures were read, to whoever works at a site', async () => {
    const answer = await get();
    expect(answer.status).toBe(200);
    expect(answer.body.items.map(({ code }: { code: string }) => code)).toEqual(
      processRules.map(({ code }) => code),
    );
    expect(answer.body.items[0]).toMatchObject({
      ...{
        code: 'us-503-pfrp-windrow',
        version: 1,
        local: false,
        purpose: 'pathogen-reduction',
        region: 'US',
      },
      ...{ thresholdC: 55, thresholdStrict: false, hours: 360, turns: 5, recordedAt: null, entered: null },
      fromMemory: processRules[0]?.fromMemory,
      methods: ['turned-windrow', 'turned-bins'],
      textSource: expect.stringContaining('NR 204'),
    });
    const one = await get('/us-503-pfrp-windrow');
    expect(one.body).toEqual(answer.body.items[0]);
    expect((await get('/us-503-pfrp-windrow?version=1')).body).toEqual(one.body);
    expect((await get('/us-503-pfrp-windrow?version=2')).status).toBe(404);
  });

  it('tell every microbe that goes with one', async () => {
    const { body } = await get();
    const tested = body.items.filter(({ microbes }: { microbes: object | null }) => microbes !== null);
    expect(tested.length).toBeGreaterThan(0);
    for (const { microbes } of tested) {
      expect(['either', 'both']).toContain(microbes.logic);
      expect(microbes.tests.length).toBeGreaterThan(0);
      for (const test of microbes.tests) expect(test).toMatchObject({ unit: expect.any(String) });
      for (const { below, atMost } of microbes.tests) {
        expect([below, atMost].filter((bound) => typeof bound === 'number')).toHaveLength(1);
      }
    }
  });

  it('of one’s own are kept as they were typed, in metric, and told behind those of the library', async () => {
    const answer = await post(localRule);
    expect(answer.status).toBe(201);
    expect(answer.headers.etag).toBe('"1"');
    expect(answer.body).toMatchObject({
      ...{ code: 'lark-hollow-bins', version: 1, local: true, textStatus: 'from-memory', region: 'US-CO' },
      // 131 °F and 160 °F by (t − 32) / 1.8, to the tenth; 18 in of 2.54 cm.
      ...{ thresholdC: 55, upperLimitC: 71.1, minimumDepthCm: 45.7, hours: 72, days: null },
      peak: { thresholdC: 60, strict: false, hours: 4 },
      average: { thresholdC: 56, strict: true },
      ...{ turns: 2, turnSpacingHours: 24, hotHoursBeforeTurn: 12, minimumProbes: 2, minimumZones: 2 },
      ...{ leastMoisturePercent: 40, carbonToNitrogen: { least: 25, most: 40 }, governing: 'coldest-zone' },
      microbes: { logic: 'either', tests: [{ microbe: 'salmonella', below: 3, unit: 'MPN/4 g dry' }] },
      fromMemory: ['the upper limit'],
      entered: {
        ...{ threshold: { value: 131, unit: 'F' }, upperLimit: { value: 160, unit: 'F' } },
        ...{ peak: { value: 60, unit: 'C' }, average: { value: 56, unit: 'C' } },
        minimumDepth: { value: 18, unit: 'in' },
      },
    });
    expect((await get('/lark-hollow-bins')).body).toEqual(answer.body);
    const list = (await get()).body.items as object[];
    expect(list).toHaveLength(processRules.length + 1);
    expect(list.at(-1)).toEqual(answer.body);
    const [line] = await auditOf(api, 'process-rule.added');
    expect(line).toMatchObject({
      ...{ subjectKind: 'process-rule', subjectId: 'lark-hollow-bins', siteId: null },
      detail: { version: 1, added: { thresholdC: 55 } },
    });
  });

  it('ask only for what was typed', async () => {
    const { title, purpose, jurisdiction, citation, year, textStatus, textSource } = localRule;
    const least = {
      ...{ code: 'plain', title, purpose, jurisdiction, citation, year, textStatus, textSource },
      ...{ threshold: { value: 50, unit: 'C' }, days: 3, basis: 'daily', continuity: 'unstated' },
      methods: ['in-vessel'],
    };
    const answer = await post(least);
    expect(answer.status).toBe(201);
    expect(answer.body).toMatchObject({
      ...{ days: 3, hours: null, upperLimitC: null, peak: null, average: null, turns: 0, region: null },
      ...{ governing: 'coldest', minimumProbes: 1, minimumZones: 1, minimumDepthCm: null, microbes: null },
      ...{ leastMoisturePercent: null, carbonToNitrogen: null, notes: [], fromMemory: [] },
      entered: { threshold: { value: 50, unit: 'C' } },
    });
  });

  it('take no code that is taken', async () => {
    await post({ ...localRule, code: 'twice' });
    for (const code of ['twice', 'us-503-pfrp-windrow']) {
      const answer = await post({ ...localRule, code });
      expect(answer.status).toBe(409);
      expect(answer.body.type).toBe('urn:heapwright:problem:taken');
    }
  });

  it('change by a further version only, made from the latest', async () => {
    await post({ ...localRule, code: 'changing' });
    const stricter = await next('changing', 1, { ...terms, threshold: { value: 132.8, unit: 'F' } });
    expect(stricter.status).toBe(201);
    expect(stricter.headers.etag).toBe('"2"');
    expect(stricter.body).toMatchObject({ code: 'changing', version: 2, thresholdC: 56 });
    expect((await get('/changing')).body).toEqual(stricter.body);
    expect((await get('/changing?version=1')).body).toMatchObject({ version: 1, thresholdC: 55 });
    expect((await get('/changing?version=3')).status).toBe(404);
    const listed = (await get()).body.items.filter(({ code }: { code: string }) => code === 'changing');
    expect(listed).toEqual([stricter.body]);
    const lines = await auditOf(api, 'process-rule.changed');
    expect(lines.find(({ subjectId }) => subjectId === 'changing')).toMatchObject({
      detail: { version: 2, thresholdC: { from: 55, to: 56 } },
    });
    expect((await next('changing', 1, terms)).status).toBe(412);
    const unconditional = { as: api.coordinator, body: terms };
    expect((await api.call('POST', '/process-rules/changing/versions', unconditional)).status).toBe(428);
    const kept = /process_rule keeps its rows/;
    await expect(sqlOf(api).query(`UPDATE process_rule SET version = 7`)).rejects.toThrow(kept);
    await expect(sqlOf(api).query(`DELETE FROM process_rule`)).rejects.toThrow(kept);
  });

  it('of the library, and of no kind, have no versions of one’s own', async () => {
    expect((await next('us-503-pfrp-windrow', 1, terms)).status).toBe(409);
    expect((await next('of-nowhere', 1, terms)).status).toBe(404);
    expect((await get('/of-nowhere')).status).toBe(404);
    expect((await get('/Not%20A%20Code')).status).toBe(404);
    expect((await get('/us-503-pfrp-windrow?version=x')).body.errors[0].pointer).toBe('/version');
  });

  it('keep one of two versions that are sent at once', async () => {
    await post({ ...localRule, code: 'raced' });
    const answers = await Promise.all([next('raced', 1, terms), next('raced', 1, { ...terms, year: 2020 })]);
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 412]);
  });

  const C = (value: number) => ({ value, unit: 'C' });
  const tested = (test: object) => ({
    ...localRule.microbes,
    tests: [{ ...localRule.microbes.tests[0], ...test }],
  });
  it.each<[object, string[]]>([
    // Of a probe that is typed in the wrong unit: 140 °C is hotter than a pile gets, 18 m deeper than one is.
    [{ threshold: C(140) }, ['/threshold']],
    [{ threshold: C(-40) }, ['/threshold']],
    [{ threshold: { value: 55, unit: 'K' } }, ['/threshold/unit']],
    [{ upperLimit: C(300) }, ['/upperLimit']],
    [{ upperLimit: C(54) }, ['/upperLimit', '/peak/threshold', '/average/threshold']],
    [{ minimumDepth: { value: 1800, unit: 'cm' } }, ['/minimumDepth']],
    [{ minimumDepth: { value: 0, unit: 'cm' } }, ['/minimumDepth']],
    [{ hours: undefined }, ['/hours']],
    [{ days: 3 }, ['/days']],
    [{ hours: 0 }, ['/hours']],
    // In hours, with a longest gap, a peak and a mean: a daily rule has none of them.
    [{ basis: 'daily' }, ['/basis', '/basis', '/basis']],
    [{ peak: { threshold: C(50), hours: 4 } }, ['/peak/threshold']],
    [{ peak: { threshold: C(60), hours: 80 } }, ['/peak/hours']],
    [{ average: { threshold: C(75) } }, ['/average/threshold']],
    [{ carbonToNitrogen: { least: 40, most: 25 } }, ['/carbonToNitrogen/most']],
    [{ turns: { count: 0 } }, ['/turns/count']],
    [{ turns: { count: 1.5 } }, ['/turns/count']],
    [{ methods: [] }, ['/methods']],
    [{ methods: ['heap'] }, ['/methods']],
    [{ microbes: { ...localRule.microbes, tests: [] } }, ['/microbes/tests']],
    [{ microbes: tested({ unit: 'MPN/g dry' }) }, ['/microbes/tests/0/unit']],
    [{ microbes: tested({ microbe: 'e-coli' }) }, ['/microbes/tests/0/unit']],
    [{ microbes: tested({ below: 0 }) }, ['/microbes/tests/0/below']],
    [{ microbes: tested({ below: undefined }) }, ['/microbes/tests/0/below']],
    [{ microbes: tested({ atMost: 3 }) }, ['/microbes/tests/0/atMost']],
    [{ minimumProbes: 0 }, ['/minimumProbes']],
    [{ textStatus: 'sure' }, ['/textStatus']],
    [{ title: '  ' }, ['/title']],
    [{ notes: [' '] }, ['/notes']],
    [{ code: 'No Code' }, ['/code']],
    [{ colour: 'blue' }, ['/colour']],
  ])('refuse %j at its place, and keep nothing', async (wrong, pointers) => {
    const answer = await post({ ...localRule, code: 'wrong', ...wrong });
    expect(answer.status).toBe(422);
    expect(answer.body.errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual(pointers);
    expect((await get('/wrong')).status).toBe(404);
  });

  it('are written by coordinators, and are no business of others', async () => {
    const { manager, municipalReader } = programme.people;
    expect((await post(localRule, manager.token)).status).toBe(403);
    expect((await get('', municipalReader.token)).status).toBe(403);
    for (const [method, path] of [
      ['GET', ''],
      ['GET', '/plain'],
      ['POST', ''],
      ['POST', '/plain/versions'],
    ] as const) {
      expect(
        (await api.call(method, `/process-rules${path}`, method === 'POST' ? { body: terms } : {})).status,
      ).toBe(401);
    }
  });
});
