import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { splitByLargestRemainder } from '#libs/quantities';

const sumOf = (parts: readonly number[]): bigint => parts.reduce((sum, part) => sum + BigInt(part), 0n);
const weights = fc
  .array(fc.integer({ min: 0, max: Number.MAX_SAFE_INTEGER }), { minLength: 1, maxLength: 40 })
  .filter((list) => list.some((weight) => weight > 0));

describe('splitting by the largest remainder', () => {
  it('gives parts that sum to the whole and stay within one of their exact share', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: Number.MAX_SAFE_INTEGER }), weights, (total, list) => {
        const parts = splitByLargestRemainder(total, list);
        expect(sumOf(parts)).toBe(BigInt(total));
        const whole = sumOf(list);
        parts.forEach((part, index) => {
          const gap = BigInt(part) * whole - BigInt(total) * BigInt(list[index]!);
          expect(gap < whole && gap > -whole).toBe(true);
        });
      }),
    );
  });

  it('gives nothing to a weight of zero', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_000_000 }), weights, (total, list) => {
        const parts = splitByLargestRemainder(total, list);
        list.forEach((weight, index) => weight === 0 && expect(parts[index]).toBe(0));
      }),
    );
  });

  it('settles ties on the lower index', () => {
    expect(splitByLargestRemainder(10, [1, 1, 1])).toEqual([4, 3, 3]);
    expect(splitByLargestRemainder(11, [1, 1, 1])).toEqual([4, 4, 3]);
    expect(splitByLargestRemainder(1, [0, 5, 5])).toEqual([0, 1, 0]);
  });

  it('raises the largest remainder first', () => {
    // Exact shares 1.5, 2.25 and 6.25 of 10.
    expect(splitByLargestRemainder(10, [6, 9, 25])).toEqual([2, 2, 6]);
  });

  it('splits nothing over nobody, but not something', () => {
    expect(splitByLargestRemainder(0, [])).toEqual([]);
    expect(splitByLargestRemainder(0, [0, 0])).toEqual([0, 0]);
    expect(() => splitByLargestRemainder(1, [])).toThrow('all zero');
    expect(() => splitByLargestRemainder(1, [0, 0])).toThrow('all zero');
  });

  it('refuses amounts and weights that are not whole and zero or more', () => {
    for (const bad of [-1, 0.5, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53]) {
      expect(() => splitByLargestRemainder(bad, [1])).toThrow(RangeError);
      expect(() => splitByLargestRemainder(1, [1, bad])).toThrow(RangeError);
    }
  });
});
