import { batchMethods, type ProcessRule } from '../rule.js';
import { daysNote, days, probesNote, silent, yearNote } from './common.js';

const part503 = {
  ...silent,
  jurisdiction: 'United States',
  region: 'US',
  year: 1993,
  fromMemory: ['the year'],
  thresholdDeciC: 400,
  methods: batchMethods,
} as const satisfies Partial<ProcessRule>;

const sludgeNote =
  'Part 503 is written for sewage sludge. It reaches other compost only where a state, a permit or a buyer adopts it.';

/** 40 CFR Part 503, Appendix B, section A: processes to significantly reduce pathogens, item 4, composting. */
export const us503Psrp: ProcessRule = {
  ...part503,
  code: 'us-503-psrp',
  title: 'Significant reduction of pathogens: composting',
  citation: '40 CFR 503 Appendix B, (A)(4)',
  textStatus: 'parallel',
  textSource:
    '40 CFR 257 Appendix II, which says "40 °C for 5 days" and, of that time, more than 55 °C for four hours',
  duration: days(5),
  peak: { thresholdDeciC: 550, strict: true, hours: 4 },
  notes: [
    'It leads to class B only, which is no standard for compost that is given to the public.',
    'The text speaks of within-vessel, static aerated pile and windrow composting. For turned bins the permit must allow this rule.',
    'The text does not say whether the four hours may be in pieces. They are read as the five days are.',
    ...[sludgeNote, yearNote, probesNote, daysNote(5)],
  ],
};

/** 40 CFR 503.33(b)(5): vector attraction reduction, option 5, aerobic process. */
export const us503VectorAttraction: ProcessRule = {
  ...part503,
  code: 'us-503-vector-attraction',
  title: 'Less attraction of vectors: aerobic process',
  purpose: 'vector-attraction',
  citation: '40 CFR 503.33(b)(5)',
  textStatus: 'secondary',
  textSource:
    'a table of an engineering textbook ("at least 14 days at over 40C", the average over 45C); COMAR 26.04.11 takes the paragraph over by reference',
  thresholdStrict: true,
  duration: days(14),
  average: { thresholdDeciC: 450, strict: true },
  continuity: 'consecutive',
  notes: [
    'It stands beside the rule for pathogens: both have to be met.',
    'The text speaks of one time of 14 days or longer with its own average, so it is read as one unbroken run.',
    ...[sludgeNote, yearNote, probesNote, daysNote(14)],
  ],
};
