import type { ProcessRule } from '../rule.js';
import { days, daysNote, probesNote, silent, turns, turnsNote, unread } from './common.js';

/** AS 4454-2012, clause 3.2.1: pasteurisation in windrows. */
const as4454 = {
  ...silent,
  jurisdiction: 'Australia',
  region: 'AU',
  citation: 'AS 4454-2012 cl. 3.2.1',
  year: 2012,
  textStatus: 'from-memory',
  textSource: `${unread}; the title and the list of clauses were`,
  thresholdDeciC: 550,
  methods: ['turned-windrow', 'turned-bins'],
} as const satisfies Partial<ProcessRule>;

const notes = [
  'The outer material has to be turned to the inside. No record here shows that it was.',
  'The standard speaks of windrows. For turned bins the permit must allow this rule.',
  probesNote,
] as const;

export const auTurned: ProcessRule = {
  ...as4454,
  code: 'au-as-4454-turned',
  title: 'AS 4454: three turns, each after 3 hot days',
  duration: days(9),
  continuity: 'cumulative',
  turns: { count: 3, spacingHours: 0, hotHoursBefore: 72 },
  notes: [
    '3 consecutive days before each of 3 turns make 9 days in all. The three days before a turn have to be unbroken; between a turn and the next three days the batch may cool, so the 9 days themselves are added up.',
    'The 9 days never decide: three turns with 72 unbroken hot hours before each cannot be had in less.',
    'The 72 hours are counted up to the last check before the turn, so look before you turn. A turn that comes before they are full does not count, and does not set them back.',
    ...[...notes, daysNote(9)],
  ],
};

export const auHighRisk: ProcessRule = {
  ...as4454,
  code: 'au-as-4454-high-risk',
  title: 'AS 4454: manure, food and other material of higher risk',
  duration: days(15),
  turns: turns(5),
  notes: [
    'Whether each of the 5 turns also needs 3 hot days before it is not known; it is not coded.',
    ...[...notes, daysNote(15), turnsNote],
  ],
};
