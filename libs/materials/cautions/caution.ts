import type { MaterialTrait } from '../figures.js';

/** A trait, or `material`: what is said of one material in its own words. */
export type CautionCode = MaterialTrait | 'material';

/** What to mind, in plain words. It never says that something is lawful: permit and authority decide. */
export interface MaterialCaution {
  readonly code: CautionCode;
  readonly text: string;
  /** What was read, or "common practice". */
  readonly source: string;
  /** Codes of the materials that it is about. */
  readonly materials: readonly string[];
}

export interface Said {
  readonly text: string;
  readonly source: string;
}
