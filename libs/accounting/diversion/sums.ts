import type { ResidueShare } from './attribution.js';
import type { ResidueConvention } from './figures.js';

/** Movements of a period summed under one key, in whole grams; `weighedG + sharedG + estimatedG` is what was accepted. */
export interface MovementSums {
  readonly lots: number;
  readonly weighedG: number;
  readonly sharedG: number;
  readonly estimatedG: number;
  readonly pulledG: number;
  readonly elsewhereG: number;
}

/** One of the four is set, or none in the row of the whole. */
export interface GroupedSums extends MovementSums {
  readonly siteId: string | null;
  readonly material: string | null;
  readonly month: string | null;
  readonly depositor: string | null;
}

/** Grams of the jurisdiction's material by where it lay. */
export interface StockSums {
  readonly waitingG: number;
  readonly onTheRoadG: number;
  readonly buildingG: number;
  readonly activeG: number;
  readonly curingG: number;
}

export interface NamedSite {
  readonly id: string;
  readonly code: string;
  readonly name: string;
}

/** All that the figures of a jurisdiction and a period are made of. */
export interface DiversionSums {
  readonly from: string;
  readonly to: string;
  readonly residueTo: ResidueConvention;
  readonly movements: readonly GroupedSums[];
  readonly pulled: readonly { readonly wentTo: string; readonly massG: number }[];
  readonly visits: readonly { readonly depositor: string; readonly visits: number }[];
  readonly refused: { readonly loads: number; readonly unweighed: number; readonly massG: number };
  readonly residue: readonly ResidueShare[];
  readonly stockAtStart: StockSums;
  readonly stockAtEnd: StockSums;
  /** Names to print, in the order they are printed in; those without figures are left out. */
  readonly sites: readonly NamedSite[];
  readonly materials: readonly { readonly code: string; readonly name: string }[];
}
