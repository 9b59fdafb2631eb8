import { type ClassTable, type LimitTable, rest, sharedEdge, type Source, under, upTo } from '../table.js';

const memory = 'memory: no copy of the table was read';

/** Rottegrad: the higher the roman number, the more stable. */
export const selfHeating = {
  ...{ code: 'dewar-rottegrad', title: 'Rottegrad by self-heating', parameter: 'self-heating' },
  unit: 'C above ambient',
  citation: 'Brinton et al. 1995, Standardized test for evaluation of compost self-heating',
  textStatus: 'from-memory',
  textSource: `${memory}; of the same classes a German plant description gives 50 to 60 °C in a room of 20 °C for II, and 60 to 70 °C for I`,
  bands: [
    under(10, 'V: very stable, well aged'),
    under(20, 'IV: moderately stable, curing'),
    under(30, 'III: still decomposing, active'),
    upTo(40, 'II: immature, very active'),
    rest('I: fresh, raw'),
  ],
  choice: `${sharedEdge} Class I is above 40 °C, so 40 °C itself is II.`,
} as const satisfies ClassTable;

export const co2Evolution = {
  ...{ code: 'tmecc-05-08-b', title: 'CO2 evolution classes', parameter: 'co2-evolution' },
  unit: 'mg CO2-C/g OM/day',
  citation: 'TMECC 05.08-B',
  textStatus: 'from-memory',
  textSource: `${memory}; laboratories differ: two reports call 7.0 and 8.5 alike "moderate"`,
  bands: [
    under(2, 'very stable'),
    under(8, 'stable'),
    under(15, 'moderately unstable'),
    upTo(40, 'unstable'),
    rest('raw'),
  ],
  choice: `${sharedEdge} Raw is above 40, so 40 itself is unstable.`,
} as const satisfies ClassTable;

const ccme: Source = {
  citation: 'CCME Guidelines for Compost Quality 2005 (PN 1340), maturity',
  textStatus: 'from-memory',
  textSource: memory,
};
const eu: Source = {
  citation: 'Regulation (EU) 2019/1009, Annex II, CMC 3',
  textStatus: 'from-memory',
  textSource: `${memory}; that oxygen uptake and self-heating are the parameters was read in the scope of CEN/TS 17730`,
};

export const stabilityLimits = [
  {
    ...ccme,
    ...{ code: 'ccme-2005-oxygen', title: 'CCME 2005', parameter: 'oxygen-uptake' },
    ...{ unit: 'mg O2/kg OM/h', limit: { is: 'at most', value: 400 }, choice: null },
  },
  {
    ...ccme,
    ...{ code: 'ccme-2005-co2', title: 'CCME 2005', parameter: 'co2-evolution' },
    ...{ unit: 'mg CO2-C/g OM/day', limit: { is: 'at most', value: 4 }, choice: null },
  },
  {
    ...ccme,
    ...{ code: 'ccme-2005-heat', title: 'CCME 2005', parameter: 'self-heating' },
    ...{ unit: 'C above ambient', limit: { is: 'below', value: 8 }, choice: null },
  },
  {
    ...{ code: 'pas-100-co2', title: 'PAS 100', parameter: 'co2-evolution' },
    citation: 'BSI PAS 100, stability',
    textStatus: 'secondary',
    textSource: 'a trade page on the 2005 edition, which prints 16 mg of CO2, not of carbon',
    ...{ unit: 'mg CO2/g OM/day', limit: { is: 'at most', value: 16 }, choice: null },
  },
  {
    ...eu,
    ...{ code: 'eu-2019-1009-oxygen', title: 'EU compost (CMC 3)', parameter: 'oxygen-uptake' },
    ...{ unit: 'mmol O2/kg OM/h', limit: { is: 'at most', value: 25 } },
    choice: 'There either this or self-heating is enough.',
  },
  {
    ...eu,
    ...{ code: 'eu-2019-1009-heat', title: 'EU compost (CMC 3)', parameter: 'self-heating' },
    ...{ unit: 'C above ambient', limit: { is: 'below', value: 30 } },
    choice:
      'Rottegrad III or better is read as a rise under 30 °C. There either this or oxygen uptake is enough.',
  },
  {
    ...{ code: 'mn-stormwater-co2', title: 'Minnesota Stormwater Manual', parameter: 'co2-evolution' },
    citation: 'Minnesota Stormwater Manual, compost specifications',
    textStatus: 'verified',
    textSource: 'the page of the Minnesota Pollution Control Agency',
    ...{ unit: 'mg CO2-C/g OM/day', limit: { is: 'below', value: 8 }, choice: null },
  },
] as const satisfies readonly LimitTable[];
