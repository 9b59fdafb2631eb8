import type { BatchRecord, Jurisdiction, Permit } from './record.js';
import type { AcceptedMaterial, Amendment, Entered, MaterialOrigin, PulledReject } from './record-inputs.js';
import { mixFigure } from './schema-mix.js';
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
  mixTargets: listOf(
    objectOf<Permit['mixTargets'][number]>({ figure: mixFigure, min: orNull(amount), max: orNull(amount) }),
  ),
  storedVolumeMaxL: orNull(amount),
  yearlyMassMaxKg: orNull(amount),
});

const acceptedMaterial = objectOf<AcceptedMaterial>({
  code: text,
  name: text,
  lots: count,
  acceptedKg: amount,
  weighedKg: amount,
  sharedKg: amount,
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
  sharedKg: amount,
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
