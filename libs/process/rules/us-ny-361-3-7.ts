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

const citation = '6 NYCRR 361-3.7(a)(1)(i)(a)';

const product: MicrobeTerms = {
  logic: 'either',
  tests: coliformAndSalmonella,
  citation,
  textStatus: 'verified',
};

/** 6 NYCRR 361-3.7: pathogen reduction at composting sites of New York. */
const newYork = {
  ...silent,
  jurisdiction: 'New York, United States',
  region: 'US-NY',
  citation,
  year: 2017,
  textStatus: 'verified',
  textSource: '6 NYCRR 361-3.7',
  fromMemory: ['the year'],
  thresholdDeciC: 550,
  continuity: 'consecutive',
  microbes: product,
} as const satisfies Partial<ProcessRule>;

const notes = [
  'The text asks for aerobic conditions as well, which no reading here shows.',
  yearNote,
  probesNote,
] as const;

export const usNyWindrow: ProcessRule = {
  ...newYork,
  code: 'us-ny-361-3-7-windrow',
  title: 'New York: windrow composting',
  duration: days(15),
  turns: turns(5),
  methods: ['turned-windrow', 'turned-bins'],
  notes: [...notes, daysNote(15), turnsNote, binsNote],
};

export const usNyStaticOrVessel: ProcessRule = {
  ...newYork,
  code: 'us-ny-361-3-7-static-or-vessel',
  title: 'New York: aerated static pile or vessel',
  duration: days(3),
  methods: ['static-aerated', 'in-vessel'],
  notes: [...notes, daysNote(3)],
};
