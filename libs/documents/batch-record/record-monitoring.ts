import type { Entered } from './record-inputs.js';

export interface Reading {
  position: string;
  depthCm: number | null;
  temperatureC: number;
  entered: Entered | null;
}

/** One visit to the batch. */
export interface Check {
  id: string;
  occurredAt: string;
  readings: Reading[];
  /** The reading that governs under the rule (its coldest probe, unless the rule says mean). */
  governingC: number | null;
  /** False when the rule or permit could not count this check; `remark` says why. */
  counted: boolean;
  remark: string | null;
  moisture: string | null;
  moisturePercent: number | null;
  odour: string | null;
  oxygenPercent: number | null;
  ambientC: number | null;
  notes: string | null;
  by: string;
}

/** What was done to the pile. A move is also a turn. */
export interface PileAction {
  occurredAt: string;
  kind: 'turn' | 'move' | 'watering' | 'aeration';
  volumeL: number | null;
  entered: Entered | null;
  toBay: string | null;
  notes: string | null;
  by: string;
}

export const VERDICT_STATES = [
  'not-started',
  'in-progress',
  'met',
  'interrupted',
  'insufficient-data',
] as const;
export type VerdictState = (typeof VERDICT_STATES)[number];

/** What the rule's recorded criteria came to. It speaks of the rule's text, never of legality. */
export interface ProcessVerdict {
  rule: {
    code: string;
    title: string;
    citation: string;
    /** How sure the wording is, e.g. "read in the text of the rule", "from memory". */
    textStatus: string;
  };
  /** How the rule was read where its text leaves the question open. */
  reading: 'consecutive' | 'cumulative';
  status: VerdictState;
  thresholdC: number;
  requiredHours: number | null;
  requiredDays: number | null;
  requiredTurns: number;
  /** Readings further apart than this credit nothing between them. */
  longestGapHours: number;
  creditedHours: number;
  creditedDays: number;
  turnsCredited: number;
  clockStartedAt: string | null;
  metAt: string | null;
  creditedSpans: { from: string; to: string; hours: number }[];
  evidence: { from: string; to: string; kind: string; text: string }[];
  /** For information: hours at or above each temperature. */
  hoursAbove: { temperatureC: number; hours: number }[];
}
