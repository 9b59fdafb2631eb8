import type { Check } from './facts.js';

export const moistureWords = ['dry', 'moist', 'wet'] as const;
export type MoistureWord = (typeof moistureWords)[number];

export const odours = ['earthy', 'ammonia', 'sour', 'rotten', 'none'] as const;
export type Odour = (typeof odours)[number];

/** What should not be about a pile, and is looked for at a check. */
export const signs = ['flies', 'rodents', 'leachate'] as const;
export type Sign = (typeof signs)[number];

/** How the material feels and falls in the hand. */
export const textures = ['crumbly', 'clumpy', 'slimy'] as const;
export type Texture = (typeof textures)[number];

/** A check with everything that hand, nose and eye found beside the probes. Null is what nobody wrote down. */
export interface ObservedCheck extends Check {
  /** What read it, where it was no check: nobody was there. */
  readonly logger?: string;
  /** By the hand. */
  readonly moisture: MoistureWord | null;
  /** As measured, percent of the whole mass. */
  readonly moisturePercent: number | null;
  readonly odour: Odour | null;
  readonly oxygenPercent: number | null;
  /** Of the air. */
  readonly ambientDeciC: number | null;
  /** Empty where somebody looked and saw none. */
  readonly signs: readonly Sign[] | null;
  readonly texture: Texture | null;
  /** Whether what went in can still be recognised. */
  readonly inputsVisible: boolean | null;
}
