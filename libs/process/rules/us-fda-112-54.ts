import type { MicrobeTerms, ProcessRule } from '../rule.js';
import {
  coliformAndSalmonella,
  days,
  daysNote,
  probesNote,
  silent,
  turns,
  turnsNote,
  yearNote,
} from './common.js';

const product: MicrobeTerms = {
  logic: 'both',
  tests: coliformAndSalmonella,
  citation: '21 CFR 112.55(b)',
  textStatus: 'verified',
};

/** 21 CFR 112.54(b): treated biological soil amendments on farms that grow produce. */
const produce = {
  ...silent,
  jurisdiction: 'United States',
  region: 'US',
  year: 2015,
  textStatus: 'secondary',
  fromMemory: ['the year'],
  thresholdDeciC: 550,
  microbes: product,
} as const satisfies Partial<ProcessRule>;

const notes = [
  'It binds farms that grow produce, and whoever certifies compost to them (21 CFR 112.60(b)).',
  'The text goes on to ask for "adequate curing" without a number of days. That is for the cure to show, not for this rule.',
  'Salmonella must not be detected by a method able to find 3 MPN in 4 g; that is coded as below 3.',
  yearNote,
  probesNote,
] as const;

export const usFdaTurned: ProcessRule = {
  ...produce,
  code: 'us-fda-112-54-turned',
  title: 'Produce safety: turned composting',
  citation: '21 CFR 112.54(b)(2)',
  textSource:
    'Michigan State University Extension ("131 F for 15 days not necessarily consecutive"); product tests in 21 CFR 112.55(b) itself',
  duration: days(15),
  continuity: 'cumulative',
  turns: turns(5),
  methods: ['turned-windrow', 'turned-bins'],
  notes: [...notes, daysNote(15), turnsNote],
};

export const usFdaStatic: ProcessRule = {
  ...produce,
  code: 'us-fda-112-54-static',
  title: 'Produce safety: static composting with air',
  citation: '21 CFR 112.54(b)(1)',
  textSource:
    'Michigan State University Extension and LSU AgCenter 3838-B (3 consecutive days at 131 °F); product tests in 21 CFR 112.55(b) itself',
  duration: days(3),
  continuity: 'consecutive',
  methods: ['static-aerated'],
  notes: [
    ...[...notes, daysNote(3)],
    'The text speaks of static composting kept aerobic. A vessel is not named: the farm or its certifier decides.',
  ],
};
