/** What a person typed, number and unit, before it was turned into metric. */
export interface Entered {
  value: number;
  unit: string;
}

/** One accepted material, over all drop-offs of the batch. */
export interface AcceptedMaterial {
  code: string;
  name: string;
  lots: number;
  acceptedKg: number;
  weighedKg: number;
  estimatedKg: number;
  /** Where the densities of the estimated part come from. */
  densitySources: string[];
}

/** The hub the material was dropped off at. */
export interface MaterialOrigin {
  siteCode: string;
  siteName: string;
  lots: number;
  acceptedKg: number;
}

/** Material that came through no drop-off. `fromBatch` is the code of the batch that overs came from. */
export interface Amendment {
  occurredAt: string;
  material: string;
  name: string;
  from: 'stock' | 'overs' | 'water';
  fromBatch: string | null;
  massKg: number;
  basis: 'scale' | 'volume';
  densitySource: string | null;
  entered: Entered | null;
}

export interface PulledReject {
  contaminant: string;
  /** From a drop-off before it was accepted, or from the batch later. */
  found: 'drop-off' | 'batch';
  massKg: number;
  wentTo: string;
}

/**
 * The mix as computed from the figures of its materials. A figure of null is not known; `knownMassPercent` says how
 * much of the mass each rests on.
 */
export interface MixFigures {
  massKg: number;
  volumeL: number | null;
  carbonToNitrogen: number | null;
  moisturePercent: number | null;
  bulkDensityKgM3: number | null;
  knownMassPercent: Record<MixFigure, number>;
  missing: { material: string; figure: string }[];
  targets: MixTarget[];
  materials: MixMaterial[];
}

export type MixFigure = 'carbonToNitrogen' | 'moisturePercent' | 'bulkDensityKgM3';

/** A published range, in the publication's own words, and where this mix stands to it. */
export interface MixTarget {
  figure: MixFigure;
  grade: string;
  min: number | null;
  max: number | null;
  state: 'within' | 'below' | 'above' | 'unknown';
  source: string;
}

/** One material of the mix with the figures it was computed with. */
export interface MixMaterial {
  name: string;
  massKg: number;
  nitrogenPercentDry: number | null;
  carbonToNitrogen: number | null;
  moisturePercent: number | null;
  bulkDensityKgM3: number | null;
  source: string;
  /** How far the figures were checked; the weakest of them decides. */
  verification: Verification;
}

/**
 * `verified`: read in the publication named. `mirror`: on a third-party copy of it. `secondary`: where another text
 * quotes it. `derived`: arithmetic, a definition or judgement. `local`: stated by the programme.
 */
export const VERIFICATIONS = ['verified', 'mirror', 'secondary', 'from-memory', 'derived', 'local'] as const;
export type Verification = (typeof VERIFICATIONS)[number];
