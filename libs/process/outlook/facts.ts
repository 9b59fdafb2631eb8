import type { BatchStage } from '../advice/index.js';
import type { CureVerdict } from '../cure/cure-facts.js';
import type { Turn } from '../facts.js';
import type { Gate, GateSample } from '../gates/gate-facts.js';
import type { Verdict } from '../verdict.js';

/** What is known of a batch on its way to release, all of it as of the same instant. */
export interface OutlookFacts {
  readonly timeZone: string;
  readonly stage: BatchStage;
  readonly gates: readonly Gate[];
  /** The verdict behind each gate of a process rule. */
  readonly processes: readonly { readonly gate: string; readonly verdict: Verdict }[];
  readonly turns: readonly Turn[];
  /** Null where the permit asks for none. */
  readonly cure: CureVerdict | null;
  /** The last time anybody, or a logger, read its temperature; null before the first. */
  readonly lastLookedAtMs: number | null;
  readonly samples: readonly GateSample[];
}

/** An interval of time with what it rests on. */
export interface Expected {
  /** Null where waiting does not bring it about. */
  readonly earliestMs: number | null;
  /** Null where it is open: no limit can be told. */
  readonly latestMs: number | null;
  /** In sentences, with local times. */
  readonly assumptions: readonly string[];
}

/** When a gate that is not met yet can be shown to be. */
export interface GateOutlook extends Expected {
  readonly gate: string;
  readonly title: string;
}

/** When everything can be. It is no promise, and no gate uses it. */
export interface Outlook {
  /** The gates that are still to be met. */
  readonly gates: readonly GateOutlook[];
  /** When the last of them can be; now where none is left. Null while the batch is built, and where nothing was named. */
  readonly earliestMs: number | null;
  readonly latestMs: number | null;
  readonly notes: readonly string[];
}
