import type { LimitTable, Source } from '../table.js';

const federal: Source = {
  citation: '40 CFR 503.32(a)',
  textStatus: 'parallel',
  textSource: '15A NCAC 02T .1106(a)(2) and OAR 340-096-0140, which repeat it',
};
const pas: Source = {
  citation: 'BSI PAS 100, product requirements',
  textStatus: 'from-memory',
  textSource: 'memory: no copy of the text was read',
};
const either =
  'There either this test or that of the other organism is enough; a rule may ask for both, and the gate says which.';

/** Beside a rule: which tests a batch needs, and whether one is enough, says the rule it is under. */
export const pathogenLimits: readonly LimitTable[] = [
  {
    ...federal,
    ...{ code: 'us-503-class-a-fecal-coliform', title: '503 class A', parameter: 'fecal-coliform' },
    ...{ unit: 'MPN/g dry', limit: { is: 'below', value: 1000 }, choice: either },
  },
  {
    ...federal,
    ...{ code: 'us-503-class-a-salmonella', title: '503 class A', parameter: 'salmonella' },
    ...{ unit: 'MPN/4 g dry', limit: { is: 'below', value: 3 }, choice: either },
  },
  {
    ...pas,
    ...{ code: 'pas-100-e-coli', title: 'PAS 100', parameter: 'e-coli' },
    ...{ unit: 'CFU/g', limit: { is: 'at most', value: 1000 }, choice: null },
  },
  {
    ...pas,
    ...{ code: 'pas-100-salmonella', title: 'PAS 100', parameter: 'salmonella-in-25-g' },
    ...{ unit: 'CFU/25 g', limit: { is: 'below', value: 1 }, choice: 'Absent is read as none found.' },
  },
];
