import type { MicrobeTerms, ProcessRule } from '../rule.js';
import {
  binsNote,
  coliformAndSalmonella,
  days,
  daysNote,
  probesNote,
  silent,
  turns,
  turnsNote,
  yearNote,
} from './common.js';

/** With every route to class A, and so with each process below. */
const classA: MicrobeTerms = {
  logic: 'either',
  tests: coliformAndSalmonella,
  citation: '40 CFR 503.32(a)',
  textStatus: 'parallel',
};

/** 40 CFR Part 503, Appendix B, section B: processes to further reduce pathogens, item 1, composting. */
const pfrp = {
  ...silent,
  jurisdiction: 'United States',
  region: 'US',
  citation: '40 CFR 503 Appendix B, (B)(1)',
  year: 1993,
  textStatus: 'parallel',
  textSource: 'Wis. Adm. Code NR 204.07(6)(a)2.b and 30 TAC 332.23(2), which repeat the federal words',
  fromMemory: ['the year'],
  thresholdDeciC: 550,
  microbes: classA,
} as const satisfies Partial<ProcessRule>;

const notes = [
  'Part 503 is written for sewage sludge. It reaches other compost only where a state, a permit or a buyer adopts it.',
  yearNote,
  probesNote,
] as const;

export const us503Windrow: ProcessRule = {
  ...pfrp,
  code: 'us-503-pfrp-windrow',
  title: 'Further reduction of pathogens: windrow composting',
  duration: days(15),
  turns: turns(5),
  methods: ['turned-windrow', 'turned-bins'],
  notes: [...notes, daysNote(15), turnsNote, binsNote],
};

export const us503StaticAerated: ProcessRule = {
  ...pfrp,
  code: 'us-503-pfrp-static-aerated',
  title: 'Further reduction of pathogens: static aerated pile composting',
  duration: days(3),
  methods: ['static-aerated'],
  notes: [...notes, daysNote(3)],
};

export const us503InVessel: ProcessRule = {
  ...pfrp,
  code: 'us-503-pfrp-in-vessel',
  title: 'Further reduction of pathogens: within-vessel composting',
  duration: days(3),
  methods: ['in-vessel'],
  notes: [...notes, daysNote(3)],
};
