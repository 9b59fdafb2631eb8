import type { ProcessRule } from '../rule.js';
import { binsNote, days, daysNote, probesNote, silent, turns, turnsNote } from './common.js';

/** 30 TAC 332.23(2): pathogen reduction at composting sites of Texas that need a notification. */
const texas = {
  ...silent,
  jurisdiction: 'Texas, United States',
  region: 'US-TX',
  year: 1995,
  textStatus: 'verified',
  textSource: '30 TAC 332.23',
  fromMemory: ['the year'],
  thresholdDeciC: 550,
} as const satisfies Partial<ProcessRule>;

const notes = [
  'The text asks for functionally aerobic composting as well, which no reading here shows.',
  'The year is that of first publication, from memory; the section may have been amended since.',
  probesNote,
] as const;

export const usTxWindrow: ProcessRule = {
  ...texas,
  code: 'us-tx-332-23-windrow',
  title: 'Texas: windrow composting',
  citation: '30 TAC 332.23(2)(B)',
  duration: days(15),
  turns: turns(5),
  methods: ['turned-windrow', 'turned-bins'],
  notes: [...notes, daysNote(15), turnsNote, binsNote],
};

export const usTxStaticOrVessel: ProcessRule = {
  ...texas,
  code: 'us-tx-332-23-static-or-vessel',
  title: 'Texas: static aerated pile or within-vessel composting',
  citation: '30 TAC 332.23(2)(A)',
  duration: days(3),
  methods: ['static-aerated', 'in-vessel'],
  notes: [...notes, daysNote(3)],
};
