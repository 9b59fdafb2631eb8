import type { MaterialFigures } from '../figures.js';
import { kitchenAndGarden } from './kitchen-and-garden.js';
import { manures, others } from './manures-and-others.js';
import { strawWoodPaper } from './straw-wood-paper.js';

/**
 * Materials that a programme starts with; it may change or add to them. A typical value is used where the source prints
 * one, otherwise the midpoint of its range, and the source text says so. Local material differs: measure where it matters.
 */
export const startingMaterials: readonly MaterialFigures[] = [
  ...kitchenAndGarden,
  ...strawWoodPaper,
  ...manures,
  ...others,
];
