/**
 * Masses of one cell of a report (a material, a site, a month, or the whole), in kilograms to the gram.
 * acceptedKg = weighedKg + sharedKg + estimatedKg; divertedKg = acceptedKg − landfilledKg.
 */
export interface DivertedMasses {
  /** Drop-offs; each is one visit for one material. */
  readonly lots: number;
  /** Taken in, pulled rejects taken off. */
  readonly acceptedKg: number;
  /** Of it, put on a scale lot by lot. */
  readonly weighedKg: number;
  /** Of it, weighed with a whole haul at the yard and shared back to its lots. */
  readonly sharedKg: number;
  /** Of it, estimated from a volume and a bulk density. */
  readonly estimatedKg: number;
  /** Pulled out of what was dropped off, before it was accepted. */
  readonly pulledKg: number;
  /** Taken out of batches later, wherever it went. */
  readonly residueKg: number;
  /** The part of the residue that went to landfill. */
  readonly landfilledKg: number;
  /** Below zero where more residue left for landfill in the period than material came. */
  readonly divertedKg: number;
  /** Sent on in the period to be composted by somebody else: accepted then or before, and diverted all the same. */
  readonly elsewhereKg: number;
}

/** To whom residue is booked: back to where the material of its batch came from, or to where the yard stands. */
export const residueConventions = ['traced', 'site'] as const;
export type ResidueConvention = (typeof residueConventions)[number];

export interface DivertedByMaterial extends DivertedMasses {
  readonly material: string;
  readonly name: string;
}

export interface DivertedBySite extends DivertedMasses {
  readonly code: string;
  readonly name: string;
}

export interface DivertedByMonth extends DivertedMasses {
  /** "2026-05", of the local day of the drop-off or of the screening. */
  readonly month: string;
}

/** Mass by where it went. */
export interface WentTo {
  readonly wentTo: string;
  readonly massKg: number;
}

/** Visits are drop-offs of one depositor at one instant at one site: several materials of one visit are one. */
export interface ByDepositor {
  readonly depositor: string;
  readonly visits: number;
  readonly acceptedKg: number;
}

/**
 * What of the jurisdiction's material lay where at the end of a local day: as it went in, since what is lost to the air is
 * known only when a batch is screened.
 */
export interface InStock {
  /** Local day ("2026-07-01"): as of its beginning. */
  readonly on: string;
  /** Dropped off and in no batch yet, at hubs and yards. */
  readonly waitingKg: number;
  readonly onTheRoadKg: number;
  /** In batches by the stage they had then; of a released one nothing is in process any more. */
  readonly buildingKg: number;
  readonly activeKg: number;
  readonly curingKg: number;
}

/** What came of a jurisdiction's material in a period of local days, `to` excluded. */
export interface DiversionFigures {
  readonly from: string;
  readonly to: string;
  readonly residueTo: ResidueConvention;
  readonly total: DivertedMasses;
  readonly byMaterial: readonly DivertedByMaterial[];
  readonly bySite: readonly DivertedBySite[];
  readonly byMonth: readonly DivertedByMonth[];
  readonly pulled: readonly WentTo[];
  readonly residue: readonly WentTo[];
  readonly refused: { readonly loads: number; readonly unweighed: number; readonly massKg: number };
  readonly visits: number;
  readonly byDepositor: readonly ByDepositor[];
  readonly stockAtStart: InStock;
  readonly stockAtEnd: InStock;
}
