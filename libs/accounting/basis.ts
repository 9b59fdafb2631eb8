import { sumG } from '#libs/quantities';

export const massBases = ['scale', 'volume', 'haul'] as const;

/**
 * `scale`: weighed. `volume`: estimated from a volume and a bulk density. `haul`: weighed at the yard with the whole haul,
 * and shared back to its lots by their volume.
 */
export type MassBasis = (typeof massBases)[number];

/** What is entered by itself, with no haul, is weighed or taken by volume. */
export const entryBases = ['scale', 'volume'] as const;
export type EntryBasis = (typeof entryBases)[number];

/** `records`: of a batch that was merged and not weighed, what had gone in less what had come out. */
export type FlowBasis = MassBasis | 'records';

export interface BasedMass {
  readonly massG: number;
  readonly basis: FlowBasis;
}

/** The grams that were estimated or worked out, and on no scale. */
export function estimatedG(masses: readonly BasedMass[]): number {
  const estimated = masses.filter(({ basis }) => basis === 'volume' || basis === 'records');
  return sumG(estimated.map(({ massG }) => massG));
}

/** The share (0 to 1) of the mass that was on no scale; null when there is no mass. */
export function estimatedShare(masses: readonly BasedMass[]): number | null {
  return shareOf(estimatedG(masses), sumG(masses.map(({ massG }) => massG)));
}

/** A part of a whole as 0 to 1; null when the whole is nothing. */
export function shareOf(partG: number, wholeG: number): number | null {
  return wholeG === 0 ? null : partG / wholeG;
}
