import { requireStored } from './exact.js';

/**
 * Splits a whole amount in proportion to whole weights by the largest remainder, so that the parts always sum to the
 * amount. Ties go to the lower index; a weight of zero always gets zero. Sums may pass 2^53, hence BigInt inside.
 * Throws RangeError on a negative or fractional amount or weight, and when there is something to split but no weight.
 */
export function splitByLargestRemainder(total: number, weights: readonly number[]): number[] {
  const amount = BigInt(requireStored(total, 'total'));
  const shares = weights.map((weight) => BigInt(requireStored(weight, 'weight')));
  const sum = shares.reduce((running, share) => running + share, 0n);
  if (sum === 0n) {
    if (amount > 0n) throw new RangeError('cannot split an amount over weights that are all zero');
    return weights.map(() => 0);
  }
  const parts = shares.map((share, index) => ({
    index,
    floor: (amount * share) / sum,
    remainder: (amount * share) % sum,
  }));
  const left = Number(amount - parts.reduce((running, part) => running + part.floor, 0n));
  const byRemainder = parts.toSorted((a, b) =>
    a.remainder === b.remainder ? a.index - b.index : a.remainder > b.remainder ? -1 : 1,
  );
  const raised = new Set(byRemainder.slice(0, left).map((part) => part.index));
  return parts.map((part) => Number(part.floor) + (raised.has(part.index) ? 1 : 0));
}
