import type { Figure, MaterialFigures } from '../figures.js';
import { organic, ranged } from './figure.js';
import { alberta, golueke, nraes } from './sources.js';

const chips = 'wood waste (chips)';
const chipMoisture = alberta.midpoint(15, 40, chips);
const chipDensity: Figure = ranged(
  316,
  138,
  422,
  'Midpoint of 264–368, the Alberta table on a third-party copy, wood waste (chips); range: Minnesota Stormwater Manual, wood chips',
  'mirror',
);
const bothWoods = 'midpoint of the typical 560 for hardwood and 641 for softwood';

export const strawAndWood: readonly MaterialFigures[] = [
  organic({
    code: 'straw-wheat',
    name: 'Wheat straw',
    class: 'carbon',
    traits: ['herbicide-risk'],
    nitrogenPercentDry: alberta.midpoint(0.3, 0.5, 'straw, wheat'),
    carbonToNitrogen: alberta.midpoint(100, 150, 'straw, wheat'),
    moisturePercent: alberta.point(10, 'straw, wheat'),
    bulkDensityKgM3: alberta.point(135, 'straw, wheat'),
  }),
  organic({
    code: 'straw-oat',
    name: 'Oat straw',
    class: 'carbon',
    traits: ['herbicide-risk'],
    nitrogenPercentDry: alberta.midpoint(0.6, 1.1, 'straw, oat'),
    carbonToNitrogen: alberta.midpoint(48, 98, 'straw, oat'),
    moisturePercent: alberta.point(14, 'straw, oat'),
    bulkDensityKgM3: alberta.midpoint(130, 192, 'straw, oat'),
  }),
  organic({
    code: 'hay',
    name: 'Hay, legume and grass',
    class: 'nitrogen',
    traits: ['herbicide-risk'],
    nitrogenPercentDry: alberta.midpoint(1.8, 3.6, 'legume-grass hay'),
    carbonToNitrogen: alberta.midpoint(15, 19, 'legume-grass hay'),
    moisturePercent: alberta.midpoint(10, 30, 'legume-grass hay'),
  }),
  organic({
    code: 'wood-chips',
    name: 'Wood chips, mixed or unknown wood',
    class: 'carbon',
    traits: ['wood-dust'],
    nitrogenPercentDry: nraes.ranged(0.09, 0.04, 0.23, 'hardwood and softwood chips and shavings'),
    carbonToNitrogen: nraes.ranged(600.5, 212, 1313, `chips and shavings; ${bothWoods}`),
    moisturePercent: chipMoisture,
    bulkDensityKgM3: chipDensity,
  }),
  organic({
    code: 'wood-chips-hardwood',
    name: 'Wood chips, hardwood',
    class: 'carbon',
    traits: ['wood-dust'],
    nitrogenPercentDry: nraes.ranged(0.09, 0.06, 0.11, 'hardwood chips and shavings'),
    carbonToNitrogen: nraes.ranged(560, 451, 819, 'hardwood chips and shavings'),
    moisturePercent: chipMoisture,
    bulkDensityKgM3: chipDensity,
  }),
  organic({
    code: 'wood-chips-softwood',
    name: 'Wood chips, softwood',
    class: 'carbon',
    traits: ['wood-dust'],
    nitrogenPercentDry: nraes.ranged(0.09, 0.04, 0.23, 'softwood chips and shavings'),
    carbonToNitrogen: nraes.ranged(641, 212, 1313, 'softwood chips and shavings'),
    moisturePercent: chipMoisture,
    bulkDensityKgM3: chipDensity,
  }),
  organic({
    code: 'wood-shavings',
    name: 'Wood shavings',
    class: 'carbon',
    traits: ['wood-dust'],
    nitrogenPercentDry: nraes.ranged(0.09, 0.04, 0.23, 'hardwood and softwood chips and shavings'),
    carbonToNitrogen: nraes.ranged(600.5, 212, 1313, `chips and shavings; ${bothWoods}`),
  }),
  organic({
    code: 'sawdust',
    name: 'Sawdust',
    class: 'carbon',
    traits: ['wood-dust'],
    // The midpoints that the Alberta table would give for these two make more than 100 % carbon together.
    nitrogenPercentDry: golueke.point(0.1, 'sawdust'),
    carbonToNitrogen: golueke.midpoint(200, 500, 'sawdust'),
    moisturePercent: alberta.midpoint(19, 65, 'sawdust'),
    bulkDensityKgM3: alberta.midpoint(207, 267, 'sawdust'),
  }),
];
