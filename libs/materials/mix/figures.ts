import type { MaterialFigure, MaterialFigures } from '../figures.js';

export const mixFigures = [
  'carbonToNitrogen',
  'moisturePercent',
  'bulkDensityKgM3',
  'freeAirSpacePercent',
] as const;
export type MixFigure = (typeof mixFigures)[number];

export interface MixPart {
  readonly material: MaterialFigures;
  /** Wet mass, as it goes into the pile. */
  readonly massG: number;
  /** Part of it that was estimated from a volume; the rest was weighed. */
  readonly estimatedG: number;
  /** The volume that was seen of that part, whatever density its mass was estimated with; 0 where all was weighed. */
  readonly estimatedMl: number;
}

export interface Interval {
  readonly min: number;
  readonly max: number;
}

export interface MissingFigure {
  readonly materialCode: string;
  readonly figure: MaterialFigure;
}

export interface Mix {
  readonly massG: number;
  readonly weighedG: number;
  readonly estimatedG: number;
  /** Null when any part's density is unknown: part of a sum would look like the whole. Water adds none of its own. */
  readonly volumeMl: number | null;
  /** Null when unknown. */
  readonly value: Readonly<Record<MixFigure, number | null>>;
  /**
   * Between what each figure lies, for all that the ranges of the materials allow; null where the figure is. The most of
   * C:N is Infinity where there may be no nitrogen.
   */
  readonly range: Readonly<Record<MixFigure, Interval | null>>;
  /** The share of the mass (0 to 1) whose figures were known and so went into each result. Below 1, judge with care. */
  readonly knownMassShare: Readonly<Record<MixFigure, number>>;
  readonly missing: readonly MissingFigure[];
  /** Figures that were taken as a point, since no range of them is known: the ranges above are at least as wide. */
  readonly withoutRange: readonly MissingFigure[];
  /** Nitrogen-rich to carbon-rich material; null without the one or the other. */
  readonly greensToBrowns: { readonly byMass: number | null; readonly byVolume: number | null };
}
