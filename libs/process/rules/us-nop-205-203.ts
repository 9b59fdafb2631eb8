import type { ProcessRule } from '../rule.js';
import { binsNote, days, daysNote, probesNote, silent, turns, turnsNote, yearNote } from './common.js';

/** 7 CFR 205.203(c)(2): compost for organic production. 131 °F is 55 °C; 170 °F is 76.67 °C. */
const organic = {
  ...silent,
  jurisdiction: 'United States',
  region: 'US',
  year: 2000,
  textStatus: 'verified',
  textSource: '7 CFR 205.203(c)(2), as quoted in full on a page about the organic rules',
  fromMemory: ['the year'],
  thresholdDeciC: 550,
  upperLimitDeciC: 767,
  carbonToNitrogen: { least: 25, most: 40 },
} as const satisfies Partial<ProcessRule>;

const notes = [
  'The upper limit of 170 °F is 76.67 °C. It is kept as 76.7 °C, as a reading of 170 °F is, so that such a reading is within the limit.',
  'The carbon to nitrogen ratio, between 25:1 and 40:1, is that of the mix as it was built; both ends are allowed.',
  'The text does not say whether the days must be consecutive. At least one reader, a farming institute, takes them so.',
  'It asks nothing of compost that organic rules do not reach.',
  yearNote,
  probesNote,
] as const;

export const usNopWindrow: ProcessRule = {
  ...organic,
  code: 'us-nop-205-203-windrow',
  title: 'Compost for organic production: windrow',
  citation: '7 CFR 205.203(c)(2)(iii)',
  duration: days(15),
  turns: turns(5),
  methods: ['turned-windrow', 'turned-bins'],
  notes: [...notes, daysNote(15), turnsNote, binsNote],
};

export const usNopStaticOrVessel: ProcessRule = {
  ...organic,
  code: 'us-nop-205-203-static-or-vessel',
  title: 'Compost for organic production: in-vessel or static aerated pile',
  citation: '7 CFR 205.203(c)(2)(ii)',
  duration: days(3),
  methods: ['static-aerated', 'in-vessel'],
  notes: [...notes, daysNote(3)],
};
