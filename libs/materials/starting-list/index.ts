import type { MaterialFigures } from '../figures.js';
import { animalAndOil } from './animal-and-oil.js';
import { garden } from './garden.js';
import { kitchen } from './kitchen.js';
import { manures } from './manures.js';
import { others } from './others.js';
import { paper } from './paper.js';
import { strawAndWood } from './straw-and-wood.js';

export { startingWasteCategories } from './waste-categories.js';

/**
 * Materials that a programme starts with; it may change or add to them. A typical value is used where the source prints
 * one, otherwise the midpoint of its range, and the source text says so. What no source was found for is null. Local
 * material differs: measure where it matters.
 */
export const startingMaterials: readonly MaterialFigures[] = [
  ...kitchen,
  ...animalAndOil,
  ...garden,
  ...strawAndWood,
  ...paper,
  ...manures,
  ...others,
];
