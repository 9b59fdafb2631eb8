import type { BatchFacts, Caution } from '../facts.js';
import type { ObservedCheck } from '../observed.js';
import type { BatchMethod } from '../rule.js';
import type { PracticeSource } from './sources.js';

export type BatchStage = 'building' | 'active' | 'curing' | 'released' | 'emptied' | 'condemned' | 'merged';

/** What is known of a batch that somebody asks advice on. Lists may be in any order; voided records are not passed in. */
export interface AdviceFacts extends Pick<BatchFacts, 'timeZone' | 'rawAdditions' | 'turns'> {
  readonly stage: BatchStage;
  /** When it entered the stage. */
  readonly stageSinceMs: number;
  readonly method: BatchMethod;
  readonly checks: readonly ObservedCheck[];
  readonly waterings: readonly { readonly occurredAtMs: number; readonly volumeMl: number | null }[];
  /** What loggers showed of a heat that is no composting: a broken probe, or a fire. */
  readonly alarms?: readonly Caution[];
  /** As it was built; a figure that is not known well is null. */
  readonly mix: AdviceMix | null;
}

/** What is asked of one figure of the mix while it is built, and how the mix stands to it. */
export interface MixAsked {
  /** As it is spoken of: "moisture". */
  readonly name: string;
  /** As it follows a figure, with its space: " %"; empty where there is none. */
  readonly unit: string;
  /** Not both null. */
  readonly min: number | null;
  readonly max: number | null;
  /** By the typical figures of the materials, rounded; null where it is not known. */
  readonly value: number | null;
  /** Of the value before it was rounded. */
  readonly standing: 'within' | 'below' | 'above' | 'unknown';
  readonly source: PracticeSource;
}

export interface AdviceMix {
  readonly massG: number;
  readonly volumeMl: number | null;
  readonly carbonToNitrogen: number | null;
  readonly moisturePercent: number | null;
  readonly bulkDensityKgM3: number | null;
  /** One a figure that something is asked of. */
  readonly asked: readonly MixAsked[];
}
