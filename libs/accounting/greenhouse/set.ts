import type { FactorUsed, WasteCategory } from './estimate.js';

/** t CO2e for one mass unit of the set, as the exact decimals that were published. */
export interface CategoryFactors {
  readonly composting: string;
  /** Null where the set knows no landfill to hold it against. */
  readonly landfill: string | null;
}

/** One published set of factors. What it has no factor for is unknown, never borrowed from another set. */
export interface GreenhouseSet {
  readonly code: string;
  readonly title: string;
  readonly version: string;
  readonly source: string;
  /** How far the figures were checked, in a phrase. */
  readonly checked: string;
  /** The mass that the factors are for: 1 short ton is 907.18474 kg exactly (NIST Handbook 44, Appendix C). */
  readonly perKg: string;
  readonly byCategory: Readonly<Partial<Record<WasteCategory, CategoryFactors>>>;
  /** The factors behind these categories, one by one. */
  readonly factorsOf: (categories: readonly WasteCategory[]) => FactorUsed[];
  readonly notes: readonly string[];
}
