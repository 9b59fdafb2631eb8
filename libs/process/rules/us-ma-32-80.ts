import { batchMethods, type ProcessRule } from '../rule.js';
import { days, daysNote, probesNote, silent } from './common.js';

/** 310 CMR 32.80(4): low temperature composting of sludge and septage, Massachusetts. */
export const usMaLowTemperature: ProcessRule = {
  ...silent,
  code: 'us-ma-32-80-low-temperature',
  title: 'Massachusetts: low temperature composting of sludge',
  jurisdiction: 'Massachusetts, United States',
  region: 'US-MA',
  citation: '310 CMR 32.80(4)',
  year: 2025,
  textStatus: 'verified',
  textSource: '310 CMR 32.80, a copy current through Register 1538 of 3 January 2025',
  thresholdDeciC: 400,
  duration: days(5),
  peak: { thresholdDeciC: 550, strict: false, hours: 4 },
  continuity: 'consecutive',
  methods: batchMethods,
  notes: [
    'It is written for sludge and septage, and is no standard for compost that is given to the public.',
    'The year is that of the copy that was read.',
    'The text speaks of within-vessel, static aerated pile and windrow composting. For turned bins the permit must allow this rule.',
    'The text does not say whether the four hours may be in pieces. They are read as the five days are: unbroken.',
    ...[probesNote, daysNote(5)],
  ],
};
