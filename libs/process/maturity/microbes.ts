import { sayList } from '../words.js';
import type { Microbe, MicrobeTerms, MicrobeTest, ProcessRule } from '../rule.js';
import { keepsTo } from './judge.js';
import { parameterOf } from './parameters.js';
import type { Bound } from './table.js';
import { inUnit, type SampleResult, sayInUnit, sayResult } from './results.js';

/** The tests of the product that go with a rule. */
export interface RuleMicrobes {
  readonly rule: string;
  readonly terms: MicrobeTerms;
}

/** Of several rules, those that name tests. */
export const microbesOf = (rules: readonly ProcessRule[]): RuleMicrobes[] =>
  rules.flatMap(({ code, microbes }) => (microbes === null ? [] : [{ rule: code, terms: microbes }]));

export interface MicrobeStanding {
  /** `unknown`: what was measured neither meets the rule's tests nor rules them out. */
  readonly state: 'met' | 'unmet' | 'unknown';
  /** A sentence with every test, its figure and its limit, the rule's logic and its citation. */
  readonly text: string;
}

interface Tested {
  keeps: boolean | null;
  told: string;
}

const names: Readonly<Record<Microbe, string>> = {
  'fecal-coliform': 'fecal coliform',
  salmonella: 'Salmonella',
  'e-coli': 'E. coli',
};

/** Whether figures meet the tests of a rule, by its own logic: one of them is enough, or each must pass. */
export function microbeStanding(
  { rule, terms }: RuleMicrobes,
  results: readonly SampleResult[],
): MicrobeStanding {
  const { logic, tests, citation, textStatus } = terms;
  const tested = tests.map((test) => testedBy(test, results));
  const keeps = tested.map((one) => one.keeps);
  const state = stateOf(logic, keeps);
  const asks = logic === 'either' ? 'one of these tests is enough' : 'each of these tests must pass';
  const memory = textStatus === 'from-memory' ? ', from memory' : '';
  const outcome = { met: 'met', unmet: 'not met', unknown: 'not shown' }[state];
  return {
    state,
    text: `Tests of ${rule} (${citation}${memory}; ${asks}): ${outcome}, by ${sayList(tested.map(({ told }) => told))}.`,
  };
}

function stateOf(logic: MicrobeTerms['logic'], keeps: readonly (boolean | null)[]): MicrobeStanding['state'] {
  const [enough, ruledOut] =
    logic === 'either'
      ? [keeps.includes(true), keeps.every((one) => one === false)]
      : [keeps.every((one) => one === true), keeps.includes(false)];
  if (keeps.length > 0 && enough) return 'met';
  return ruledOut ? 'unmet' : 'unknown';
}

/** Of several figures of one organism the worst counts. */
function testedBy(test: MicrobeTest, results: readonly SampleResult[]): Tested {
  const name = names[test.microbe];
  const limit = boundOf(test);
  const bound = `${limit.is} ${sayInUnit(String(limit.value), test.unit)}`;
  const figures = results.flatMap((result) => figureFor(test, result));
  const worst =
    figures.find(({ keeps }) => keeps === false) ?? figures.find(({ keeps }) => keeps === null) ?? figures[0];
  if (!worst) return { keeps: null, told: `${name} without a figure in ${test.unit}` };
  const is = worst.keeps === null ? 'may or may not be' : worst.keeps ? 'is' : 'is not';
  return { keeps: worst.keeps, told: `${name} ${sayResult(worst.result)}, which ${is} ${bound}` };
}

function figureFor(
  test: MicrobeTest,
  result: SampleResult,
): { result: SampleResult; keeps: boolean | null }[] {
  const parameter = parameterOf(result.parameter);
  if (parameter?.microbe !== test.microbe) return [];
  const figure = inUnit(result.value, result.unit, test.unit, parameter);
  if (figure === null) return [];
  return [{ result, keeps: keepsTo(boundOf(test), figure, result.qualifier) }];
}

const boundOf = (test: MicrobeTest): Bound =>
  'below' in test ? { is: 'below', value: test.below } : { is: 'at most', value: test.atMost };

/**
 * What the figures of one sample say against the manager's outcome, in sentences; empty where they agree, leave it open,
 * or the sample is for information only. Nothing is decided by it: the manager's word stands, and this stands beside it.
 */
export function contradictionsOf(
  outcome: 'passed' | 'failed' | 'information',
  results: readonly SampleResult[],
  rules: readonly RuleMicrobes[],
): string[] {
  return rules.flatMap((rule) => {
    const { state, text } = microbeStanding(rule, results);
    if (outcome === 'passed' && state === 'unmet') return [`Passed, against its figures. ${text}`];
    if (outcome === 'failed' && state === 'met') return [`Failed, although its figures pass. ${text}`];
    return [];
  });
}
