import type { TextStatus } from './record-monitoring.js';

/** The time after the hot phase, in local days. */
export interface Cure {
  status: 'not-started' | 'in-progress' | 'done';
  /** The start that counts: of the stage, or the last check that found the batch hot again. */
  startedAt: string | null;
  daysDone: number;
  daysRequired: number;
  doneAt: string | null;
  evidence: { from: string; to: string; kind: string; text: string }[];
  /** What the records do not show. */
  notes: string[];
}

/** A test taken of the batch, in figures or words. */
export interface Sample {
  occurredAt: string;
  kind: string;
  results: SampleResult[];
  /** What published tables say of them. They inform; `outcome` is the manager's reading. */
  findings: SampleFinding[];
  /** Where the figures contradict the outcome. */
  warnings: string[];
  finding: string | null;
  outcome: 'passed' | 'failed' | 'information';
  laboratory: string | null;
  /** The laboratory's number of its report. */
  reference: string | null;
  massKg: number;
  by: string;
}

/** A figure of the laboratory's report; its unit is part of it. */
export interface SampleResult {
  parameter: string;
  title: string;
  value: number;
  unit: string;
  /** "<" or ">" where the figure is only a bound. */
  qualifier: '<' | '>' | null;
  /** What the laboratory itself calls it. */
  laboratoryWord: string | null;
}

export interface SampleFinding {
  /** Of a figure; `ccqc-index` and `herbicide-bioassay` rest on several, and have no value. */
  parameter: string;
  value: number | null;
  unit: string | null;
  qualifier: '<' | '>' | null;
  scale: string;
  class: string | null;
  limit: string | null;
  state: 'met' | 'unmet' | 'classed' | 'unknown';
  source: string;
  textStatus: TextStatus;
  text: string;
}

export interface Screening {
  occurredAt: string;
  compostKg: number;
  compostVolumeL: number | null;
  oversKg: number;
  residueKg: number;
  residueWentTo: string | null;
  note: string | null;
  by: string;
}

/**
 * Inputs = outputs + still here + process loss (water and carbon gone as vapour and gas, and any unseen loss: the
 * only derived term). Where more came out than went in, `excessKg` says by how much and there is no loss to print.
 */
export interface Balance {
  inputs: BalanceInput[];
  inputKg: number;
  weighedKg: number;
  /** Weighed with a whole haul, and shared back to its lots. */
  sharedKg: number;
  estimatedKg: number;
  outputs: {
    kind: 'compost' | 'overs' | 'residue' | 'sample' | 'merged-on';
    label: string;
    massKg: number;
  }[];
  outputKg: number;
  /** Null while nobody has weighed or estimated what lies there. */
  stillHereKg: number | null;
  processLossKg: number | null;
  excessKg: number | null;
  /** Compost taken out so far as a share of all that went in, both as wet mass. */
  yieldPercent: number | null;
}

/** `estimatedKg` is the part of `massKg` that was on no scale. */
export interface BalanceInput {
  kind: 'drop-off' | 'amendment' | 'overs-in' | 'merged-in';
  label: string;
  massKg: number;
  estimatedKg: number;
}

/** One condition of release. `overrideReason` is set when a manager released in spite of it. */
export interface Gate {
  key: string;
  state: 'met' | 'unmet' | 'unknown' | 'not-required';
  text: string;
  overrideReason: string | null;
}

export interface Release {
  signedBy: string;
  role: string;
  signedAt: string;
  /** When the signature was typed in: one given on paper is older. */
  recordedAt: string;
  statement: string;
}

/** Finished compost that left. `recipient` is a kind of recipient, not a private name. */
export interface Distribution {
  occurredAt: string;
  recipient: string;
  use: string;
  massKg: number;
  basis: 'scale' | 'volume';
  volumeL: number | null;
  note: string | null;
}
