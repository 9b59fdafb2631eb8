import { splitByLargestRemainder, sumG } from '#libs/quantities';
import type { EntryBasis } from '../basis.js';

/** A lot as it left the hub: weighed by itself, or estimated from its volume. */
export interface HauledLot {
  readonly id: string;
  readonly basis: EntryBasis;
  readonly acceptedG: number;
}

export interface HaulShares {
  /** What weighed lots leave of the weight; not above nothing where it cannot be shared. */
  readonly restG: number;
  /** Grams of every lot that has a share, by its id; null where nothing is left for them. */
  readonly sharesG: ReadonlyMap<string, number> | null;
}

/**
 * Shares the weight of a haul among its lots that were only estimated: what is left after the lots that were weighed, in
 * proportion to the estimates, by the largest remainder, so that weighed lots and shares make the weight to the gram.
 * Weighed lots stand; where all are weighed there is nothing to share, and what differs is told by `haulDifferences`. Lots of
 * which nothing is left take no part. Ties go to the lot that is named first. Throws RangeError unless masses are whole grams.
 */
export function shareHaul(inG: number, lots: readonly HauledLot[]): HaulShares {
  const weighed = lots.filter(({ basis }) => basis === 'scale');
  const estimated = lots.filter(({ basis, acceptedG }) => basis === 'volume' && acceptedG > 0);
  const restG = inG - sumG(weighed.map(({ acceptedG }) => acceptedG));
  if (estimated.length === 0) return { restG, sharesG: new Map() };
  if (restG <= 0) return { restG, sharesG: null };
  const shares = splitByLargestRemainder(
    restG,
    estimated.map(({ acceptedG }) => acceptedG),
  );
  return { restG, sharesG: new Map(estimated.map(({ id }, index) => [id, shares[index] ?? 0])) };
}
