import type { Hold, Merge, PileMeasurement } from './record-accounts.js';
import type { AcceptedMaterial, Amendment, Entered, MaterialOrigin, PulledReject } from './record-inputs.js';
import type { MixFigure, MixFigures } from './record-mix.js';
import type { Check, FurtherVerdict, LoggerHours, PileAction, ProcessVerdict } from './record-monitoring.js';
import type { Balance, Cure, Distribution, Gate, Release, Sample, Screening } from './record-release.js';

export const BATCH_RECORD_SCHEMA = 'heapwright/batch-record/4';

export const BATCH_STAGES = [
  'building',
  'active',
  'curing',
  'released',
  'emptied',
  'condemned',
  'merged',
] as const;
export type BatchStage = (typeof BATCH_STAGES)[number];

export const BATCH_METHODS = ['turned-windrow', 'turned-bins', 'static-aerated', 'in-vessel'] as const;
export type BatchMethod = (typeof BATCH_METHODS)[number];

/**
 * The whole record of one batch: what `record.json` holds, and all that `record.pdf` prints.
 *
 * Plain JSON only: strings, finite numbers, booleans, null, arrays, objects. What is not known is null, never
 * left out. Times are RFC 3339 with an offset. Quantities are metric, with the unit in the name; every figure
 * is already rounded as it is to be read, since the PDF prints these digits and computes nothing. People
 * appear as the role or initials that the programme chose to print.
 */
export interface BatchRecord {
  schema: typeof BATCH_RECORD_SCHEMA;
  /** `draft` until a manager has signed the release; a draft is never sealed. */
  status: 'draft' | 'signed';
  /**
   * The instant the record speaks of: the signature, or the latest event recorded if that is later. Never the
   * moment of printing, or the same data would not give the same bytes.
   */
  asOf: string;
  /** 1 for the first; a later version names the one it amends. */
  version: number;
  amends: AmendedVersion | null;
  programme: { name: string };
  site: { code: string; name: string; timeZone: string };
  jurisdictions: Jurisdiction[];
  permit: Permit | null;
  batch: {
    code: string;
    bay: string | null;
    method: BatchMethod;
    stage: BatchStage;
    stages: { stage: BatchStage; enteredAt: string; reason: string | null }[];
  };
  intake: {
    /** How many drop-offs have mass in this batch, whole or in part. */
    dropOffs: number;
    firstAt: string | null;
    lastAt: string | null;
    /** Weighed + shared + estimated, after pulled rejects were taken off. */
    acceptedKg: number;
    weighedKg: number;
    /** Weighed with a whole haul, and shared back to its lots by their volume. */
    sharedKg: number;
    estimatedKg: number;
    materials: AcceptedMaterial[];
    origins: MaterialOrigin[];
    amendments: Amendment[];
    rejects: PulledReject[];
    /** Pulled from drop-offs before they were accepted; not part of acceptedKg. */
    pulledKg: number;
    /** Pulled later, out of the batch itself. */
    residueKg: number;
  };
  /** Batches that were put into this one, and the one that it was put into; in order of time. */
  merges: Merge[];
  mix: MixFigures | null;
  checks: Check[];
  /** For the eye; every reading is in the database. */
  loggers: LoggerHours[];
  actions: PileAction[];
  verdict: ProcessVerdict | null;
  /** Under the rules that the permit asks for besides. */
  furtherVerdicts: FurtherVerdict[];
  /** Null when neither permit nor programme asks for a cure. */
  cure: Cure | null;
  samples: Sample[];
  screenings: Screening[];
  /** In order of time. */
  piles: PileMeasurement[];
  balance: Balance | null;
  holds: Hold[];
  gates: Gate[];
  release: Release | null;
  distributions: Distribution[];
  cautions: Caution[];
  /** That the permit and the local authority govern. */
  deference: string;
  /** How the figures were made, and every factor used. */
  methods: Method[];
}

export interface AmendedVersion {
  version: number;
  seal: string;
  differences: string[];
}

/** Where material came from, as reported. */
export interface Jurisdiction {
  name: string;
  lots: number;
  acceptedKg: number;
}

/** What the local authority allows, as typed in from the permit. */
export interface Permit {
  reference: string;
  validFrom: string;
  validTo: string | null;
  processRule: string | null;
  /** Where the rule's text leaves it open. */
  processReading: 'consecutive' | 'cumulative' | null;
  /** Codes of rules that a batch must meet besides. */
  furtherRules: string[];
  minimumProbes: number | null;
  longestGapHours: number | null;
  cureDays: number | null;
  /** A probe at or above this while curing starts the cure anew. */
  cureReheatC: number | null;
  requiredSamples: string[];
  /** Their names; of records before there were names, codes. */
  materials: string[];
  /** Between what the figures of a mix are to lie. */
  mixTargets: { figure: MixFigure; min: number | null; max: number | null }[];
  storedVolumeMaxL: number | null;
  yearlyMassMaxKg: number | null;
}

export interface Caution {
  topic: string;
  text: string;
  /** A document, or "common practice". */
  source: string;
}

export interface Method {
  title: string;
  text: string;
  source: string;
}

export type {
  AcceptedMaterial,
  Amendment,
  Balance,
  Check,
  Cure,
  Distribution,
  Entered,
  FurtherVerdict,
  Gate,
  Hold,
  LoggerHours,
  MaterialOrigin,
  Merge,
  MixFigures,
  PileAction,
  PileMeasurement,
  ProcessVerdict,
  PulledReject,
  Release,
  Sample,
  Screening,
};
