import { shareOf } from '../basis.js';

/** What is known of the mass of a haul, each figure by itself. */
export interface HaulWeighings {
  /** Net, as weighed at the hub and at the yard; null where it was not. */
  readonly outG: number | null;
  readonly inG: number | null;
  /** Lots that were weighed by themselves, as they travelled. */
  readonly weighedG: number;
  readonly weighedLots: number;
  /** Lots that had their mass of the weight at the yard. */
  readonly sharedG: number;
  readonly sharedLots: number;
  /** Lots of which there is but an estimate, which nothing can be held against. */
  readonly estimatedLots: number;
}

/** By how much the later figure is above (or, negative, below) the earlier one. */
export interface HaulDifference {
  readonly massG: number;
  /** Of the earlier figure; null where that is nothing. */
  readonly percent: number | null;
  /** Within what the rounding of each figure to grams explains. */
  readonly isRounding: boolean;
}

export interface HaulDifferences {
  /** At the yard against at the hub. */
  readonly road: HaulDifference | null;
  /** The last weighing of the whole against the sum of the lots. */
  readonly lots: HaulDifference | null;
}

export const haulDifferenceStates = ['none', 'explained', 'open', 'unknown'] as const;
/** `unknown`: the haul was weighed once or not at all, and there is nothing to hold that against. */
export type HaulDifferenceState = (typeof haulDifferenceStates)[number];

/**
 * How the figures of a haul differ; null where there are not two to compare. Shares were worked out of the weight at the
 * yard, so that their agreeing with it says nothing; that they do not (a weighed lot was corrected since) does.
 */
export function haulDifferences(haul: HaulWeighings): HaulDifferences {
  const { outG, inG, weighedLots, sharedLots, estimatedLots } = haul;
  const lotsG = haul.weighedG + haul.sharedG;
  const wholeG = inG ?? outG;
  const lots = wholeG === null || estimatedLots > 0 ? null : difference(wholeG, lotsG, weighedLots + 1);
  return {
    road: outG === null || inG === null ? null : difference(inG, outG, 2),
    lots: sharedLots > 0 && lots?.massG === 0 ? null : lots,
  };
}

/** Each rounded figure is off by half a gram at the most. */
function difference(laterG: number, earlierG: number, roundedFigures: number): HaulDifference {
  const massG = laterG - earlierG;
  const share = shareOf(massG, earlierG);
  return {
    massG,
    percent: share === null ? null : share * 100,
    isRounding: Math.abs(massG) * 2 <= roundedFigures,
  };
}

/** What is to be done about it: nothing, or somebody has to find out why. */
export function haulDifferenceState(
  { road, lots }: HaulDifferences,
  explained: boolean,
): HaulDifferenceState {
  const told = [road, lots].filter((one) => one !== null);
  if (told.length === 0) return 'unknown';
  if (told.every(({ isRounding }) => isRounding)) return 'none';
  return explained ? 'explained' : 'open';
}
