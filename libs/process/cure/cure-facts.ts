import type { Check, LoggerSeries, Turn } from '../facts.js';
import type { Span } from '../verdict.js';

export interface LastMerge {
  readonly code: string;
  readonly atMs: number;
}

export interface CureFacts {
  /** What the permit (or the site) asks, in local days. */
  readonly cureDays: number;
  /** When the curing stage began, by the manager's word; null while it has not. */
  readonly startedAtMs: number | null;
  /** The batch that was merged in last; null or absent where none was. What came in then has not cured here. */
  readonly lastMerge?: LastMerge | null;
  readonly checks: readonly Check[];
  /** Turns and moves of the batch, those from before the cure as well. */
  readonly turns: readonly Turn[];
  /** Readings of loggers, beside the checks by hand. */
  readonly series?: readonly LoggerSeries[];
  /** A probe at or above this while curing starts the count anew; null where neither permit nor rule names one. */
  readonly reheatDeciC: number | null;
  /** The code of the process rule whose threshold that is, where the permit itself names no level. */
  readonly reheatRule?: string | null;
}

/**
 * What the records show of turning, since the batch was last found at or above the reheat level:
 * - `stayed-under`: turned, and still under the level three days or more after it.
 * - `too-soon`: turned, and checked within three days of it only.
 * - `not-checked`: turned, and not checked since.
 * - `not-turned`: no turn is recorded.
 * - `not-asked`: neither permit nor rule names a level, or the cure has not begun.
 */
export const afterTurnStates = [
  'stayed-under',
  'too-soon',
  'not-checked',
  'not-turned',
  'not-asked',
] as const;
export type AfterTurn = (typeof afterTurnStates)[number];

export const cureEvidenceKinds = [
  'cure-started',
  'merged-in',
  'still-hot',
  'reheated',
  'turned',
  'watched',
  'cure-done',
] as const;

export interface CureEvidence extends Span {
  readonly kind: (typeof cureEvidenceKinds)[number];
  readonly text: string;
  /** For `still-hot` and `reheated`, the hottest of its checks; null where a logger showed it. */
  readonly checkId: string | null;
}

export interface CureVerdict {
  readonly status: 'not-started' | 'in-progress' | 'done';
  /** The start that counts: of the stage, of the last merge after it, or the last time that the batch was found hot. */
  readonly startedAtMs: number | null;
  /** Whole local days since then, at most those required. */
  readonly daysDone: number;
  readonly daysRequired: number;
  readonly doneAtMs: number | null;
  /** A sign, no condition: the permit asks for days and a temperature, so it is told and holds nothing back. */
  readonly afterTurn: AfterTurn;
  /** In order of time. */
  readonly evidence: readonly CureEvidence[];
  /** What the records do not show, in sentences. */
  readonly notes: readonly string[];
}
