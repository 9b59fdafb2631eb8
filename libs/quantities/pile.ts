import { Exact, requireStored, wholeOf } from './exact.js';
import { exactMm, type Length } from './length.js';

export const pileShapes = [
  'bin',
  'triangular-windrow',
  'rounded-windrow',
  'flat-topped-windrow',
  'cone',
] as const;
export type PileShape = (typeof pileShapes)[number];

/** A pile as a tape found it. Of a cone either its width, which is the diameter at the ground, or the way around it. */
export type Pile =
  | {
      readonly shape: 'bin' | 'triangular-windrow' | 'rounded-windrow';
      readonly length: Length;
      readonly width: Length;
      readonly height: Length;
    }
  | {
      readonly shape: 'flat-topped-windrow';
      readonly length: Length;
      readonly width: Length;
      readonly topWidth: Length;
      readonly height: Length;
    }
  | { readonly shape: 'cone'; readonly width: Length; readonly height: Length }
  | { readonly shape: 'cone'; readonly circumference: Length; readonly height: Length };

/** Its sizes and what it holds. Length is null of a cone, the width at the top of all but a flat-topped windrow. */
export interface PileSize {
  readonly lengthMm: number | null;
  readonly widthMm: number;
  readonly topWidthMm: number | null;
  readonly heightMm: number;
  readonly volumeMl: number;
}

const PI = Exact.acos(-1);
const MM3_IN_ML = 1000;

/** Of the box around it, what a uniform pile holds: so many parts of so many. */
const partOf = {
  bin: [1, 1],
  'triangular-windrow': [1, 2],
  /** A segment of a parabola is two thirds of the rectangle around it (Archimedes). */
  'rounded-windrow': [2, 3],
} as const;

/**
 * Sizes and volume of a pile, each from the exact decimals that were typed and rounded half to even once. What is uniform
 * holds its end area times its length; a cone holds a third of its base times its height. Source: H. L. Brodie, "Determining
 * the amount of manure in a pile or a pool", Facts 176, University of Maryland, 1990 (end area times length); Alberta
 * Agriculture, Agdex 400/28-3, p. 124 (diameter = circumference ÷ π). Ends that slope off are not taken off. Throws
 * RangeError where a size comes to nothing or is too large to be exact, and where a top is wider than its base.
 */
export function pileSizeOf(pile: Pile): PileSize {
  const height = exactMm(pile.height);
  if (pile.shape === 'cone') {
    const width = 'width' in pile ? exactMm(pile.width) : exactMm(pile.circumference).dividedBy(PI);
    const volume = PI.times(width).times(width).times(height).dividedBy(12);
    return sizeOf({ width, height, volume });
  }
  const width = exactMm(pile.width);
  const length = exactMm(pile.length);
  if (pile.shape !== 'flat-topped-windrow') {
    const [part, of] = partOf[pile.shape];
    const volume = length.times(width).times(height).times(part).dividedBy(of);
    return sizeOf({ length, width, height, volume });
  }
  const topWidth = exactMm(pile.topWidth);
  if (topWidth.greaterThan(width)) throw new RangeError('the top must not be wider than the base');
  const volume = width.plus(topWidth).times(height).times(length).dividedBy(2);
  return sizeOf({ length, width, topWidth, height, volume });
}

/**
 * What a pile weighs by a bucket of its own that was filled and weighed: whole grams, rounded half to even once. Throws
 * RangeError unless the amounts are whole and the bucket held something.
 */
export function pileMassG(volumeMl: number, bucket: { contentG: number; volumeMl: number }): number {
  const contentG = requireStored(bucket.contentG, 'contentG');
  const bucketMl = requireStored(bucket.volumeMl, 'volumeMl');
  if (contentG === 0 || bucketMl === 0) throw new RangeError('the bucket must have held something');
  return wholeOf(new Exact(requireStored(volumeMl, 'volumeMl')).times(contentG).dividedBy(bucketMl), 'mass');
}

interface Millimetres {
  readonly length?: Exact;
  readonly width: Exact;
  readonly topWidth?: Exact;
  readonly height: Exact;
  /** Cubic. */
  readonly volume: Exact;
}

function sizeOf({ length, width, topWidth, height, volume }: Millimetres): PileSize {
  return {
    lengthMm: length ? above0(length, 'length') : null,
    widthMm: above0(width, 'width'),
    topWidthMm: topWidth ? wholeOf(topWidth, 'top width') : null,
    heightMm: above0(height, 'height'),
    volumeMl: above0(volume.dividedBy(MM3_IN_ML), 'volume'),
  };
}

function above0(exact: Exact, what: string): number {
  const whole = wholeOf(exact, what);
  if (whole === 0) throw new RangeError(`the ${what} must be more than nothing`);
  return whole;
}
