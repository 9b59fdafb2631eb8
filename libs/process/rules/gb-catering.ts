import type { ProcessRule } from '../rule.js';
import { days, daysNote, hourNote, probesNote, silent } from './common.js';

/**
 * Catering waste in the United Kingdom: the forms that the Welsh and the Northern Irish regulations list, later carried
 * into the national authorisation.
 */
const catering = {
  ...silent,
  jurisdiction: 'United Kingdom',
  region: 'GB',
  citation: 'SI 2006/1293 (Wales) Schedule 1 Part II; SR (NI) 2003/495 Schedule 1 Part II',
  year: 2006,
  textStatus: 'verified',
  textSource: 'both schedules as they were made',
} as const satisfies Partial<ProcessRule>;

const notes = [
  'The schedules as made were read. What is in force now is a national authorisation, which was not.',
  'A second barrier goes with it: either meat is kept out at source and the compost is stored for at least 18 days after treatment, or it is treated a second time. Neither is part of this verdict.',
  probesNote,
] as const;

function particleNote(cm: number): string {
  return `No particle may be larger than ${cm} cm. Particle size is not recorded here.`;
}

export const gbCateringClosed60: ProcessRule = {
  ...catering,
  code: 'gb-catering-closed-60',
  title: 'Catering waste: closed reactor at 60 °C',
  thresholdDeciC: 600,
  duration: days(2),
  methods: ['in-vessel'],
  notes: [...notes, particleNote(40), daysNote(2)],
};

export const gbCateringClosed70: ProcessRule = {
  ...catering,
  code: 'gb-catering-closed-70',
  title: 'Catering waste: closed reactor at 70 °C',
  thresholdDeciC: 700,
  duration: { hours: 1 },
  longestGapHours: 1,
  methods: ['in-vessel'],
  notes: [...notes, particleNote(6), hourNote],
};

export const gbCateringHousedWindrow: ProcessRule = {
  ...catering,
  code: 'gb-catering-housed-windrow',
  title: 'Catering waste: housed windrow at 60 °C',
  thresholdDeciC: 600,
  duration: days(8),
  turns: { count: 3, spacingHours: 48, hotHoursBefore: null },
  methods: ['turned-windrow'],
  notes: [
    ...notes,
    particleNote(40),
    'Turns are to be not less than 2 days apart, counted as 48 hours. A turn that comes sooner after the one counted before it does not count.',
    'The windrow has to be housed. No record here shows the building.',
    daysNote(8),
  ],
};
