import type { BatchRecord, Caution, Jurisdiction, Method, Permit } from './record.js';
import type {
  AcceptedMaterial,
  Amendment,
  Entered,
  MaterialOrigin,
  MixFigures,
  MixTarget,
  PulledReject,
} from './record-inputs.js';
import {
  VERDICT_STATES,
  type Check,
  type PileAction,
  type ProcessVerdict,
  type Reading,
} from './record-monitoring.js';
import type { Balance, BalanceLine, Cure, Distribution, Gate, Release } from './record-release.js';
import type { Sample, Screening } from './record-release.js';
import {
  amount,
  count,
  day,
  figure,
  flag,
  instant,
  listOf,
  objectOf,
  oneOf,
  orNull,
  percent,
  text,
} from './schema-words.js';

const entered = orNull(objectOf<Entered>({ value: figure, unit: text }));

export const jurisdiction = objectOf<Jurisdiction>({ name: text, lots: count, acceptedKg: amount });

export const permit = objectOf<Permit>({
  reference: text,
  authority: orNull(text),
  validFrom: day,
  validTo: orNull(day),
  processRule: orNull(text),
  cureDays: orNull(amount),
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
  densitySource: orNull(text),
});

const amendment = objectOf<Amendment>({
  occurredAt: instant,
  material: text,
  name: text,
  from: oneOf('stock', 'overs', 'water'),
  fromBatch: orNull(text),
  massKg: amount,
  basis: oneOf('scale', 'volume'),
  entered,
});

const reject = objectOf<PulledReject>({
  contaminant: text,
  found: oneOf('drop-off', 'batch'),
  pieces: orNull(count),
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

const target = objectOf<MixTarget>({
  figure: oneOf('carbonToNitrogen', 'moisturePercent', 'bulkDensityKgM3'),
  from: orNull(amount),
  to: orNull(amount),
  state: oneOf('within', 'below', 'above', 'unknown'),
  source: text,
});

export const mix = objectOf<MixFigures>({
  massKg: amount,
  volumeL: orNull(amount),
  carbonToNitrogen: orNull(amount),
  moisturePercent: orNull(percent),
  bulkDensityKgM3: orNull(amount),
  knownCarbonToNitrogenPercent: percent,
  knownMoisturePercent: percent,
  knownBulkDensityPercent: percent,
  missing: listOf(text),
  targets: listOf(target),
  sources: listOf(text),
});

export const check = objectOf<Check>({
  id: text,
  occurredAt: instant,
  readings: listOf(
    objectOf<Reading>({ position: text, depthCm: orNull(amount), temperatureC: figure, entered }),
  ),
  governingC: orNull(figure),
  counted: flag,
  remark: orNull(text),
  moisture: orNull(text),
  moisturePercent: orNull(percent),
  odour: orNull(text),
  oxygenPercent: orNull(percent),
  ambientC: orNull(figure),
  notes: orNull(text),
  by: text,
});

export const action = objectOf<PileAction>({
  occurredAt: instant,
  kind: oneOf('turn', 'move', 'watering', 'aeration'),
  volumeL: orNull(amount),
  entered,
  toBay: orNull(text),
  notes: orNull(text),
  by: text,
});

export const verdict = objectOf<ProcessVerdict>({
  rule: objectOf<ProcessVerdict['rule']>({ code: text, title: text, citation: text, textStatus: text }),
  reading: oneOf('consecutive', 'cumulative'),
  status: oneOf(...VERDICT_STATES),
  thresholdC: figure,
  requiredHours: orNull(amount),
  requiredDays: orNull(amount),
  requiredTurns: count,
  longestGapHours: amount,
  creditedHours: amount,
  creditedDays: amount,
  turnsCredited: count,
  clockStartedAt: orNull(instant),
  metAt: orNull(instant),
  creditedSpans: listOf(
    objectOf<ProcessVerdict['creditedSpans'][number]>({ from: instant, to: instant, hours: amount }),
  ),
  evidence: listOf(
    objectOf<ProcessVerdict['evidence'][number]>({ from: instant, to: instant, kind: text, text }),
  ),
  hoursAbove: listOf(objectOf<ProcessVerdict['hoursAbove'][number]>({ temperatureC: figure, hours: amount })),
});

export const cure = objectOf<Cure>({
  requiredDays: orNull(amount),
  curedDays: amount,
  startedAt: orNull(instant),
  endedAt: orNull(instant),
  state: oneOf('not-started', 'in-progress', 'met', 'not-required'),
  text,
});

const sampleResult = objectOf<Sample['results'][number]>({
  measure: text,
  value: { type: ['number', 'string'] },
  unit: orNull(text),
  limit: orNull(text),
  state: oneOf('met', 'unmet', 'unknown', 'for-information'),
});

export const sample = objectOf<Sample>({
  takenAt: instant,
  kind: text,
  laboratory: orNull(text),
  document: orNull(text),
  results: listOf(sampleResult),
  by: text,
});

export const screening = objectOf<Screening>({
  occurredAt: instant,
  screenMm: orNull(amount),
  compostKg: amount,
  oversKg: amount,
  residueKg: amount,
  by: text,
});

const balanceLine = objectOf<BalanceLine>({ name: text, massKg: amount, estimatedKg: amount });

export const balance = objectOf<Balance>({
  inputs: listOf(balanceLine),
  inputKg: amount,
  outputs: listOf(balanceLine),
  outputKg: amount,
  stillHereKg: amount,
  processLossKg: amount,
  yieldPercent: orNull(percent),
});

export const gate = objectOf<Gate>({
  key: text,
  title: text,
  state: oneOf('met', 'unmet', 'unknown', 'not-required'),
  text,
  overrideReason: orNull(text),
});

export const release = objectOf<Release>({
  signedBy: text,
  role: text,
  signedAt: instant,
  statement: text,
  method: text,
});

export const distribution = objectOf<Distribution>({
  occurredAt: instant,
  to: text,
  use: text,
  massKg: amount,
  basis: oneOf('scale', 'volume'),
  volumeL: orNull(amount),
});

export const caution = objectOf<Caution>({ topic: text, text, source: text });

export const method = objectOf<Method>({ title: text, text, source: text });
