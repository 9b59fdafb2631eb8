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
  /** Where the density of the estimated part comes from. */
  densitySource: string | null;
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
  entered: Entered | null;
}

export interface PulledReject {
  contaminant: string;
  /** From a drop-off before it was accepted, or from the batch later. */
  found: 'drop-off' | 'batch';
  pieces: number | null;
  massKg: number;
  wentTo: string;
}

/**
 * The mix as computed from material figures. A figure of null is not known; `known…Percent` says how much of
 * the mass the figure rests on.
 */
export interface MixFigures {
  massKg: number;
  volumeL: number | null;
  carbonToNitrogen: number | null;
  moisturePercent: number | null;
  bulkDensityKgM3: number | null;
  knownCarbonToNitrogenPercent: number;
  knownMoisturePercent: number;
  knownBulkDensityPercent: number;
  /** Names of materials with a figure missing. */
  missing: string[];
  targets: MixTarget[];
  sources: string[];
}

export interface MixTarget {
  figure: 'carbonToNitrogen' | 'moisturePercent' | 'bulkDensityKgM3';
  from: number | null;
  to: number | null;
  state: 'within' | 'below' | 'above' | 'unknown';
  source: string;
}
