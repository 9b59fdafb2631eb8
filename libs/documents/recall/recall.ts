import type { Caution } from '../batch-record/record.js';

/** Where a drop-off, or a batch, went: whom to tell, and what to hold. Plain JSON; masses in kilograms to the gram. */
export interface RecallList {
  programme: string;
  /** The instant it was drawn up: a recall is of what was recorded by then. */
  asOf: string;
  subject: RecallSubject;
  /** What is in no batch; null of nothing, and of a batch. */
  waiting: RecallWaiting | null;
  batches: RecallBatch[];
  distributions: RecallDistribution[];
  assumptions: readonly string[];
  cautions: readonly Caution[];
}

export interface RecallSubject {
  /** "Hay of 2 Mar 2026 10:00" or "Batch MB-2026-004". */
  title: string;
  /** Of the place where it was dropped off or made. */
  timeZone: string;
  lines: readonly { label: string; value: string }[];
}

export interface RecallWaiting {
  kind: 'waiting' | 'on-the-road' | 'elsewhere';
  /** Where it waits, the yard that it is on the road to, or who composts it. */
  site: string;
  ofItKg: number;
}

export interface RecallBatch {
  code: string;
  site: string;
  stage: string;
  onHold: boolean;
  /** In words, how it came there: "overs of MB-2026-001, 30 kg". */
  ways: readonly string[];
  inputKg: number;
  ofItKg: number;
  sharePercent: number | null;
  compostLeftKg: number;
  oversLeftKg: number;
}

export interface RecallDistribution {
  /** As on the label: "MB-2026-004/3". */
  code: string;
  batchCode: string;
  site: string;
  timeZone: string;
  occurredAt: string;
  recipient: string;
  use: string;
  massKg: number;
  volumeL: number | null;
  ofItKg: number;
  sharePercent: number | null;
  note: string | null;
}
