import type { DivertedMasses, FactorUsed, GreenhouseEstimate, RateOfPeriod } from '#libs/accounting';
import type { DiversionReport, Method } from '#libs/documents';

/** Every place, organisation and person here is invented; the factors of the greenhouse estimate are published ones. */

export const rate = (total: DivertedMasses): RateOfPeriod => ({
  formula: 'us-epa-1997',
  title: 'Recycling rate',
  expression: 'recycled / (recycled + disposed)',
  source:
    "US EPA, Measuring Recycling (EPA530-R-97-011, 1997), as EPA's own frequent questions on it tell the method (verified)",
  terms: [
    { name: 'recycled', massKg: total.divertedKg, from: 'diverted in this report' },
    {
      name: 'disposed',
      massKg: 4_082_331.33,
      from: 'Town of Lower Ottermere, scale house total of 2026-07-20',
    },
  ],
  percent: 7.1,
  notes: [
    'Only what this programme composted is counted as recycled; what the town recycles besides is not in this rate.',
  ],
});

export const greenhouse: GreenhouseEstimate = {
  set: 'us-epa-warm-16',
  title: 'US EPA Waste Reduction Model, version 16',
  version: 'December 2023',
  source: 'US EPA, WARM v16, summary data of the workbook (read on a third-party copy)',
  lines: [
    {
      category: 'food',
      materials: ['Food scraps, households', 'Coffee grounds'],
      massKg: 90_718.474,
      compostingTCo2e: -15.213,
      landfillTCo2e: 50.146,
      differenceTCo2e: -65.36,
    },
    {
      category: 'leaves',
      materials: ['Leaves, dry'],
      massKg: 45_359.237,
      compostingTCo2e: -5.295,
      landfillTCo2e: -26.693,
      differenceTCo2e: 21.398,
    },
    {
      category: 'other',
      materials: ['Straw, wheat'],
      massKg: 9_071.847,
      compostingTCo2e: null,
      landfillTCo2e: null,
      differenceTCo2e: null,
    },
  ],
  total: { massKg: 136_077.711, compostingTCo2e: -20.509, landfillTCo2e: 23.453, differenceTCo2e: -43.962 },
  unknownKg: 9_071.847,
  factors: [
    {
      name: 'Food waste, composted',
      value: -0.15213492335194,
      unit: 't CO2e per short ton',
      source: 'US EPA, WARM v16, summary data of the workbook (read on a third-party copy)',
    },
    {
      name: 'Leaves, landfilled',
      value: -0.5338629,
      unit: 't CO2e per short ton',
      source: 'US EPA, WARM v16, summary data of the workbook (read on a third-party copy)',
    },
  ],
  notes: [
    'By this model leaves do better in a landfill that stores their carbon than composted: the sign is the model’s own.',
    'It is an estimate of a model for a national average, and no measurement of this programme.',
  ],
};

export const amends = (total: DivertedMasses): NonNullable<DiversionReport['amends']> => ({
  version: 1,
  seal: '0f4b6d7c1c3ce2d66b6c4aa7a1a5e6b1a3d8c20b0a7bb5f5f0f1d3d2f9e1c477',
  issuedAt: '2026-07-22T15:30:02.000Z',
  reason: 'A lot of Ferry Street hub had been typed in pounds as kilograms; the depositor’s slip was found.',
  totals: [
    { figure: 'diverted, as printed', before: '399.82', after: '400.21', unit: 'short ton' },
    { figure: 'rate', before: null, after: 7.1, unit: '%' },
    {
      figure: 'rate: formula',
      before: null,
      after: 'us-epa-1997: recycled / (recycled + disposed)',
      unit: '',
    },
    { figure: 'drop-offs', before: 51_877, after: total.lots, unit: '' },
    { figure: 'accepted', before: 374_520.874, after: total.acceptedKg, unit: 'kg' },
    { figure: 'diverted', before: 362_710.913, after: total.divertedKg, unit: 'kg' },
  ],
  changes: [
    {
      change: 'corrected',
      kind: 'drop-off',
      sourceId: '01980c1a-7c40-7b6e-9d1f-3d2a5b6c7d80',
      occurredAt: '2026-05-03T14:20:00.000Z',
      localDay: '2026-05-03',
      timeZone: 'America/Denver',
      site: 'FE13',
      material: 'Garden waste, mixed, of allotments and school gardens',
      beforeKg: 118.5,
      afterKg: 53.751,
      what: [],
      reason: 'typed in kg, the slip says lb',
    },
    {
      change: 'added',
      kind: 'drop-off',
      sourceId: '01980c1a-7c40-7b6e-9d1f-3d2a5b6c7d81',
      occurredAt: '2026-07-01T05:05:00.000Z',
      localDay: '2026-06-30',
      timeZone: 'America/Denver',
      site: 'KI40',
      material: 'Straw, wheat',
      beforeKg: null,
      afterKg: 12.7,
      what: [],
      reason: null,
    },
    {
      change: 'removed',
      kind: 'drop-off',
      sourceId: '01980c1a-7c40-7b6e-9d1f-3d2a5b6c7d82',
      occurredAt: '2026-04-11T10:00:00.000Z',
      localDay: '2026-04-11',
      timeZone: 'America/Denver',
      site: 'AL1',
      material: 'Coffee grounds',
      beforeKg: 12.7,
      afterKg: null,
      what: ['material', 'day'],
      reason: 'entered twice',
    },
  ],
});

export const methods: Method[] = [
  {
    title: 'Diverted',
    text: 'Accepted less the part of the residue that went to landfill. Refused and pulled material is never accepted.',
    source: '14 CCR 18815.9(a): residuals sent to disposal are reported apart',
  },
  {
    title: 'Residue',
    text: 'Shared back to jurisdictions by what of each had gone into the batch, through overs and merged batches too.',
    source: 'derived; the setting of the jurisdiction is "traced"',
  },
  {
    title: 'Rounding',
    text: 'Every figure is rounded once, half to even, from the exact sum of grams. Printed rows need not add up.',
    source: 'NIST Handbook 44, Appendix C',
  },
];

export const factors: FactorUsed[] = [
  {
    name: 'Pound',
    value: 0.45359237,
    unit: 'kg',
    source: 'NIST Handbook 44, Appendix C, exact',
  },
  { name: 'Short ton', value: 907.18474, unit: 'kg', source: 'NIST Handbook 44, Appendix C, exact' },
  {
    name: 'Leaves, dry, bulk density',
    value: 104,
    unit: 'kg/m³',
    source: 'the programme’s list of materials',
  },
  ...greenhouse.factors,
];

export const limits: string[] = [
  'No percentage of the town’s waste can be read from tons alone: it takes what was disposed.',
  'Mass is wet, as it came. Rain on leaves counts as leaves.',
  'What neighbours compost at home is not in it.',
  'It is no statement about the quality of the compost, and no proof that any law was kept: the permit governs.',
];
