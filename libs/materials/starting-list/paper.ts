import type { MaterialFigures } from '../figures.js';
import { organic, point, ranged } from './figure.js';
import { alberta, cornellSheet, nraes } from './sources.js';

const guide1993 = 'US EPA (1993), Business Guide for Reducing Solid Waste, Appendix D';

export const paper: readonly MaterialFigures[] = [
  organic({
    code: 'cardboard',
    name: 'Cardboard, corrugated',
    class: 'carbon',
    nitrogenPercentDry: alberta.point(0.1, 'cardboard'),
    carbonToNitrogen: alberta.point(563, 'cardboard'),
    moisturePercent: alberta.point(8, 'cardboard'),
    bulkDensityKgM3: alberta.ranged(154, 30, 154, `cardboard; from 50 lb/yd³ uncompacted (${guide1993})`),
    caution: 'Take off tape, labels and staples; no waxed or glossy board (common practice).',
  }),
  organic({
    code: 'newsprint',
    name: 'Newsprint',
    class: 'carbon',
    nitrogenPercentDry: cornellSheet.point(0.1, 'newsprint'),
    carbonPercentDry: cornellSheet.point(62.5, 'newsprint'),
    carbonToNitrogen: point(625, 'C 62.5 % over N 0.1 %, of the figures beside it', 'derived'),
    moisturePercent: cornellSheet.point(5.5, 'newsprint'),
    bulkDensityKgM3: nraes.midpoint(116, 144, 'newsprint, 195–242 lb/yd³'),
  }),
  organic({
    code: 'paper-mixed',
    name: 'Paper, mixed',
    class: 'carbon',
    nitrogenPercentDry: alberta.midpoint(0.2, 0.25, 'paper'),
    carbonToNitrogen: alberta.midpoint(127, 178, 'paper'),
    moisturePercent: alberta.midpoint(18, 20, 'paper'),
    bulkDensityKgM3: alberta.ranged(
      130,
      130,
      145,
      'paper; ENERGY STAR Portfolio Manager help: 245 lb/yd³ for mixed paper',
    ),
    caution: 'No glossy, coated or till-receipt paper (common practice).',
  }),
  organic({
    code: 'paper-office',
    name: 'Office paper',
    class: 'carbon',
    bulkDensityKgM3: ranged(
      93,
      65,
      122,
      `${guide1993}, white ledger, crumpled: midpoint of 110–205 lb/yd³`,
      'verified',
    ),
    caution: 'No glossy, coated or till-receipt paper, and no plastic windows (common practice).',
  }),
];
