import type { ProcessRule } from '../rule.js';
import { binsNote, days, daysNote, probesNote, silent, turns, turnsNote, yearNote } from './common.js';

/** 40 CFR Part 257, Appendix II, section B: processes to further reduce pathogens, composting. */
const appendixII = {
  ...silent,
  jurisdiction: 'United States',
  region: 'US',
  citation: '40 CFR 257 Appendix II, B',
  year: 1979,
  textStatus: 'verified',
  textSource: '40 CFR 257 Appendix II',
  fromMemory: ['the year'],
  thresholdDeciC: 550,
} as const satisfies Partial<ProcessRule>;

const notes = [
  'Part 257 is written for solid waste put on land. Whether it reaches a site is for the permit to say.',
  yearNote,
  probesNote,
] as const;

export const us257Windrow: ProcessRule = {
  ...appendixII,
  code: 'us-257-pfrp-windrow',
  title: 'Further reduction of pathogens in solid waste: windrow composting',
  duration: days(15),
  turns: turns(5),
  methods: ['turned-windrow', 'turned-bins'],
  notes: [
    'The text asks for at least 15 days "during the composting period". That reads as time added up, but it does not say so: both readings are left open.',
    ...[...notes, daysNote(15), turnsNote, binsNote],
  ],
};

export const us257StaticOrVessel: ProcessRule = {
  ...appendixII,
  code: 'us-257-pfrp-static-or-vessel',
  title: 'Further reduction of pathogens in solid waste: static aerated pile or within-vessel composting',
  duration: days(3),
  methods: ['static-aerated', 'in-vessel'],
  notes: [...notes, daysNote(3)],
};
