/**
 * What is known of a batch. Instants are epoch milliseconds. Lists may be in any order. Records that were voided or
 * replaced by a correction are simply not passed in.
 */
export interface BatchFacts {
  /** IANA name of the site's time zone. */
  readonly timeZone: string;
  readonly rawAdditions: readonly RawAddition[];
  readonly checks: readonly Check[];
  readonly turns: readonly Turn[];
  /** Batches merged into this one. */
  readonly mergedFrom?: readonly MergedBatch[];
}

/** Raw material that went into the batch. */
export interface RawAddition {
  readonly occurredAtMs: number;
  readonly what: string;
}

/** One visit to the batch with a thermometer. */
export interface Check {
  readonly id: string;
  readonly occurredAtMs: number;
  readonly readings: readonly ProbeReading[];
}

export interface ProbeReading {
  readonly position: string;
  /** Null when nobody wrote it down. */
  readonly depthMm: number | null;
  readonly temperatureDeciC: number;
}

/** A move from bay to bay also turns the material. */
export interface Turn {
  readonly occurredAtMs: number;
  readonly kind: 'turn' | 'move';
}

/** A batch that was merged in, and when it had met the very rule asked about (null: it had not). */
export interface MergedBatch {
  readonly code: string;
  readonly occurredAtMs: number;
  readonly metAtMs: number | null;
}
