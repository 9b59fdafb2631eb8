import type { MaterialFigures } from '../figures.js';
import { midpoint, ofKind, organic, point, ranged } from './figure.js';

const farms = 'Fresh mushroom compost of 30 farms in Pennsylvania (ASHS abstract, D. J. Aurentz and others)';
const byDefinition = 'By definition: all moisture, no dry matter; 1 kg/L';

export const others: readonly MaterialFigures[] = [
  organic({
    code: 'mushroom-substrate',
    name: 'Mushroom compost, spent',
    class: 'nitrogen',
    traits: ['herbicide-risk', 'salty'],
    nitrogenPercentDry: point(2.65, farms, 'verified'),
    carbonToNitrogen: ranged(
      13,
      9,
      15,
      `${farms}; range: an abstract on its uniformity (scilit.net)`,
      'verified',
    ),
    ashPercentDry: point(39, `100 less organic matter of 60.97 %, ${farms}`, 'derived'),
    moisturePercent: point(57.7, `From N of 1.12 % wet and 2.65 % dry, ${farms}`, 'derived'),
    bulkDensityKgM3: point(341, `${farms}, 574.73 lb/yd³`, 'verified'),
  }),
  organic({
    code: 'finished-compost',
    name: 'Finished compost',
    class: 'neutral',
    carbonToNitrogen: ranged(
      10,
      6,
      20,
      'Cornell Composting, "close to 10/1"; range: Minnesota Stormwater Manual',
      'verified',
    ),
    ashPercentDry: midpoint(
      35,
      70,
      '100 less organic matter of 30–65 %, Minnesota Stormwater Manual',
      'derived',
    ),
    bulkDensityKgM3: ranged(
      653,
      475,
      801,
      "Midpoint of 1,000–1,200 lb/yd³, a producer's page (deschutesrecycling.com); others from 800 lb/yd³ (14 CCR 18993.1) to 1,350 (Massachusetts, quoted in a forum)",
      'secondary',
    ),
  }),
  organic({
    code: 'overs',
    name: 'Overs from screening',
    class: 'carbon',
    caution: 'No published figures were found, since they depend on what was screened: measure your own.',
  }),
  ofKind('water', {
    code: 'water',
    name: 'Water',
    class: 'neutral',
    moisturePercent: point(100, byDefinition, 'derived'),
    bulkDensityKgM3: point(1000, byDefinition, 'derived'),
  }),
  ofKind('mineral', {
    code: 'wood-ash',
    name: 'Wood ash',
    class: 'neutral',
    traits: ['caustic'],
    caution: 'Cold ash only: embers start fires (common practice).',
  }),
  ofKind('mineral', {
    code: 'garden-soil',
    name: 'Garden soil',
    class: 'neutral',
    bulkDensityKgM3: ranged(
      1187,
      1009,
      null,
      'A soil merchant as a question-and-answer page quotes it: 2,000 lb/yd³, very dry from 1,700',
      'secondary',
    ),
    caution: 'A little is enough: soil is heavy, keeps air out, and may bring weeds (common practice).',
  }),
  ofKind('inert-carbon', {
    code: 'biochar',
    name: 'Biochar',
    class: 'neutral',
    caution: 'Wet it before handling: the dust harms lungs and can burn (common practice).',
  }),
];
