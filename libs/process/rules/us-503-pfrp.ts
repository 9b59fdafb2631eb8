import type { ProcessRule } from '../rule.js';

/** 40 CFR Part 503, Appendix B, section B: processes to further reduce pathogens, item 1, composting. */
const appendixB = {
  version: 1,
  purpose: 'pathogen-reduction',
  jurisdiction: 'United States',
  region: 'US',
  citation: '40 CFR 503 Appendix B, (B)(1)',
  year: 1993,
  textStatus: 'parallel',
  textSource: 'Wis. Adm. Code NR 204.07(6)(a)2.b and 30 TAC 332.23(2), which repeat the federal words',
  fromMemory: ['the year of first publication'],
  thresholdDeciC: 550,
  thresholdStrict: false,
  upperLimitDeciC: null,
  peak: null,
  average: null,
  basis: 'elapsed',
  continuity: 'unstated',
  governing: 'coldest',
  minimumProbes: 1,
  minimumZones: 1,
  minimumDepthMm: null,
  longestGapHours: null,
  graceAfterTurnHours: null,
  moisture: null,
  carbonToNitrogen: null,
  microbes: null,
} as const satisfies Partial<ProcessRule>;

const notes = [
  'Part 503 is written for sewage sludge. It reaches other compost only where a state, a permit or a buyer adopts it.',
  'The year is that of first publication, from memory.',
  'The text names no number or depth of probes: one probe is asked for here, and a permit may ask for more.',
] as const;

const elapsedNote = (days: number) =>
  `The text says "${days} days". They are counted as ${days * 24} elapsed hours, which is stricter than counting local days with a good check on each.`;

export const us503Windrow: ProcessRule = {
  ...appendixB,
  code: 'us-503-pfrp-windrow',
  title: 'Further reduction of pathogens: windrow composting',
  duration: { hours: 360 },
  turns: { count: 5, spacingHours: 0, hotHoursBefore: null },
  methods: ['turned-windrow', 'turned-bins'],
  notes: [
    ...notes,
    elapsedNote(15),
    'The text sets no time between turns: turns on one day count separately, turns at one instant do not.',
    'The text speaks of windrows only. For turned bins the permit must allow this rule.',
  ],
};

export const us503StaticAerated: ProcessRule = {
  ...appendixB,
  code: 'us-503-pfrp-static-aerated',
  title: 'Further reduction of pathogens: static aerated pile composting',
  duration: { hours: 72 },
  turns: null,
  methods: ['static-aerated'],
  notes: [...notes, elapsedNote(3)],
};

export const us503InVessel: ProcessRule = {
  ...appendixB,
  code: 'us-503-pfrp-in-vessel',
  title: 'Further reduction of pathogens: within-vessel composting',
  duration: { hours: 72 },
  turns: null,
  methods: ['in-vessel'],
  notes: [...notes, elapsedNote(3)],
};
