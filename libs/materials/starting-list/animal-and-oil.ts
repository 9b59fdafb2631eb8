import type { MaterialFigures } from '../figures.js';
import { ofKind, organic, point } from './figure.js';
import { dryFigures, type Foods, moistureOf, nitrogenOf } from './foods.js';
import { cornellSheet, energyStar } from './sources.js';

const walters = 'Walters, Physiology and Hygiene for Secondary Schools, Table I, beef: fat rib and round';
const beef: Foods = [
  { water: 48.1, nitrogen: nitrogenOf(15.4), ash: 0.9 },
  { water: 68.2, nitrogen: nitrogenOf(20.5), ash: 1.2 },
];
const MILK_PROTEIN = 6.38;
const milkAndCheese =
  'Whole milk of 3.5 % fat (FAO food composition tables, item 250) and Cheddar (University of Guelph, Table 1.2)';
const dairy: Foods = [
  { water: 87.3, nitrogen: nitrogenOf(3.5, MILK_PROTEIN), ash: 0.7 },
  { water: 36.7, nitrogen: nitrogenOf(24.9, MILK_PROTEIN), ash: 3.9 },
];
const shells = 'Composition of shell waste from egg breaking plants, eleven samples';

/** What draws animals, and what many permits leave out. */
export const animalAndOil: readonly MaterialFigures[] = [
  organic({
    code: 'meat-scraps',
    name: 'Meat scraps, without bones',
    class: 'nitrogen',
    traits: ['animal-product'],
    ...dryFigures(beef, `${walters}; protein ÷ 6.25`),
    ...moistureOf(beef, walters, 'verified'),
  }),
  organic({
    code: 'fish-scraps',
    name: 'Fish scraps',
    class: 'nitrogen',
    traits: ['animal-product'],
    nitrogenPercentDry: cornellSheet.point(10.6, 'fish wastes'),
    carbonPercentDry: cornellSheet.point(38.2, 'fish wastes'),
    carbonToNitrogen: point(3.6, 'C 38.2 % over N 10.6 %, of the figures beside it', 'derived'),
    moisturePercent: cornellSheet.point(76, 'fish wastes'),
  }),
  organic({
    code: 'dairy',
    name: 'Milk and cheese',
    class: 'nitrogen',
    traits: ['animal-product'],
    ...dryFigures(dairy, `${milkAndCheese}; protein ÷ 6.38`),
    ...moistureOf(dairy, milkAndCheese, 'verified'),
  }),
  organic({
    code: 'cooking-oil',
    name: 'Cooking oil and fat',
    class: 'carbon',
    traits: ['animal-product'],
    nitrogenPercentDry: point(0, 'Fat holds no nitrogen, by its formula', 'derived'),
    carbonPercentDry: point(77.3, 'Triolein, C₅₇H₁₀₄O₆, from the atomic masses', 'derived'),
    moisturePercent: point(0, 'Taken as free of water', 'derived'),
    bulkDensityKgM3: energyStar.point(899, 'fats, oils and grease, 7.5 lb/gal'),
    caution:
      'Only a little, soaked up in paper, sawdust or leaves: fat keeps air and water out (common practice).',
  }),
  ofKind('mineral', {
    code: 'egg-shells',
    name: 'Egg shells',
    class: 'neutral',
    ashPercentDry: point(91.1, shells, 'verified'),
    moisturePercent: point(29.1, `${shells}; household shells are drier`, 'verified'),
    caution:
      'Rinse and crush them: they last for years whole, and what clings to them draws animals (common practice).',
  }),
];
