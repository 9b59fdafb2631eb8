export interface Cure {
  requiredDays: number | null;
  curedDays: number;
  startedAt: string | null;
  endedAt: string | null;
  state: 'not-started' | 'in-progress' | 'met' | 'not-required';
  text: string;
}

/** A test of the batch. `limit` is printed beside the value as the rule or permit words it. */
export interface Sample {
  takenAt: string;
  kind: string;
  laboratory: string | null;
  document: string | null;
  results: {
    measure: string;
    value: number | string;
    unit: string | null;
    limit: string | null;
    state: 'met' | 'unmet' | 'unknown' | 'for-information';
  }[];
  by: string;
}

export interface Screening {
  occurredAt: string;
  screenMm: number | null;
  compostKg: number;
  oversKg: number;
  residueKg: number;
  by: string;
}

/**
 * Inputs = outputs + still here + process loss. Process loss (water and carbon that left as vapour and gas) is
 * the only derived term.
 */
export interface Balance {
  inputs: BalanceLine[];
  inputKg: number;
  outputs: BalanceLine[];
  outputKg: number;
  stillHereKg: number;
  processLossKg: number;
  /** Finished compost as a share of all that went in; null before screening. */
  yieldPercent: number | null;
}

/** `estimatedKg` is the part of `massKg` that was not weighed. */
export interface BalanceLine {
  name: string;
  massKg: number;
  estimatedKg: number;
}

/** One condition of release. `overrideReason` is set when a manager released in spite of it. */
export interface Gate {
  key: string;
  title: string;
  state: 'met' | 'unmet' | 'unknown' | 'not-required';
  text: string;
  overrideReason: string | null;
}

export interface Release {
  signedBy: string;
  role: string;
  signedAt: string;
  statement: string;
  /** How the signature was given, e.g. "password entered again". */
  method: string;
}

/** Finished compost that left. `to` is a kind of recipient, not a private name. */
export interface Distribution {
  occurredAt: string;
  to: string;
  use: string;
  massKg: number;
  basis: 'scale' | 'volume';
  volumeL: number | null;
}
