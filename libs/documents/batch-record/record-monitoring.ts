import type { Entered } from './record-inputs.js';

export interface Reading {
  position: string;
  /** The place of the pile it stands for; null where the position is a place of its own. */
  zone: string | null;
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
  /** Flies, rodents, leachate: null where nobody looked, empty where nothing was seen. */
  signs: string[] | null;
  texture: string | null;
  /** Whether what went in could still be recognised. */
  inputsVisible: boolean | null;
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

export const RULE_PURPOSES = ['pathogen-reduction', 'vector-attraction'] as const;
export type RulePurpose = (typeof RULE_PURPOSES)[number];

export interface RuleName {
  code: string;
  /** Null in a record of before rules had versions. */
  version: number | null;
  title: string;
  citation: string;
  textStatus: TextStatus;
  /** What of it is from memory though the rest was read. */
  fromMemory: string[];
}

/** What the rule's recorded criteria came to. It speaks of the rule's text, never of legality. */
export interface ProcessVerdict {
  rule: RuleName;
  /** Null in a record of before rules had one. */
  purpose: RulePurpose | null;
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
  /** The same, local day by local day: the column of hours adds up to `creditedHours`. Empty in an earlier record. */
  days: CreditedDay[];
  conditions: Condition[];
  /** What is doubtful about readings that were used. */
  cautions: InstrumentCaution[];
  /** Under the reading that was not chosen; null where the rule itself says how its time is read. */
  otherReading: OtherReading | null;
  /** Every credited span, every gap, every reading that broke a run, in order of time. */
  evidence: { from: string; to: string; kind: string; text: string }[];
  /** Choices that shaped the verdict, and what it does not say. */
  notes: string[];
  /** For information: hours at or above each temperature. */
  hoursAbove: { temperatureC: number; hours: number }[];
  /** For information: how many holding times of the published equation the heat came to. */
  heatIntegral: { from: string; to: string; holdingTimes: number; citation: string } | null;
}

/** The verdict under another rule that the permit names, with what it was reached from. */
export type FurtherVerdict = Omit<ProcessVerdict, 'creditedSpans' | 'hoursAbove' | 'heatIntegral'>;

export interface OtherReading {
  reading: ProcessVerdict['reading'];
  status: VerdictState;
  creditedHours: number;
  creditedDays: number;
  turnsCredited: number;
  metAt: string | null;
}

/** What a rule asks besides its time and turns, and whether it is shown. */
export interface Condition {
  key: string;
  state: 'met' | 'unmet' | 'unknown';
  text: string;
}

export interface InstrumentCaution {
  from: string;
  to: string;
  kind: string;
  instrument: string;
  text: string;
}

/** One local day of the batch. Hours are cut to the tenth, what is cut off going to the next day. */
export interface CreditedDay {
  day: string;
  checks: number;
  loggerReadings: number;
  /** How many of both had all that the rule asks of a check. */
  counted: number;
  /** The lowest temperature that governs, and the highest. */
  lowestC: number | null;
  highestC: number | null;
  /** The longest time between two that counted, of which some part lies in the day. */
  longestGapHours: number | null;
  creditedHours: number;
  /** Turns and moves, counted by the rule or not. */
  turns: number;
}

/** What a logger showed, hour by hour, over all its probes. */
export interface LoggerHours {
  logger: string;
  hours: { at: string; readings: number; lowestC: number; highestC: number }[];
}

export interface RequiredLevel {
  thresholdC: number;
  /** Above it, not at it. */
  strict: boolean;
}

/** What the rule asks, as it was applied: one of `hours` and `days` is set. */
export interface ProcessRequirement {
  hours: number | null;
  days: number | null;
  turns: number;
  turnSpacingHours: number;
  /** Unbroken, before a turn counts. */
  hotHoursBeforeTurn: number | null;
  thresholdC: number;
  thresholdStrict: boolean;
  upperLimitC: number | null;
  /** For part of the time it must be hotter still. */
  peak: (RequiredLevel & { hours: number }) | null;
  /** The mean over the time. */
  average: RequiredLevel | null;
  leastMoisturePercent: number | null;
  carbonToNitrogen: { least: number; most: number } | null;
  probes: number;
  /** Places of the pile that a check must cover. */
  zones: number;
  depthCm: number | null;
  /** Readings further apart than this credit nothing between them; null for a rule of days. */
  longestGapHours: number | null;
}
