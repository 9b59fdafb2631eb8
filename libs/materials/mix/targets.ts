import type { MixFigure } from './figures.js';

export interface MixTarget {
  readonly figure: MixFigure;
  /** The publication's own words for its wide and its narrow range; `permit` is what the site's permit asks. */
  readonly grade: 'permit' | 'reasonable' | 'preferred';
  readonly min: number | null;
  readonly max: number | null;
  readonly source: string;
}

const lsu = 'LSU AgCenter publication 3838-D (adapted from the On-Farm Composting Handbook, NRAES-54)';
const coker = 'Coker, Developing composting recipes for process control, BioCycle, December 2011';

/** Published ranges for the mix at the start. They guide a recipe; a permit or a process rule may ask otherwise. */
export const mixTargets: readonly MixTarget[] = [
  { figure: 'carbonToNitrogen', grade: 'reasonable', min: 20, max: 40, source: lsu },
  { figure: 'carbonToNitrogen', grade: 'preferred', min: 25, max: 30, source: lsu },
  { figure: 'moisturePercent', grade: 'reasonable', min: 40, max: 65, source: lsu },
  { figure: 'moisturePercent', grade: 'preferred', min: 50, max: 55, source: lsu },
  { figure: 'bulkDensityKgM3', grade: 'reasonable', min: 475, max: 712, source: `${lsu}: 800–1,200 lb/yd³` },
  {
    figure: 'bulkDensityKgM3',
    grade: 'preferred',
    min: null,
    max: 653,
    source: `${lsu}: below 1,100 lb/yd³`,
  },
  { figure: 'freeAirSpacePercent', grade: 'preferred', min: 40, max: 60, source: coker },
];
