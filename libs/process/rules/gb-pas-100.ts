import type { ProcessRule } from '../rule.js';
import { days, daysNote, probesNote, silent, turns, turnsNote, unread } from './common.js';

/** BSI PAS 100: what is recommended at least for turned systems. */
export const gbPas100: ProcessRule = {
  ...silent,
  code: 'gb-pas-100',
  title: 'PAS 100: recommended minimum for turned systems',
  jurisdiction: 'United Kingdom',
  region: 'GB',
  citation: 'BSI PAS 100, recommended critical limits for sanitisation',
  year: 2018,
  textStatus: 'from-memory',
  textSource: unread,
  thresholdDeciC: 650,
  duration: days(7),
  turns: turns(2),
  moisture: { leastPercent: 51 },
  microbes: {
    logic: 'both',
    tests: [
      { microbe: 'e-coli', atMost: 1000, unit: 'CFU/g' },
      { microbe: 'salmonella', below: 1, unit: 'CFU/25 g' },
    ],
    citation: 'BSI PAS 100, product requirements',
    textStatus: 'from-memory',
  },
  methods: ['turned-windrow', 'turned-bins'],
  notes: [
    'It is a recommendation: an operator may validate other critical limits, and those then hold instead.',
    'Sources differ on whether the 7 days are continuous: a trade page says so, from memory the edition of 2005 says that they need not be. Both readings are left open.',
    'Salmonella has to be absent from 25 g: that is coded as below 1, so that "<1" of a laboratory passes.',
    ...[probesNote, daysNote(7), turnsNote],
  ],
};
