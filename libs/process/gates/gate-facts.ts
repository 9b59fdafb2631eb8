import type { CureVerdict, LastMerge } from '../cure/cure-facts.js';
import type { RuleMicrobes, SampleResult } from '../maturity/index.js';
import type { Verdict } from '../verdict.js';

/**
 * `unknown`: what was recorded does not say. It holds a release back just as `unmet` does; `not-required` does not.
 */
export const gateStates = ['met', 'unmet', 'unknown', 'not-required'] as const;
export type GateState = (typeof gateStates)[number];

/** One condition of release, with the figures and local dates it rests on, in a sentence. */
export interface Gate {
  readonly key: string;
  readonly title: string;
  readonly state: GateState;
  readonly text: string;
}

/** What of a permit bears on a release, as it was typed in. Days are local days, "2026-05-03". */
export interface GatePermit {
  readonly reference: string;
  readonly validFrom: string;
  /** The last day; null while open-ended. */
  readonly validTo: string | null;
  readonly processRule: string | null;
  readonly cureDays: number | null;
  readonly requiredSamples: readonly string[];
  readonly materials: readonly string[];
}

export const sampleOutcomes = ['passed', 'failed', 'information'] as const;
export type SampleOutcome = (typeof sampleOutcomes)[number];

export interface GateSample {
  readonly kind: string;
  readonly occurredAtMs: number;
  /** The manager's reading of it: it decides. */
  readonly outcome: SampleOutcome;
  /** Figures of the laboratory; empty where what was found is in words only. */
  readonly results: readonly SampleResult[];
}

/** What stops a batch until it is lifted, whatever else is met. */
export interface GateHold {
  readonly sinceMs: number;
  readonly reason: string;
}

/** What is known of a batch that is to be released. Voided records are not passed in. */
export interface GateFacts {
  readonly timeZone: string;
  /** The permit in force today or, where there is none, the last one known. It says what release asks. */
  readonly permit: GatePermit | null;
  /** The permit in force when the batch began. It says what may go in. */
  readonly foundingPermit: GatePermit | null;
  /** Null when no rule is named for the batch. */
  readonly process: Verdict | null;
  /** Under what the permit asks besides the process rule. */
  readonly furtherProcesses: readonly Verdict[];
  /** The tests of the product that go with any of these rules. */
  readonly microbes: readonly RuleMicrobes[];
  /** Null when the permit asks for no cure, or is not known. */
  readonly cure: CureVerdict | null;
  readonly samples: readonly GateSample[];
  /** When raw material last went in; null when none did. */
  readonly lastRawAtMs: number | null;
  /** The batch that was merged in last, whatever it had met; null or absent where none was. */
  readonly lastMerge?: LastMerge | null;
  /** Everything that went in. */
  readonly materials: readonly { readonly code: string; readonly name: string }[];
  readonly inputG: number;
  readonly outputG: number;
  /** Null while none stands. */
  readonly hold: GateHold | null;
}

export interface GateList {
  readonly gates: readonly Gate[];
  /** True when every gate is met or not required. */
  readonly releasable: boolean;
}
