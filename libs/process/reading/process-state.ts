import type { BatchFacts, Caution } from '../facts.js';
import type { Ahead } from './looks.js';
import { newPeriod, type Period } from './period.js';
import type { ProcessRule, RuleReading } from '../rule.js';
import type { Evidence } from '../verdict.js';

/** What is known of a batch, besides where it stands. */
export type RecordedFacts = Omit<BatchFacts, 'timeZone'>;

/** Material that has not met the rule went in: from here the batch has to start again. */
export interface Addition {
  readonly atMs: number;
  readonly what: readonly string[];
  /** What it cost, where there was something to lose. */
  readonly cost: Evidence | null;
}

/** A batch that had met the rule was merged in. */
export interface Inheritance {
  readonly atMs: number;
  readonly code: string;
  readonly metAtMs: number;
}

/**
 * A batch's records as far as they were read, as one rule looks at them. Plain data that survives JSON; it holds what was
 * found, never the readings, so it grows with what happened and not with how often somebody looked.
 */
export interface ProcessState {
  readonly rule: ProcessRule;
  readonly timeZone: string;
  readonly reading: RuleReading;
  /** Null before anything was read. */
  readThroughMs: number | null;
  /** What the last reading left out, being later. */
  ahead: Ahead | null;
  carbonToNitrogen: number | null;
  cautions: readonly Caution[];
  inherited: Inheritance[];
  /** What the additions before the last one cost. */
  told: Evidence[];
  /** The last one. */
  addition: Addition | null;
  /** What was recorded before it. */
  earlier: { checks: number; readings: number; turns: number };
  period: Period;
}

export function newState(rule: ProcessRule, timeZone: string, reading: RuleReading): ProcessState {
  return {
    ...{ rule, timeZone, reading, readThroughMs: null, ahead: null, carbonToNitrogen: null, cautions: [] },
    ...{ inherited: [], told: [], addition: null, earlier: { checks: 0, readings: 0, turns: 0 } },
    period: newPeriod(null),
  };
}
