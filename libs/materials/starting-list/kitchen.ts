import type { MaterialFigures } from '../figures.js';
import { midpoint, organic, point, ranged } from './figure.js';
import { dryFigures, type Foods, moistureOf, nitrogenOf } from './foods.js';
import { energyStar, golueke, nraes } from './sources.js';

const zhang = 'Zhang et al. (2007), Bioresource Technology 98, food waste of San Francisco';
const hamoda = 'Hamoda (2017), fruit and vegetables discarded by 31 supermarkets';
const fruitRange = 'NRAES-54, Appendix A, from memory, fruit wastes';
const citrusPeel =
  'USDA SR28, orange peel (09216) and lemon peel (09156), raw, as a third-party page prints them';
const peels: Foods = [
  { water: 72.5, nitrogen: nitrogenOf(1.5), ash: 0.8 },
  { water: 81.6, nitrogen: nitrogenOf(1.5), ash: 0.6 },
];
const raw = (food: string) => `USDA figures of raw ${food}, as a third-party page prints them`;
const onion: Foods = [{ water: 89.11, nitrogen: nitrogenOf(1.1), ash: 0.35 }];
const garlic: Foods = [{ water: 58.58, nitrogen: nitrogenOf(6.36), ash: 1.5 }];
const breadChart =
  'USDA Office of Experiment Stations (C. F. Langworthy), Chart 7, white and whole wheat bread';
const breads: Foods = [
  { water: 35.3, nitrogen: nitrogenOf(9.2), ash: 1.1 },
  { water: 38.4, nitrogen: nitrogenOf(9.7), ash: 1.3 },
];
const teaTable =
  'Asian-Australasian Journal of Animal Sciences 27(7) (2014), Table 1, green and black tea by-product';
const teaSource = `Protein: tea waste (dairyknowledge.in) and ${teaTable}; ash: unbrewed tea (Ramdani et al.)`;
const teas: Foods = [
  { water: 0, nitrogen: nitrogenOf(17.94), ash: 6.18 },
  { water: 0, nitrogen: nitrogenOf(29.2), ash: 6.14 },
];
const grainSource =
  "Brewer's grain of a feed merchant (redrockcorp.com.au) and of a brewery (scilit.net, 48 samples)";
const grainAsh = 5;
const grains: Foods = [
  { water: 0, nitrogen: nitrogenOf(22.5), ash: grainAsh },
  { water: 0, nitrogen: nitrogenOf(34), ash: grainAsh },
];

export const kitchen: readonly MaterialFigures[] = [
  organic({
    code: 'food-scraps',
    name: 'Food scraps, mixed',
    class: 'nitrogen',
    nitrogenPercentDry: nraes.ranged(2.4, 1.9, 2.9, 'food waste'),
    carbonToNitrogen: nraes.ranged(15, 14, 16, 'food waste'),
    ashPercentDry: midpoint(13, 17, `100 less volatile solids of 83 and 87 %, ${zhang}`, 'derived'),
    moisturePercent: ranged(
      70,
      70,
      74,
      `${zhang}; averages, 70 by day over a week and 74 by week: single loads differ more`,
      'verified',
    ),
    bulkDensityKgM3: energyStar.ranged(
      455,
      235,
      892,
      'food, 3.8 lb/gal; published from 396 lb/yd³ (there too) to 1,504 (MassDEP compost site report)',
    ),
    caution:
      'Published densities of food scraps run from 396 to 1,504 lb/yd³ (235 to 892 kg/m³): a mass taken by volume is a rough estimate. Weigh where you can.',
  }),
  organic({
    code: 'vegetable-scraps',
    name: 'Vegetable scraps',
    class: 'nitrogen',
    nitrogenPercentDry: golueke.midpoint(2.5, 4, 'non-legume vegetable waste'),
    carbonToNitrogen: golueke.midpoint(11, 12, 'non-legume vegetable waste'),
    moisturePercent: point(85, hamoda, 'verified'),
    bulkDensityKgM3: point(650, hamoda, 'verified'),
  }),
  organic({
    code: 'fruit-scraps',
    name: 'Fruit scraps',
    class: 'nitrogen',
    nitrogenPercentDry: ranged(1.9, 0.9, 2.6, `${hamoda}; range: ${fruitRange}`, 'from-memory'),
    carbonPercentDry: point(42.1, hamoda, 'verified'),
    carbonToNitrogen: ranged(22.2, 20, 49, `C 42.1 % over N 1.9 %; range: ${fruitRange}`, 'from-memory'),
    moisturePercent: ranged(85, 62, 88, `${hamoda}; range: ${fruitRange}`, 'from-memory'),
    bulkDensityKgM3: point(650, hamoda, 'verified'),
  }),
  organic({
    code: 'citrus-peel',
    name: 'Citrus peel and pulp',
    class: 'carbon',
    traits: ['citrus'],
    ...dryFigures(peels, `${citrusPeel}; protein ÷ 6.25`),
    moisturePercent: ranged(
      77.3,
      72.5,
      81.6,
      `BioResources 17(1) (2022), citrus peels; range: ${citrusPeel}`,
      'mirror',
    ),
  }),
  organic({
    code: 'onions',
    name: 'Onions and leeks',
    class: 'carbon',
    traits: ['allium'],
    ...dryFigures(onion, `${raw('onion')}; protein ÷ 6.25`),
    ...moistureOf(onion, raw('onion'), 'secondary'),
  }),
  organic({
    code: 'garlic',
    name: 'Garlic',
    class: 'nitrogen',
    traits: ['allium'],
    ...dryFigures(garlic, `${raw('garlic')}; protein ÷ 6.25`),
    ...moistureOf(garlic, raw('garlic'), 'secondary'),
  }),
  organic({
    code: 'coffee-grounds',
    name: 'Coffee grounds',
    class: 'nitrogen',
    nitrogenPercentDry: point(2.3, 'Cruz et al. (2012), 50 samples of spent espresso grounds', 'verified'),
    carbonToNitrogen: ranged(
      20,
      12,
      20,
      'Oregon State University Extension, on a third-party copy, "about 20 to 1"; Solomon, Organic Gardener\'s Composting, prints 12',
      'mirror',
    ),
    moisturePercent: midpoint(
      66.7,
      71.4,
      '2 to 2.5 g of water are held by 1 g of coffee in a filter (Barista Hustle, "Beverage Weight"), what dissolves not deducted; pressed or aired ones are drier',
      'derived',
    ),
    caution: 'Packs tight and keeps air out: mix it in well, in thin layers (common practice).',
  }),
  organic({
    code: 'tea-leaves',
    name: 'Tea leaves, spent',
    class: 'nitrogen',
    ...dryFigures(teas, `${teaSource}; protein ÷ 6.25`),
    moisturePercent: midpoint(80.4, 81.7, teaTable, 'verified'),
  }),
  organic({
    code: 'bread',
    name: 'Bread and bakery waste',
    class: 'nitrogen',
    ...dryFigures(breads, `${breadChart}; protein ÷ 6.25`),
    ...moistureOf(breads, breadChart, 'verified'),
    caution: 'Draws rats and birds: bury it in the pile as soon as it comes (common practice).',
  }),
  organic({
    code: 'spent-grain',
    name: "Brewer's spent grain, wet",
    class: 'nitrogen',
    ...dryFigures(grains, `${grainSource}; protein ÷ 6.25`),
    ashPercentDry: point(grainAsh, "A feed merchant's page (redrockcorp.com.au), brewer's grain", 'verified'),
    moisturePercent: midpoint(75.6, 78.4, "Two feed merchants' pages, wet brewer's grain", 'verified'),
    caution: 'Sours within days: mix it in as soon as it comes (common practice).',
  }),
];
