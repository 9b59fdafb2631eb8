import type { MaterialFigures } from '../figures.js';
import { midpoint, organic, point, ranged } from './figure.js';
import { dryFigures, type Foods, moistureOf, nitrogenOf } from './foods.js';
import { alberta, cornellSheet, energyStar, golueke, massDep, nraes } from './sources.js';

const cornellSlides = 'Cornell Composting slide show';
const pumpkinTable = 'USDA figures of raw pumpkin, as a third-party page prints them';
const pumpkin: Foods = [{ water: 91.6, nitrogen: nitrogenOf(1), ash: 0.8 }];

export const garden: readonly MaterialFigures[] = [
  organic({
    code: 'grass-clippings',
    name: 'Grass clippings, fresh',
    class: 'nitrogen',
    traits: ['herbicide-risk'],
    nitrogenPercentDry: golueke.ranged(2.4, 2.4, 6, 'mixed grasses; grass clippings 3–6'),
    carbonToNitrogen: golueke.ranged(19, 12, 19, 'mixed grasses; grass clippings 12–15'),
    moisturePercent: ranged(
      77,
      70,
      77,
      'Cornell Composting, worked example, on a third-party copy; UC Santa Cruz manual, Unit 1.7: "can be 70%"',
      'mirror',
    ),
    bulkDensityKgM3: massDep.ranged(
      396,
      148,
      396,
      'grass, 3 yd³/ton; ENERGY STAR help: 250 lb/yd³ for grass and yard trimmings',
    ),
  }),
  organic({
    code: 'leaves',
    name: 'Leaves, mixed',
    class: 'carbon',
    nitrogenPercentDry: alberta.midpoint(0.5, 1.3, 'leaves'),
    carbonToNitrogen: alberta.midpoint(40, 80, 'leaves'),
    moisturePercent: alberta.point(38, 'leaves'),
    bulkDensityKgM3: ranged(
      237,
      60,
      297,
      'MassDEP compost site report, 5 yd³/ton; loose from 60 (the Alberta table, on a third-party copy), up to 500 lb/yd³ (Oregon DEQ)',
      'mirror',
    ),
    caution:
      'Dry, loose leaves can weigh a third of this density: a mass taken by volume is a rough estimate.',
  }),
  organic({
    code: 'leaves-oak',
    name: 'Oak leaves',
    class: 'carbon',
    carbonToNitrogen: point(60, `${cornellSlides}, "about 60:1"`, 'verified'),
  }),
  organic({
    code: 'leaves-maple',
    name: 'Maple leaves',
    class: 'carbon',
    carbonToNitrogen: point(30, `${cornellSlides}, "near … 30:1"`, 'verified'),
  }),
  organic({
    code: 'pine-needles',
    name: 'Pine needles, fallen',
    class: 'carbon',
    nitrogenPercentDry: midpoint(
      0.313,
      0.464,
      'Forests 4 (2013), loblolly pine litter, on a third-party copy',
      'mirror',
    ),
    carbonToNitrogen: midpoint(
      143,
      172,
      'Sanchez (2001), USDA Forest Service, loblolly pine litter',
      'verified',
    ),
  }),
  organic({
    code: 'yard-trimmings',
    name: 'Yard trimmings, mixed and loose',
    class: 'neutral',
    traits: ['herbicide-risk'],
    bulkDensityKgM3: energyStar.ranged(
      148,
      148,
      356,
      'yard trimmings, 250 lb/yd³; CalRecycle: 600 lb/yd³ for loose yard waste',
    ),
  }),
  organic({
    code: 'shrub-trimmings',
    name: 'Shrub trimmings',
    class: 'carbon',
    nitrogenPercentDry: nraes.point(1, 'shrub trimmings'),
    carbonToNitrogen: nraes.point(53, 'shrub trimmings'),
    moisturePercent: nraes.point(15, 'shrub trimmings'),
    bulkDensityKgM3: nraes.point(255, 'shrub trimmings, 429 lb/yd³'),
  }),
  organic({
    code: 'tree-trimmings',
    name: 'Tree trimmings, green',
    class: 'nitrogen',
    nitrogenPercentDry: nraes.point(3.1, 'tree trimmings'),
    carbonToNitrogen: nraes.point(16, 'tree trimmings'),
    moisturePercent: nraes.point(70, 'tree trimmings'),
    bulkDensityKgM3: nraes.ranged(
      769,
      281,
      null,
      'tree trimmings, 1,296 lb/yd³; Oregon DEQ: 473 lb/yd³ for green wood chips',
    ),
    caution:
      'Chips of green wood are published at about a third of this density: a mass taken by volume is a rough estimate, so weigh a full bucket.',
  }),
  organic({
    code: 'pumpkins',
    name: 'Pumpkins',
    class: 'nitrogen',
    ...dryFigures(pumpkin, `${pumpkinTable}; protein ÷ 6.25`),
    ...moistureOf(pumpkin, pumpkinTable, 'secondary'),
    caution:
      'Take out candles, paint and glitter, and break them up: whole ones roll and rot (common practice).',
  }),
  organic({
    code: 'seaweed',
    name: 'Seaweed',
    class: 'nitrogen',
    traits: ['salty'],
    nitrogenPercentDry: cornellSheet.point(1.9, 'seaweed'),
    carbonPercentDry: cornellSheet.point(32.3, 'seaweed'),
    carbonToNitrogen: point(17, 'C 32.3 % over N 1.9 %, of the figures beside it', 'derived'),
    moisturePercent: cornellSheet.point(53, 'seaweed'),
    caution: 'Gathering it may need leave of the local authority (common practice).',
  }),
];
