import type { MaterialFigures } from '../figures.js';
import { organic, point } from './figure.js';
import { alberta, nraes } from './sources.js';

const horseDensity = alberta.midpoint(725, 960, 'horse manure with bedding');
const rabbits = 'The Practical Rabbit Study (1984), as a web page quotes it';

export const manures: readonly MaterialFigures[] = [
  organic({
    code: 'horse-manure-straw',
    name: 'Horse manure with straw bedding',
    class: 'nitrogen',
    traits: ['herbicide-risk', 'raw-manure'],
    nitrogenPercentDry: alberta.point(1.5, 'horse manure with straw'),
    carbonToNitrogen: alberta.point(27, 'horse manure with straw'),
    moisturePercent: alberta.point(67, 'horse manure with straw'),
    bulkDensityKgM3: horseDensity,
  }),
  organic({
    code: 'horse-manure-shavings',
    name: 'Horse manure with shavings',
    class: 'carbon',
    traits: ['herbicide-risk', 'raw-manure'],
    nitrogenPercentDry: alberta.point(0.9, 'horse manure with shavings'),
    carbonToNitrogen: alberta.point(65, 'horse manure with shavings'),
    moisturePercent: alberta.point(72, 'horse manure with shavings'),
    bulkDensityKgM3: horseDensity,
  }),
  organic({
    code: 'chicken-litter',
    name: 'Chicken litter, laying birds',
    class: 'nitrogen',
    traits: ['raw-manure'],
    nitrogenPercentDry: alberta.point(3.6, 'poultry, broiler breeder layer'),
    carbonToNitrogen: alberta.point(10, 'poultry, broiler breeder layer'),
    moisturePercent: alberta.point(46, 'poultry, broiler breeder layer'),
    bulkDensityKgM3: alberta.point(470, 'poultry, broiler breeder layer'),
  }),
  organic({
    code: 'cow-manure',
    name: 'Cow manure, dairy, solid',
    class: 'nitrogen',
    traits: ['herbicide-risk', 'raw-manure'],
    nitrogenPercentDry: alberta.point(1.7, 'dairy, solid manure; Golueke (1972) prints the same'),
    carbonToNitrogen: alberta.point(18, 'dairy, solid manure; Golueke (1972) prints the same'),
    moisturePercent: alberta.point(79, 'dairy, solid manure'),
    bulkDensityKgM3: alberta.point(710, 'dairy, solid manure'),
  }),
  organic({
    code: 'sheep-manure',
    name: 'Sheep manure',
    class: 'nitrogen',
    traits: ['herbicide-risk', 'raw-manure'],
    // The copy of the Alberta table prints 3.09 at the upper end, which looks like a slip for 3.9.
    nitrogenPercentDry: nraes.ranged(2.7, 1.3, 3.9, 'sheep manure'),
    carbonToNitrogen: alberta.midpoint(13, 20, 'sheep manure'),
    moisturePercent: alberta.midpoint(60, 75, 'sheep manure'),
  }),
  organic({
    code: 'rabbit-manure',
    name: 'Rabbit manure',
    class: 'nitrogen',
    traits: ['herbicide-risk', 'raw-manure'],
    nitrogenPercentDry: point(3.25, `Protein of 20.3 % ÷ 6.25, ${rabbits}`, 'secondary'),
    carbonToNitrogen: point(15.3, `C from ash over N, ${rabbits}`, 'derived'),
    ashPercentDry: point(10.7, rabbits, 'secondary'),
  }),
];
