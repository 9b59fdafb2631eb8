import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { CURING_FROM, makeCuring, permitTerms } from '../support/released.js';
import { hoursAfter } from '../support/heat.js';
import { makeYard, type Yard } from '../support/yard-work.js';

const pointers = ({ body }: { body: any }) =>
  body.errors.map(({ pointer }: { pointer: string }) => pointer).sort();

/** A figure of a panel of pathogens. */
const fecal = (value: number) => ({ parameter: 'fecal-coliform', value, unit: 'MPN/g dry' });
const salmonella = (value: number) => ({ parameter: 'salmonella', value, unit: 'MPN/4 g dry' });

describe('figures of a laboratory', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let batch: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    batch = await makeCuring(api, programme, yard);
  });
  afterAll(() => api.stop());

  const as = () => yard.manager.token;
  const post = (body: unknown, id = batch) => api.call('POST', `/batches/${id}/samples`, { as: as(), body });
  const list = (id = batch) => api.call('GET', `/batches/${id}/samples`, { as: as() });

  it.each([
    ['no unit', { unit: undefined }, 'unit'],
    ['an empty unit', { unit: '' }, 'unit'],
    ['a unit of wet mass', { unit: 'mg/kg' }, 'unit'],
    ['the unit of another parameter', { unit: 'mg CO2-C/g OM/day' }, 'unit'],
    ['no parameter', { parameter: undefined }, 'parameter'],
    ['a parameter of no kind', { parameter: 'kryptonite' }, 'parameter'],
    ['no value', { value: undefined }, 'value'],
    ['words for a value', { value: '<5' }, 'value'],
    ['an endless value', { value: 1e12 }, 'value'],
    ['a value below nothing', { value: -1 }, 'value'],
    ['a value beyond all of it', { value: 1_000_001 }, 'value'],
    ['a qualifier of no kind', { qualifier: '~' }, 'qualifier'],
    ['less than nothing', { value: 0, qualifier: '<' }, 'qualifier'],
    ['a word that says nothing', { laboratoryWord: ' ' }, 'laboratoryWord'],
    ['an unknown field', { method: 'ICP' }, 'method'],
  ])('is refused with a figure of %s, at its pointer', async (_, facts, field) => {
    const lead = { parameter: 'lead', value: 41, unit: 'mg/kg dry' };
    const results = [lead, { ...lead, ...facts }];
    const body = { kind: 'metals', outcome: 'passed', results };
    const answer = await post(body);
    expect(answer.status).toBe(422);
    expect(pointers(answer)).toEqual([`/results/1/${field}`]);
  });

  it('tells which units a figure may come in', async () => {
    const results = [{ parameter: 'co2-evolution', value: 4, unit: 'mg/g/day' }];
    const body = { kind: 'stability', outcome: 'passed', results };
    const answer = await post(body);
    expect(answer.body.errors[0].detail).toMatch(
      /^must be "mg CO2-C\/g OM\/day" or "mg CO2\/g OM\/day" or .*: CO2 evolution is measured in nothing else here$/,
    );
  });

  it('is a panel, answered with what published tables say of each figure', async () => {
    const results = [
      { parameter: 'lead', value: 301, unit: 'mg/kg dry' },
      { parameter: 'mercury', value: 0.5, unit: 'mg/kg dry', qualifier: '<' },
      { parameter: 'co2-evolution', value: 16, unit: 'mg CO2/g OM/day', laboratoryWord: 'stable' },
    ];
    const { body } = await post({ kind: 'metals', outcome: 'information', results });
    expect(body.results).toEqual([
      { title: 'Lead', qualifier: null, laboratoryWord: null, ...results[0] },
      { title: 'Mercury', laboratoryWord: null, ...results[1] },
      { title: 'CO2 evolution', qualifier: null, ...results[2] },
    ]);
    const found = (table: string) => body.findings.find((one: { table: string }) => one.table === table);
    expect(found('us-503-13-table-3-lead')).toMatchObject({
      ...{ parameter: 'lead', value: 301, unit: 'mg/kg dry', class: null, limit: 'at most 300 mg/kg dry' },
      ...{ state: 'unmet', source: '40 CFR 503.13, Table 3', textStatus: 'verified' },
    });
    expect(found('us-503-13-table-1-lead').state).toBe('met');
    expect(found('ccme-2005-a-mercury')).toMatchObject({
      state: 'met',
      qualifier: '<',
      textStatus: 'from-memory',
    });
    expect(found('pas-100-co2').state).toBe('met');
    expect(found('tmecc-05-08-b')).toMatchObject({
      ...{ class: 'stable', limit: null, state: 'classed', value: 16, unit: 'mg CO2/g OM/day' },
      text: expect.stringContaining('(4.363636 mg CO2-C/g OM/day): stable'),
    });
    expect(body.warnings).toEqual([]);
    expect((await list()).body.items).toEqual([body]);
  });

  describe('under rules with tests of their own', () => {
    const asked = { requiredSamples: ['pathogens', 'maturity'] };
    /** 40 CFR 503.32(a) asks for either test, 21 CFR 112.55(b) for both. */
    const [either, both] = ['us-503-pfrp-static-aerated', 'us-fda-112-54-static'];
    let permit: { id: string; version: number };
    beforeAll(async () => {
      permit = await made(api, '/permits', { siteId: yard.yard.id, ...permitTerms, ...asked });
    });

    const gate = async (id: string, key = 'sample:pathogens') => {
      const { body } = await api.call('GET', `/batches/${id}/gates`, { as: as() });
      return body.gates.find((one: { key: string }) => one.key === key) as { state: string; text: string };
    };
    const days = (count: number) => hoursAfter(CURING_FROM, count * 24);
    const taken = (count: number, results: object[], outcome = 'passed') => ({
      ...{ kind: 'pathogens', outcome, occurredAt: days(count) },
      ...(results.length > 0 ? { results } : { finding: 'clean, by telephone' }),
    });

    it('open the gate by either test where the rule says either', async () => {
      const id = await makeCuring(api, programme, yard);
      expect((await gate(id)).state).toBe('unmet');
      await post(taken(20, []), id);
      expect((await gate(id)).state).toBe('unknown');
      await post(taken(21, [fecal(1000)]), id);
      expect((await gate(id)).state).toBe('unknown');
      await post(taken(22, [salmonella(2)]), id);
      expect(await gate(id)).toMatchObject({
        state: 'met',
        text: expect.stringMatching(
          /Tests of us-503-pfrp-static-aerated \(40 CFR 503\.32\(a\).*one of these tests is enough\): met/,
        ),
      });
    });

    it('shut it against the manager’s word, and warn of that', async () => {
      const id = await makeCuring(api, programme, yard);
      const { body } = await post(taken(21, [fecal(1000), salmonella(3)]), id);
      expect(body.warnings).toEqual([
        { text: expect.stringMatching(/^Passed, against its figures\. Tests of us-503-pfrp-static-aerated/) },
      ]);
      expect((await list(id)).body.items[0].warnings).toEqual(body.warnings);
      expect(await gate(id)).toMatchObject({
        state: 'unmet',
        text: expect.stringContaining('was read as passed, against the figures.'),
      });
    });

    it('leave the last word to a manager who says that it failed', async () => {
      const id = await makeCuring(api, programme, yard);
      const { body } = await post(taken(21, [fecal(1), salmonella(0)], 'failed'), id);
      expect(body.warnings[0].text).toMatch(/^Failed, although its figures pass\./);
      expect((await gate(id)).state).toBe('unmet');
    });

    it('are told and decide nothing in a sample of another kind', async () => {
      const id = await makeCuring(api, programme, yard);
      const other = { ...taken(21, [fecal(1000), salmonella(3)]), kind: 'maturity' };
      expect((await post(other, id)).body.warnings).toHaveLength(1);
      expect(await gate(id, 'sample:maturity')).toMatchObject({
        state: 'met',
        text: expect.stringContaining('Passed, against its figures.'),
      });
    });

    it('must both pass where a further rule of the permit says both, which has a gate of its own', async () => {
      const id = await makeCuring(api, programme, yard);
      await post(taken(21, [fecal(999)]), id);
      expect((await gate(id)).state).toBe('met');
      const changed = await api.call('PATCH', `/permits/${permit.id}`, {
        ...{ as: api.coordinator, headers: { 'if-match': `"${permit.version}"` } },
        body: { ...permitTerms, ...asked, furtherRules: [both] },
      });
      expect(changed.status).toBe(200);
      expect((await gate(id)).state).toBe('unknown');
      await post(taken(22, [salmonella(1)]), id);
      const found = await gate(id);
      expect(found.state).toBe('met');
      expect(found.text).toMatch(/each of these tests must pass\): met/);
      expect(found.text).toContain(either);
      expect(await gate(id, `process-rule:${both}`)).toMatchObject({ state: 'met' });
    });

    it('stand in the record, with what is published of them and how far that was checked', async () => {
      const id = await makeCuring(api, programme, yard);
      const results = [fecal(1000), salmonella(3), { parameter: 'cadmium', value: 2, unit: 'mg/kg dry' }];
      await post(taken(21, results), id);
      const { body } = await api.call('GET', `/batches/${id}/record.json`, { as: as() });
      expect(body.samples[0].results.map(({ title }: { title: string }) => title)).toEqual([
        ...['Fecal coliform', 'Salmonella', 'Cadmium'],
      ]);
      expect(body.samples[0].warnings[0]).toMatch(/^Passed, against its figures/);
      expect(body.samples[0].findings).toContainEqual(
        expect.objectContaining({
          scale: 'PAS 100',
          limit: 'at most 1.5 mg/kg dry',
          state: 'unmet',
          textStatus: 'from-memory',
        }),
      );
      expect(body.cure.notes[0]).toMatch(/^No turn is recorded since/);
    });
  });
});
