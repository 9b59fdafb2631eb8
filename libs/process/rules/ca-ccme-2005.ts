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
  unread,
} from './common.js';

const citation = 'CCME Guidelines for Compost Quality (PN 1340), pathogens';

const product: MicrobeTerms = {
  logic: 'both',
  tests: coliformAndSalmonella,
  citation,
  textStatus: 'from-memory',
};

/** Canadian Council of Ministers of the Environment, Guidelines for Compost Quality, 2005. */
const ccme = {
  ...silent,
  jurisdiction: 'Canada',
  region: 'CA',
  citation,
  year: 2005,
  textStatus: 'from-memory',
  thresholdDeciC: 550,
  microbes: product,
} as const satisfies Partial<ProcessRule>;

const notes = [
  'The guidelines are binding only where a province or a permit takes them over.',
  'From memory, compost of anything but yard waste has to meet the time and temperature and the product tests as well.',
  probesNote,
] as const;

export const ccmeWindrow: ProcessRule = {
  ...ccme,
  code: 'ca-ccme-2005-windrow',
  title: 'Canadian guidelines: windrow composting',
  textSource: `${unread}; a guidance page of Manitoba gives the same time, temperature and turns`,
  duration: days(15),
  turns: turns(5),
  methods: ['turned-windrow', 'turned-bins'],
  notes: [...notes, daysNote(15), turnsNote, binsNote],
};

export const ccmeStaticAerated: ProcessRule = {
  ...ccme,
  code: 'ca-ccme-2005-static-aerated',
  title: 'Canadian guidelines: aerated static pile',
  textSource: unread,
  duration: days(3),
  methods: ['static-aerated'],
  notes: [
    ...notes,
    'From memory the pile should be covered with an insulating layer. No record here shows the cover.',
    daysNote(3),
  ],
};

export const ccmeInVessel: ProcessRule = {
  ...ccme,
  code: 'ca-ccme-2005-in-vessel',
  title: 'Canadian guidelines: in-vessel composting',
  textSource: `${unread}; a guidance page of Manitoba gives 55 °C for three consecutive days`,
  duration: days(3),
  methods: ['in-vessel'],
  notes: [
    ...notes,
    'Whether the guidelines themselves say "consecutive", as the page of Manitoba does, is not known: both readings are left open.',
    daysNote(3),
  ],
};
