import type { PracticeSource } from '../advice/index.js';
import type { Turn } from '../facts.js';
import type { GateSample } from '../gates/gate-facts.js';
import type { ObservedCheck } from '../observed.js';

/** What is known of a batch that may be ready. Lists may be in any order; voided records are not passed in. */
export interface ReadinessFacts {
  readonly timeZone: string;
  /** When the curing stage began; null while it has not. */
  readonly curingSinceMs: number | null;
  /** What the permit calls reheating; null takes the published 45 °C. */
  readonly reheatDeciC: number | null;
  readonly checks: readonly ObservedCheck[];
  readonly turns: readonly Turn[];
  readonly samples: readonly GateSample[];
  /** When raw material last went in: an older sample was of another mix. */
  readonly lastRawAtMs: number | null;
}

export const readinessStates = ['yes', 'no', 'not-known'] as const;
export type ReadinessState = (typeof readinessStates)[number];

/** One sign by itself: none outweighs another, and there is no score. */
export interface ReadinessFinding {
  /** `temperature`, `no-reheating`, `smell`, `texture`, `inputs`, `tests` or `test:` and the kind of sample. */
  readonly key: string;
  readonly title: string;
  readonly state: ReadinessState;
  readonly text: string;
  /** Who says that it is a sign; null for a test, which is read by the manager. */
  readonly source: PracticeSource | null;
}
