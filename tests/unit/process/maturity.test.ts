import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  assessSample,
  contradictionsOf,
  faultOf,
  maturityTables,
  type MicrobeTerms,
  parameterKeys,
  parameterOf,
  parameters,
  type SampleResult,
} from '#libs/process';

const result = (facts: Partial<SampleResult>): SampleResult => ({
  ...{ parameter: 'co2-evolution', value: 4, unit: 'mg CO2-C/g OM/day' },
  ...{ qualifier: null, laboratoryWord: null },
  ...facts,
});

const under = (table: string, facts: Partial<SampleResult>) =>
  assessSample([result(facts)]).find((finding) => finding.table === table);

describe('the published tables', () => {
  it('are each of a parameter and in one of its units, with a source', () => {
    for (const { parameter, unit, citation, textSource } of maturityTables) {
      expect(parameterOf(parameter)?.units.map((one) => one.unit)).toContain(unit);
      expect(citation.length * textSource.length).toBeGreaterThan(0);
    }
  });

  it('have each its own code, and rise from class to class', () => {
    const codes = maturityTables.map(({ code }) => code);
    expect(new Set(codes).size).toBe(codes.length);
    for (const table of maturityTables) {
      if (!('bands' in table)) continue;
      const edges = table.bands.map(({ to }) => to);
      expect(edges).toEqual(edges.toSorted((a, b) => a - b));
      expect(edges.at(-1)).toBe(Infinity);
    }
  });

  it('say more of what is from memory', () => {
    const found = parameters.flatMap(({ key, units }) =>
      assessSample([result({ parameter: key, value: 1, unit: units[0].unit })]),
    );
    expect(found.length).toBeGreaterThan(100);
    for (const { text, textStatus } of found) {
      expect(text.includes('from memory'), text).toBe(textStatus === 'from-memory');
    }
  });
});

describe('a result', () => {
  it('is refused without its unit, with the unit of something else, or beyond what can be', () => {
    expect(faultOf(result({}))).toBeNull();
    expect(faultOf(result({ parameter: 'colour' }))?.field).toBe('parameter');
    expect(faultOf(result({ unit: '' }))?.problem).toMatch(
      /^must be "mg CO2-C\/g OM\/day" or "mg CO2\/g OM\/day" or /,
    );
    expect(faultOf(result({ parameter: 'lead', unit: 'mg/kg' }))?.field).toBe('unit');
    expect(faultOf(result({ value: -1 }))?.field).toBe('value');
    expect(faultOf(result({ value: 201 }))?.problem).toBe('must be from 0 to 200 mg CO2-C/g OM/day');
    expect(faultOf(result({ value: 700, unit: 'mg CO2/g OM/day' }))).toBeNull();
    expect(faultOf(result({ value: 0, qualifier: '<' }))?.field).toBe('qualifier');
    expect(faultOf(result({ value: Number.NaN }))?.field).toBe('value');
  });

  it('of another unit is told in both', () => {
    const finding = under('us-503-13-table-3-lead', { parameter: 'lead', value: 300_001, unit: 'ug/kg dry' });
    expect(finding).toMatchObject({ value: 300_001, unit: 'ug/kg dry', state: 'unmet' });
    expect(finding).toMatchObject({ limit: 'at most 300 mg/kg dry', source: '40 CFR 503.13, Table 3' });
    expect(finding?.text).toMatch(
      /^Lead 300001 ug\/kg dry \(300\.001 mg\/kg dry\): does not keep to at most 300/,
    );
  });
});

describe('a figure that is only a bound', () => {
  const co2 = (value: number, qualifier: '<' | '>') => under('tmecc-05-08-b', { value, qualifier });

  it('has a class where only one is possible', () => {
    expect(co2(2, '<')).toMatchObject({ class: 'very stable', state: 'classed' });
    expect(co2(2.1, '<')).toMatchObject({ class: null, state: 'unknown' });
    expect(co2(40, '>')).toMatchObject({ class: 'raw', state: 'classed' });
    expect(co2(39, '>')).toMatchObject({ class: null, state: 'unknown' });
  });

  it('keeps to a limit, or does not, where nothing is left open', () => {
    const salts = (value: number, qualifier: '<' | '>') =>
      under('mn-stormwater-soluble-salts-below', {
        parameter: 'soluble-salts',
        unit: 'dS/m',
        value,
        qualifier,
      })?.state;
    expect([salts(10, '<'), salts(11, '<'), salts(10, '>'), salts(9, '>')]).toEqual([
      ...['met', 'unknown', 'unmet', 'unknown'],
    ]);
    const vigour = (value: number, qualifier: '<' | '>') =>
      under('mn-stormwater-vigour', { parameter: 'vigour', unit: '% of control', value, qualifier })?.state;
    expect([vigour(80, '>'), vigour(79, '>'), vigour(80, '<'), vigour(81, '<')]).toEqual([
      ...['met', 'unknown', 'unmet', 'unknown'],
    ]);
  });
});

describe('an assessment', () => {
  it('is total, and says nothing of a figure that cannot be read', () => {
    const units = [...new Set(parameters.flatMap((one) => one.units.map(({ unit }) => unit))), 'stone'];
    const any = fc.record({
      parameter: fc.constantFrom<string[]>(...parameterKeys, 'colour'),
      value: fc.double({ noNaN: false }),
      unit: fc.constantFrom(...units),
      qualifier: fc.constantFrom(null, '<' as const, '>' as const),
      laboratoryWord: fc.constantFrom(null, 'stable'),
    });
    fc.assert(
      fc.property(fc.array(any, { maxLength: 5 }), (results) => {
        const readable = new Set(
          results.filter((one) => faultOf(one)?.field !== 'unit').map((one) => one.parameter),
        );
        for (const { parameter, value } of assessSample(results)) {
          if (value !== null) expect(readable.has(parameter)).toBe(true);
        }
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it('never puts a hotter vessel into a more stable class', () => {
    const degrees = ['I:', 'II', 'IV', 'V:'];
    const place = (value: number) => {
      const name =
        under('dewar-rottegrad', { parameter: 'self-heating', unit: 'C above ambient', value })?.class ?? '';
      return name.startsWith('III') ? 2 : [0, 1, 3, 4][degrees.indexOf(name.slice(0, 2))];
    };
    const rise = fc.double({ min: 0, max: 80, noNaN: true });
    fc.assert(
      fc.property(rise, rise, (a, b) => {
        expect(place(Math.max(a, b))).toBeLessThanOrEqual(place(Math.min(a, b)) ?? -1);
      }),
      { seed: 7 },
    );
  });
});

describe('figures against the manager’s word', () => {
  const terms: MicrobeTerms = {
    logic: 'either',
    tests: [
      { microbe: 'fecal-coliform', below: 1000, unit: 'MPN/g dry' },
      { microbe: 'salmonella', below: 3, unit: 'MPN/4 g dry' },
    ],
    citation: 'Example County Code 2',
    textStatus: 'from-memory',
  };
  const fecal = (value: number) => result({ parameter: 'fecal-coliform', unit: 'MPN/g dry', value });
  const salmonella = (value: number) => result({ parameter: 'salmonella', unit: 'MPN/4 g dry', value });
  const against = (outcome: 'passed' | 'failed' | 'information', ...results: SampleResult[]) =>
    contradictionsOf(outcome, results, [{ rule: 'example', terms }]);

  it('are told where they contradict it, with the rule', () => {
    expect(against('passed', fecal(1000), salmonella(3))).toEqual([
      expect.stringMatching(
        /^Passed, against its figures\. Tests of example \(Example County Code 2, from memory; one /,
      ),
    ]);
    expect(against('failed', fecal(999))).toEqual([
      expect.stringMatching(/^Failed, although its figures pass\. Tests of example/),
    ]);
  });

  it('are not where they agree, leave it open, or the sample is for information', () => {
    expect(against('passed', fecal(999), salmonella(3))).toEqual([]);
    expect(against('passed', fecal(1000))).toEqual([]);
    expect(against('failed', fecal(1000), salmonella(3))).toEqual([]);
    expect(against('information', fecal(1000), salmonella(3))).toEqual([]);
    expect(against('passed')).toEqual([]);
  });
});
