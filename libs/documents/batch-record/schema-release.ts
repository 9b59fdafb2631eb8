import type { Balance, BalanceInput, Cure, Distribution, Gate, Release } from './record-release.js';
import type { Sample, SampleFinding, SampleResult, Screening } from './record-release.js';
import { TEXT_STATUSES } from './record-monitoring.js';
import { amount, count, instant, listOf, objectOf, oneOf, orNull, text } from './schema-words.js';

export const cure = objectOf<Cure>({
  status: oneOf('not-started', 'in-progress', 'done'),
  startedAt: orNull(instant),
  daysDone: count,
  daysRequired: count,
  doneAt: orNull(instant),
  evidence: listOf(objectOf<Cure['evidence'][number]>({ from: instant, to: instant, kind: text, text })),
  notes: listOf(text),
});

const bound = orNull(oneOf('<', '>'));

const result = objectOf<SampleResult>({
  parameter: text,
  title: text,
  value: amount,
  unit: text,
  qualifier: bound,
  laboratoryWord: orNull(text),
});

const finding = objectOf<SampleFinding>({
  parameter: text,
  value: orNull(amount),
  unit: orNull(text),
  qualifier: bound,
  scale: text,
  class: orNull(text),
  limit: orNull(text),
  state: oneOf('met', 'unmet', 'classed', 'unknown'),
  source: text,
  textStatus: oneOf(...TEXT_STATUSES),
  text,
});

export const sample = objectOf<Sample>({
  occurredAt: instant,
  kind: text,
  results: listOf(result),
  findings: listOf(finding),
  warnings: listOf(text),
  finding: orNull(text),
  outcome: oneOf('passed', 'failed', 'information'),
  laboratory: orNull(text),
  reference: orNull(text),
  massKg: amount,
  by: text,
});

export const screening = objectOf<Screening>({
  occurredAt: instant,
  compostKg: amount,
  compostVolumeL: orNull(amount),
  oversKg: amount,
  residueKg: amount,
  residueWentTo: orNull(text),
  note: orNull(text),
  by: text,
});

export const balance = objectOf<Balance>({
  inputs: listOf(
    objectOf<BalanceInput>({
      kind: oneOf('drop-off', 'amendment', 'overs-in', 'merged-in'),
      label: text,
      massKg: amount,
      estimatedKg: amount,
    }),
  ),
  inputKg: amount,
  weighedKg: amount,
  sharedKg: amount,
  estimatedKg: amount,
  outputs: listOf(
    objectOf<Balance['outputs'][number]>({
      kind: oneOf('compost', 'overs', 'residue', 'sample', 'merged-on'),
      label: text,
      massKg: amount,
    }),
  ),
  outputKg: amount,
  stillHereKg: orNull(amount),
  processLossKg: orNull(amount),
  excessKg: orNull(amount),
  yieldPercent: orNull(amount),
});

export const gate = objectOf<Gate>({
  key: text,
  state: oneOf('met', 'unmet', 'unknown', 'not-required'),
  text,
  overrideReason: orNull(text),
});

export const release = objectOf<Release>({
  signedBy: text,
  role: text,
  signedAt: instant,
  recordedAt: instant,
  statement: text,
});

export const distribution = objectOf<Distribution>({
  occurredAt: instant,
  recipient: text,
  use: text,
  massKg: amount,
  basis: oneOf('scale', 'volume'),
  volumeL: orNull(amount),
  note: orNull(text),
});
