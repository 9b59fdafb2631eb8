export const MIX_FIGURES = [
  'carbonToNitrogen',
  'moisturePercent',
  'bulkDensityKgM3',
  'freeAirSpacePercent',
] as const;
export type MixFigure = (typeof MIX_FIGURES)[number];

export const MATERIAL_FIGURES = [
  'nitrogenPercentDry',
  'carbonPercentDry',
  'carbonToNitrogen',
  'ashPercentDry',
  'moisturePercent',
  'bulkDensityKgM3',
] as const;
export type MaterialFigure = (typeof MATERIAL_FIGURES)[number];

/** The mix at its start, computed from the figures of its materials. What is not known is null. */
export interface MixFigures {
  massKg: number;
  /** What was weighed and what was estimated from a volume; null where a record does not tell. */
  weighedKg: number | null;
  estimatedKg: number | null;
  /** Of materials of which some figure of the mix is not known. */
  unknownKg: number | null;
  volumeL: number | null;
  figures: Record<MixFigure, MixValue>;
  /** Nitrogen-rich to carbon-rich material. */
  greensToBrowns: { byMass: number | null; byVolume: number | null };
  /** The permit's first, then the published ones. */
  targets: MixTarget[];
  missing: MaterialGap[];
  /** Taken as a point, since no range of them is known. */
  withoutRange: MaterialGap[];
  /** Materials whose figures cannot be together, so that all of them were taken as unknown. */
  contradicted: { material: string; detail: string }[];
  materials: MixMaterial[];
  cautions: MixCaution[];
  /** How the ranges were carried from the materials to the mix. */
  method: string | null;
  /** When the batch left `building`, which the figures of the materials are of; null where they are of now, or it was not told. */
  figuresAsOf: string | null;
}

export interface MixValue {
  value: number | null;
  /** For all that the ranges of the materials allow; C:N has no upper end where there may be no nitrogen at all. */
  range: { min: number; max: number | null } | null;
  /** How much of the mass the value rests on. */
  knownMassPercent: number;
}

export interface MaterialGap {
  material: string;
  figure: string;
}

/** A range that is asked for, by the permit or in a publication's own words, and where this mix stands to it. */
export interface MixTarget {
  figure: MixFigure;
  grade: string;
  min: number | null;
  max: number | null;
  state: 'within' | 'below' | 'above' | 'unknown';
  /** That all of the range stands so, and nothing of the mix is unknown; null where a record does not tell. */
  sure: boolean | null;
  source: string;
}

/** One material of the mix with every figure that is known of it. */
export interface MixMaterial {
  name: string;
  massKg: number;
  estimatedKg: number | null;
  figures: Record<MaterialFigure, MaterialValue | null>;
}

export interface MaterialValue {
  typical: number;
  /** Null at an end that the source does not give. */
  min: number | null;
  max: number | null;
  basis: MaterialBasis;
  source: string;
  verification: Verification;
  /** Local day of the sample, where the site measured it itself. */
  measuredOn: string | null;
}

export const MATERIAL_BASES = ['dry matter', 'wet mass', 'as it lies'] as const;
export type MaterialBasis = (typeof MATERIAL_BASES)[number];

/** What may slow this batch or harm somebody, and the materials it comes with. */
export interface MixCaution {
  text: string;
  source: string;
  materials: string[];
}

/**
 * `verified`: read in the publication named. `mirror`: on a third-party copy of it. `secondary`: where another text
 * quotes it. `derived`: arithmetic, a definition or judgement. `local`: stated by the programme.
 */
export const VERIFICATIONS = ['verified', 'mirror', 'secondary', 'from-memory', 'derived', 'local'] as const;
export type Verification = (typeof VERIFICATIONS)[number];
