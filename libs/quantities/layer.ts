import { type Area, exactMm2 } from './area.js';
import { type Exact, wholeOf } from './exact.js';
import { exactMm, type Length } from './length.js';
import { exactMl, type Volume } from './volume.js';

/** Two of the three make the third. */
export type LayerKnown =
  | { readonly area: Area; readonly depth: Length }
  | { readonly area: Area; readonly volume: Volume }
  | { readonly depth: Length; readonly volume: Volume };

/** Something spread out evenly: volume = area × depth. Depth is in micrometres, since a quarter inch is 6.35 mm. */
export interface Layer {
  readonly areaMm2: number;
  readonly depthUm: number;
  readonly volumeMl: number;
}

const MM3_IN_ML = 1000;
const UM_IN_MM = 1000;

/**
 * The third of area, depth and volume, from the exact decimals of the other two; each of the three is rounded half to even,
 * once. A layer of 1 in over 1 ft² is exactly 1/324 yd³. Throws RangeError when one is not above 0, or too large to be exact.
 */
export function layerOf(known: LayerKnown): Layer {
  const depth = 'depth' in known ? aboveNothing(exactMm(known.depth), 'depth') : null;
  const area = 'area' in known ? aboveNothing(exactMm2(known.area), 'area') : null;
  const volume = 'volume' in known ? aboveNothing(exactMl(known.volume), 'volume').times(MM3_IN_ML) : null;
  if (area && depth) return layer(area, depth, area.times(depth));
  if (area && volume) return layer(area, volume.dividedBy(area), volume);
  if (depth && volume) return layer(volume.dividedBy(depth), depth, volume);
  throw new RangeError('two of area, depth and volume are needed');
}

function layer(mm2: Exact, mm: Exact, mm3: Exact): Layer {
  return {
    areaMm2: wholeOf(mm2, 'area'),
    depthUm: wholeOf(mm.times(UM_IN_MM), 'depth'),
    volumeMl: wholeOf(mm3.dividedBy(MM3_IN_ML), 'volume'),
  };
}

function aboveNothing(amount: Exact, what: string): Exact {
  if (amount.isZero()) throw new RangeError(`${what} must be more than nothing`);
  return amount;
}
