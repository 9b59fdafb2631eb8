import { Decimal } from 'decimal.js';
import type { FactorUsed, WasteCategory } from './estimate.js';
import type { GreenhouseSet } from './set.js';

const table = 'IPCC 2006 Guidelines, Volume 5, Chapter 4, Table 4.1, composting, wet weight';
/** kg of gas per tonne of wet waste. */
const methane = { value: '4', range: '0.03 to 8', source: `${table} (secondary)` };
/** The table first printed 0.3; a corrigendum and the Refinement of 2019 have 0.24, which is its own 0.6 of dry matter at 60 % moisture. */
const nitrousOxide = {
  value: '0.24',
  range: '0.06 to 0.6',
  source: `${table}, as corrected; first printed as 0.3 (secondary)`,
};

interface WarmingPotential {
  readonly methane: string;
  readonly nitrousOxide: string;
  readonly source: string;
}

/** Organic waste of every kind has one factor; of what is no such waste the table says nothing. */
const composted = ['food', 'grass', 'leaves', 'branches', 'yard-trimmings', 'mixed-organics'] as const;

const notes = [
  'Only the methane and nitrous oxide that composting itself gives off. Carbon dioxide from the material is not counted, nor is hauling, turning, or what the compost replaces.',
  'The method gives no landfill to hold it against, so that it does not say what was saved.',
  `The defaults are middles of wide ranges: methane ${methane.range}, nitrous oxide ${nitrousOxide.range} g per kg of wet waste.`,
];

export const ipcc2006Ar4 = ipcc2006('ar4', 'Fourth Assessment Report', {
  methane: '25',
  nitrousOxide: '298',
  source: 'IPCC Fourth Assessment Report, GWP-100 (verified in the tables that EPA publishes with WARM v15)',
});
export const ipcc2006Ar5 = ipcc2006('ar5', 'Fifth Assessment Report', {
  methane: '28',
  nitrousOxide: '265',
  source: 'IPCC Fifth Assessment Report, GWP-100 (methane secondary, nitrous oxide from memory)',
});
export const ipcc2006Ar6 = ipcc2006('ar6', 'Sixth Assessment Report', {
  methane: '27',
  nitrousOxide: '273',
  source: 'IPCC Sixth Assessment Report, GWP-100, methane that is not fossil (secondary)',
});

function ipcc2006(report: string, name: string, potential: WarmingPotential): GreenhouseSet {
  const composting = new Decimal(methane.value)
    .times(potential.methane)
    .plus(new Decimal(nitrousOxide.value).times(potential.nitrousOxide))
    .dividedBy(1000)
    .toString();
  return {
    code: `ipcc-2006-${report}`,
    title: 'IPCC Guidelines for National Greenhouse Gas Inventories, composting defaults',
    version: `2006, with the warming potentials of the ${name}`,
    source: `${table}; ${potential.source}`,
    checked: 'secondary: both ranges were read, the middles in second-hand copies',
    perKg: '1000',
    byCategory: Object.fromEntries(composted.map((category) => [category, { composting, landfill: null }])),
    factorsOf: (categories) => (anyOf(categories) ? factorsOf(potential) : []),
    notes,
  };
}

function anyOf(categories: readonly WasteCategory[]): boolean {
  return composted.some((category) => categories.includes(category));
}

function factorsOf({ methane: ch4, nitrousOxide: n2o, source }: WarmingPotential): FactorUsed[] {
  const emitted = 'g per kg of wet waste';
  const warming = 't CO2e per t';
  return [
    { name: 'methane from composting', value: Number(methane.value), unit: emitted, source: methane.source },
    {
      name: 'nitrous oxide from composting',
      value: Number(nitrousOxide.value),
      unit: emitted,
      source: nitrousOxide.source,
    },
    { name: 'warming by methane', value: Number(ch4), unit: warming, source },
    { name: 'warming by nitrous oxide', value: Number(n2o), unit: warming, source },
  ];
}
