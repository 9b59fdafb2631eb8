import type { AdviceKey } from './guide.js';
import type { PracticeSource } from './sources.js';

/** `now`: before anything else today. `soon`: within a day or two. `watch`: at the next check. */
export const urgencies = ['now', 'soon', 'watch'] as const;
export type Urgency = (typeof urgencies)[number];

/** Something that was found in the records, before causes and remedies are looked up. */
export interface Finding {
  readonly key: AdviceKey;
  readonly urgency: Urgency;
  /** Sentences with figures and local times. */
  readonly seen: readonly string[];
  /** What it is judged by, in a sentence. */
  readonly because: string;
  readonly source: PracticeSource;
}
