import type { Entered } from './record-inputs.js';

export interface Reading {
  position: string;
  depthCm: number | null;
  temperatureC: number;
  /** Code of the thermometer. */
  instrument: string | null;
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
  note: string | null;
  warnings: string[];
  by: string;
}

/** What was done to the pile. A move is also a turn. */
export interface PileAction {
  occurredAt: string;
  kind: 'turn' | 'move' | 'watering' | 'aeration';
  volumeL: number | null;
  entered: Entered | null;
  toBay: string | null;
  note: string | null;
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

/** How sure the wording of a rule is: read in it, in a text that repeats it, in a page on it, or remembered. */
export const TEXT_STATUSES = ['verified', 'parallel', 'secondary', 'from-memory'] as const;
export type TextStatus = (typeof TEXT_STATUSES)[number];

/** What the rule's recorded criteria came to. It speaks of the rule's text, never of legality. */
export interface ProcessVerdict {
  rule: { code: string; title: string; citation: string; textStatus: TextStatus };
  /** How the time was counted: the rule's own word, or the reading chosen where its text leaves it open. */
  reading: 'consecutive' | 'cumulative';
  status: VerdictState;
  required: ProcessRequirement;
  creditedHours: number;
  creditedDays: number;
  turnsCredited: number;
  clockStartedAt: string | null;
  metAt: string | null;
  creditedSpans: { from: string; to: string }[];
  /** Every credited span, every gap, every reading that broke a run, in order of time. */
  evidence: { from: string; to: string; kind: string; text: string }[];
  /** Choices that shaped the verdict, and what it does not say. */
  notes: string[];
  /** For information: hours at or above each temperature. */
  hoursAbove: { temperatureC: number; hours: number }[];
  /** For information: how many holding times of the published equation the heat came to. */
  heatIntegral: { from: string; to: string; holdingTimes: number; citation: string } | null;
}

/** What the rule asks, as it was applied: one of `hours` and `days` is set. */
export interface ProcessRequirement {
  hours: number | null;
  days: number | null;
  turns: number;
  turnSpacingHours: number;
  thresholdC: number;
  upperLimitC: number | null;
  probes: number;
  depthCm: number | null;
  /** Readings further apart than this credit nothing between them; null for a rule of days. */
  longestGapHours: number | null;
}
