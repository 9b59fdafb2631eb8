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
  /** Readings of loggers, beside the checks by hand. */
  readonly series?: readonly LoggerSeries[];
  readonly moistures?: readonly MoistureMeasure[];
  /** Of the mix as it was built; null or absent where it is not known. */
  readonly carbonToNitrogen?: number | null;
  /** What is doubtful about the readings, and which were set aside: the verdict says so. */
  readonly cautions?: readonly Caution[];
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
  /** The place of the pile it stands for; without it each position is a place of its own. */
  readonly zone?: string | null;
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

/** Water as it was measured, in percent of the whole mass. */
export interface MoistureMeasure {
  readonly occurredAtMs: number;
  readonly percent: number;
}

/**
 * What a logger shows, instant by instant and in order of time, already looked at as the rule looks at the probes of a
 * check. The columns are equally long; {@link seriesOf} makes them from readings.
 */
export interface LoggerSeries {
  /** As the evidence names it: "L-2". */
  readonly logger: string;
  readonly atMs: Float64Array;
  /** The governing temperature at the cold end; Infinity where no probe says anything. */
  readonly lowDeciC: Float64Array;
  /** The same at the hot end; -Infinity where no probe says anything. */
  readonly highDeciC: Float64Array;
  /** 1 where there are as many probes, as deep, in as many zones, as the rule asks, and none is implausible. */
  readonly enough: Uint8Array;
  /** Where it is not enough: what is lacking, as its place in {@link lacks}. */
  readonly lack: Uint8Array;
}

/**
 * Why a check cannot earn time, in the order in which it is asked: a probe that counts is hotter than boiling water,
 * too few probes in all, too few zones in all, too few of either once only probes of known, sufficient depth count.
 */
export const lacks = ['implausible', 'too-few-probes', 'too-few-zones', 'too-shallow'] as const;
export type Lack = (typeof lacks)[number];

export const cautionKinds = [
  'verification-overdue',
  'stuck',
  'drift',
  'disagreement',
  'implausible',
  'set-aside',
] as const;
export type CautionKind = (typeof cautionKinds)[number];

/** Readings that are used although something speaks against the instrument; or, set aside by the yard, are not used. */
export interface Caution {
  readonly kind: CautionKind;
  readonly fromMs: number;
  readonly toMs: number;
  /** As it is named at the yard: "T-1". */
  readonly instrument: string;
  /** A whole sentence, with local times. */
  readonly text: string;
}
