import type { Figure, Verification } from '../figures.js';

/** A figure of which the source gives no range. */
export function point(typical: number, source: string, verification: Verification): Figure {
  return { typical, min: null, max: null, source, verification, measuredOn: null };
}
