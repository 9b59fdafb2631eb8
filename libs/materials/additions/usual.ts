import { startingMaterials } from '../starting-list/index.js';

/** What people and crews most often have to give away (common practice). */
const often = new Set([
  'leaves',
  'wood-chips',
  'straw-wheat',
  'grass-clippings',
  'coffee-grounds',
  'food-scraps',
]);

const listed = new Set(startingMaterials.map(({ code }) => code));

interface Gift {
  readonly materialCode: string;
  readonly massG: number;
}

/**
 * The order in which what would help is told: what donors often bring, then the rest of the starting list, then a programme's own
 * materials, of which there may be one load in the world; of each the least mass first.
 */
export function usualFirst(one: Gift, other: Gift): number {
  return rankOf(one) - rankOf(other) || one.massG - other.massG;
}

function rankOf({ materialCode }: Gift): number {
  if (often.has(materialCode)) return 0;
  return listed.has(materialCode) ? 1 : 2;
}
