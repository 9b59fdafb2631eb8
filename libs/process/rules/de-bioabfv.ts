import { batchMethods, type ProcessRule } from '../rule.js';
import { days, daysNote, hourNote, probesNote, silent } from './common.js';

/** Bioabfallverordnung, Annex 2, in its wording of 2012 and later. */
const bioAbfV = {
  ...silent,
  jurisdiction: 'Germany',
  region: 'DE',
  year: 2012,
  textStatus: 'verified',
} as const satisfies Partial<ProcessRule>;

const composting = {
  ...bioAbfV,
  citation: 'BioAbfV Anhang 2 Nr. 2.2.2.1',
  textSource: 'BioAbfV Anhang 2 Nr. 2.2.2.1 and 3.2, and § 3(6)',
  moisture: { leastPercent: 40 },
  methods: batchMethods,
} as const satisfies Partial<ProcessRule>;

const monitoringNote =
  'The temperature is to be recorded continuously, in representative zones; for open composting the authority may allow once a working day. No number of zones is coded, and the longest time between two checks is left to this program.';

const notes = [
  'Water should be at least 40 % (the text says "soll"). It is coded as a condition. The pH, which should be around 7, is not looked at.',
  'The temperature has to act on all of the material, so the coldest probe governs.',
  'Turns are as the process needs them; the text wants their times logged.',
  'Older figures of 7 days at 60 °C or 65 °C still circulate. They are from before 2012.',
  ...[monitoringNote, probesNote],
] as const;

const silentNote =
  'The words "as contiguous as possible" stand with the 2 weeks at 55 °C. They do not decide the question here either.';

export const deBioAbfV55: ProcessRule = {
  ...composting,
  code: 'de-bioabfv-55',
  title: 'Biowaste ordinance: thermophilic composting at 55 °C',
  thresholdDeciC: 550,
  duration: days(14),
  notes: [
    'The text asks for a time "as contiguous as possible" (möglichst zusammenhängend). That is neither of the two readings, so both are left open.',
    ...[...notes, daysNote(14)],
  ],
};

export const deBioAbfV60: ProcessRule = {
  ...composting,
  code: 'de-bioabfv-60',
  title: 'Biowaste ordinance: thermophilic composting at 60 °C',
  thresholdDeciC: 600,
  duration: days(6),
  notes: [silentNote, ...notes, daysNote(6)],
};

export const deBioAbfV65: ProcessRule = {
  ...composting,
  code: 'de-bioabfv-65',
  title: 'Biowaste ordinance: thermophilic composting at 65 °C',
  thresholdDeciC: 650,
  duration: days(3),
  notes: [silentNote, ...notes, daysNote(3)],
};

export const deBioAbfVPasteurisation: ProcessRule = {
  ...bioAbfV,
  code: 'de-bioabfv-pasteurisation',
  title: 'Biowaste ordinance: pasteurisation',
  citation: 'BioAbfV Anhang 2 Nr. 2.2.1.1',
  textSource: 'BioAbfV Anhang 2 Nr. 2.2.1.1 and 3.2, and § 3(6)',
  thresholdDeciC: 700,
  duration: { hours: 1 },
  continuity: 'consecutive',
  longestGapHours: 1,
  methods: ['in-vessel'],
  notes: [
    'No particle may be larger than 12 mm, and the material has to be homogeneous. Neither is recorded here.',
    'The temperature is to be recorded continuously.',
    ...[probesNote, hourNote],
  ],
};
