import type { MicrobeTerms, ProcessRule } from '../rule.js';
import {
  binsNote,
  coliformAndSalmonella,
  days,
  daysNote,
  silent,
  turns,
  turnsNote,
  unread,
} from './common.js';

const product: MicrobeTerms = {
  logic: 'both',
  tests: coliformAndSalmonella,
  citation: '14 CCR 17868.3(a)',
  textStatus: 'from-memory',
};

/** 14 CCR 17868.3: pathogen reduction at composting sites of California. */
const california = {
  ...silent,
  jurisdiction: 'California, United States',
  region: 'US-CA',
  year: 2009,
  thresholdDeciC: 550,
  microbes: product,
} as const satisfies Partial<ProcessRule>;

const notes = [
  'The year is that of the file in which the probe depth was read; the other pages that were read do not tell theirs.',
  'The product tests: a site report of 1994 says that one of the two is enough; from memory the present text asks for both. The stricter is coded. Their figures were read.',
  'The text asks for daily readings while pathogens are reduced. It does not say what a missed day means, so the longest time between two checks is left to this program.',
] as const;

/** An inch is 25.4 mm: 12 inches are 304.8 mm, kept as 305 in whole millimetres, as a reading at 12 inches is. */
const twelveInchesMm = 305;

export const usCaWindrow: ProcessRule = {
  ...california,
  code: 'us-ca-17868-3-windrow',
  title: 'California: windrow composting',
  citation: '14 CCR 17868.3(b)(2)',
  textStatus: 'parallel',
  textSource: 'reports and files of permitted sites that quote the section',
  fromMemory: ['that both product tests must pass'],
  duration: days(15),
  minimumDepthMm: twelveInchesMm,
  turns: turns(5),
  methods: ['turned-windrow', 'turned-bins'],
  notes: [
    ...notes,
    'Readings are to be taken 12 to 24 inches below the surface. Probes nearer than 12 inches are set aside; deeper ones than 24 are not, since a community pile may be smaller than that.',
    'The text asks for one reading for each 150 feet of windrow or 200 cubic yards, or part of it. The size of a pile is not looked at: a permit may ask for more probes than one.',
    ...[daysNote(15), turnsNote, binsNote],
  ],
};

export const usCaStaticAerated: ProcessRule = {
  ...california,
  code: 'us-ca-17868-3-static-aerated',
  title: 'California: aerated static pile',
  citation: '14 CCR 17868.3(b)(3)',
  textStatus: 'from-memory',
  textSource: `${unread}, except for the probe depth and the insulating cover in a file of 2009`,
  duration: days(3),
  minimumDepthMm: twelveInchesMm,
  methods: ['static-aerated'],
  notes: [
    ...notes,
    'Readings are to be taken 12 to 18 inches below the point at which the insulating cover meets the active compost: write down the depth from there. Probes nearer than 12 inches are set aside; deeper ones than 18 are not.',
    'The pile has to be covered with insulating material, from memory 6 to 12 inches of it. No record here shows the cover.',
    'The text asks for one reading for each 200 cubic yards or part of it. The size of a pile is not looked at.',
    daysNote(3),
  ],
};

export const usCaInVessel: ProcessRule = {
  ...california,
  code: 'us-ca-17868-3-in-vessel',
  title: 'California: enclosed or within-vessel composting',
  citation: '14 CCR 17868.3(b)(1)',
  textStatus: 'from-memory',
  textSource: unread,
  duration: days(3),
  methods: ['in-vessel'],
  notes: [...notes, 'No probe depth is coded for a vessel.', daysNote(3)],
};
