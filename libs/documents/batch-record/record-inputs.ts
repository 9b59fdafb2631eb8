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
  /** Weighed with a whole haul, and shared back to its lots by their volume. */
  sharedKg: number;
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
