import type { BatchRecord, Jurisdiction, Permit } from './record.js';
import {
  type AcceptedMaterial,
  type Amendment,
  type Entered,
  type MaterialOrigin,
  type MixFigures,
  type MixMaterial,
  type MixTarget,
  type PulledReject,
  VERIFICATIONS,
} from './record-inputs.js';
import {
  amount,
  count,
  day,
  figure,
  instant,
  listOf,
  objectOf,
  oneOf,
  orNull,
  percent,
  text,
} from './schema-words.js';

export const entered = orNull(objectOf<Entered>({ value: figure, unit: text }));

export const jurisdiction = objectOf<Jurisdiction>({ name: text, lots: count, acceptedKg: amount });

export const permit = objectOf<Permit>({
  reference: text,
  validFrom: day,
  validTo: orNull(day),
  processRule: orNull(text),
  processReading: orNull(oneOf('consecutive', 'cumulative')),
  furtherRules: listOf(text),
  minimumProbes: orNull(count),
  longestGapHours: orNull(amount),
  cureDays: orNull(amount),
  cureReheatC: orNull(figure),
  requiredSamples: listOf(text),
  materials: listOf(text),
  storedVolumeMaxL: orNull(amount),
  yearlyMassMaxKg: orNull(amount),
});

const acceptedMaterial = objectOf<AcceptedMaterial>({
  code: text,
  name: text,
  lots: count,
  acceptedKg: amount,
  weighedKg: amount,
  estimatedKg: amount,
  densitySources: listOf(text),
});

const amendment = objectOf<Amendment>({
  occurredAt: instant,
  material: text,
  name: text,
  from: oneOf('stock', 'overs', 'water'),
  fromBatch: orNull(text),
  massKg: amount,
  basis: oneOf('scale', 'volume'),
  densitySource: orNull(text),
  entered,
});

const reject = objectOf<PulledReject>({
  contaminant: text,
  found: oneOf('drop-off', 'batch'),
  massKg: amount,
  wentTo: text,
});

export const intake = objectOf<BatchRecord['intake']>({
  dropOffs: count,
  firstAt: orNull(instant),
  lastAt: orNull(instant),
  acceptedKg: amount,
  weighedKg: amount,
  estimatedKg: amount,
  materials: listOf(acceptedMaterial),
  origins: listOf(
    objectOf<MaterialOrigin>({ siteCode: text, siteName: text, lots: count, acceptedKg: amount }),
  ),
  amendments: listOf(amendment),
  rejects: listOf(reject),
  pulledKg: amount,
  residueKg: amount,
});

const mixFigure = oneOf('carbonToNitrogen', 'moisturePercent', 'bulkDensityKgM3');

const target = objectOf<MixTarget>({
  figure: mixFigure,
  grade: text,
  min: orNull(amount),
  max: orNull(amount),
  state: oneOf('within', 'below', 'above', 'unknown'),
  source: text,
});

const mixMaterial = objectOf<MixMaterial>({
  name: text,
  massKg: amount,
  nitrogenPercentDry: orNull(percent),
  carbonToNitrogen: orNull(amount),
  moisturePercent: orNull(percent),
  bulkDensityKgM3: orNull(amount),
  source: text,
  verification: oneOf(...VERIFICATIONS),
});

export const mix = objectOf<MixFigures>({
  massKg: amount,
  volumeL: orNull(amount),
  carbonToNitrogen: orNull(amount),
  moisturePercent: orNull(percent),
  bulkDensityKgM3: orNull(amount),
  knownMassPercent: objectOf<MixFigures['knownMassPercent']>({
    carbonToNitrogen: percent,
    moisturePercent: percent,
    bulkDensityKgM3: percent,
  }),
  missing: listOf(objectOf<MixFigures['missing'][number]>({ material: text, figure: text })),
  targets: listOf(target),
  materials: listOf(mixMaterial),
});
