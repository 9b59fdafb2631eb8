/**
 * Tests of the product. 40 CFR 503.32(a): fecal coliform below 1,000 MPN/g or Salmonella below 3 MPN/4 g of total solids
 * (15A NCAC 02T .1106(a)(2) and OAR 340-096-0140 repeat it): either. 21 CFR 112.55(b): both (read). PAS 100, from memory:
 * E. coli at most 1,000 CFU/g and no Salmonella in 25 g: both.
 */
import { describe, expect, it } from 'vitest';
import { microbeStanding, type MicrobeTerms, processRules, type SampleResult } from '#libs/process';
import { type Edge, result, under } from './read.js';

const edges: Edge[] = [
  ...[
    { table: 'us-503-class-a-fecal-coliform', parameter: 'fecal-coliform', unit: 'MPN/g dry' },
    { table: 'pas-100-e-coli', parameter: 'e-coli', unit: 'CFU/g', met: 1000, unmet: 1001 },
    { table: 'us-503-class-a-salmonella', parameter: 'salmonella', unit: 'MPN/4 g dry', met: 2.9, unmet: 3 },
    { table: 'pas-100-salmonella', parameter: 'salmonella-in-25-g', unit: 'CFU/25 g', met: 0, unmet: 1 },
  ].map((edge) => ({ met: 999, unmet: 1000, ...edge })),
];

const tests = [
  { microbe: 'fecal-coliform', below: 1000, unit: 'MPN/g dry' },
  { microbe: 'salmonella', below: 3, unit: 'MPN/4 g dry' },
] as const;
const terms = (logic: MicrobeTerms['logic'], citation: string): MicrobeTerms => ({
  ...{ logic, tests, citation, textStatus: 'verified' },
});
const stands = (logic: MicrobeTerms['logic'], ...results: SampleResult[]) => {
  const citation = logic === 'either' ? '40 CFR 503.32(a)' : '21 CFR 112.55(b)';
  return microbeStanding({ rule: 'an-example', terms: terms(logic, citation) }, results);
};
const fecal = (value: number, qualifier: SampleResult['qualifier'] = null) =>
  result('fecal-coliform', value, 'MPN/g dry', qualifier);
const salmonella = (value: number, qualifier: SampleResult['qualifier'] = null) =>
  result('salmonella', value, 'MPN/4 g dry', qualifier);

describe('pathogens', () => {
  it.each(edges)(
    '$table is met at $met $unit, and not at $unmet',
    ({ table, parameter, unit, met, unmet }) => {
      expect(under(table, result(parameter, met, unit)).state).toBe('met');
      expect(under(table, result(parameter, unmet, unit)).state).toBe('unmet');
    },
  );

  it.each([
    [1000, 'met', 'is at most 1000 CFU/g'],
    [1000.5, 'unmet', 'is not at most 1000 CFU/g'],
  ])('PAS 100: %s CFU/g of E. coli is %s, by the rule as by the table', (value, state, told) => {
    const pas = processRules.find(({ code }) => code === 'gb-pas-100');
    if (!pas?.microbes) throw new Error('PAS 100 names no tests');
    const eColi = result('e-coli', value, 'CFU/g');
    const none = result('salmonella-in-25-g', 0, 'CFU/25 g');
    const standing = microbeStanding({ rule: pas.code, terms: pas.microbes }, [eColi, none]);
    expect(standing.state).toBe(state);
    expect(standing.text).toContain(told);
    expect(under('pas-100-e-coli', eColi).state).toBe(state);
  });

  it.each([
    ['both pass', [fecal(999), salmonella(2)], 'met', 'met'],
    ['one passes', [fecal(999), salmonella(3)], 'met', 'unmet'],
    ['the other passes', [fecal(1000), salmonella(2.9)], 'met', 'unmet'],
    ['neither passes', [fecal(1000), salmonella(3)], 'unmet', 'unmet'],
    ['one is not tested', [fecal(10)], 'met', 'unknown'],
    ['one fails and the other is not tested', [fecal(5000)], 'unknown', 'unmet'],
    ['none is tested', [], 'unknown', 'unknown'],
    ['a bound below the limit', [salmonella(3, '<')], 'met', 'unknown'],
    ['a bound that leaves it open', [salmonella(9, '<')], 'unknown', 'unknown'],
    ['a bound above the limit', [salmonella(3, '>'), fecal(10)], 'met', 'unmet'],
    ['the worse of two figures counts', [fecal(10), fecal(2000), salmonella(1)], 'met', 'unmet'],
    ['another measure of Salmonella', [result('salmonella-in-25-g', 0, 'CFU/25 g')], 'unknown', 'unknown'],
  ] as const)('%s: %s', (_, results, either, both) => {
    expect([stands('either', ...results).state, stands('both', ...results).state]).toEqual([either, both]);
  });

  it('name the rule, its logic, its citation, and each figure with its limit', () => {
    expect(stands('either', fecal(1200), salmonella(2, '<')).text).toBe(
      'Tests of an-example (40 CFR 503.32(a); one of these tests is enough): met, by fecal coliform 1200 MPN/g dry, ' +
        'which is not below 1000 MPN/g dry and Salmonella <2 MPN/4 g dry, which is below 3 MPN/4 g dry.',
    );
    expect(stands('both', fecal(10)).text).toMatch(
      /\(21 CFR 112\.55\(b\); each of these tests must pass\): not shown, by .* and Salmonella without a figure in MPN\/4 g dry\.$/,
    );
  });
});
