import { sumG } from '#libs/quantities';

export const massBases = ['scale', 'volume'] as const;

/** `scale`: weighed. `volume`: estimated from a volume and a bulk density. */
export type MassBasis = (typeof massBases)[number];

export interface BasedMass {
  readonly massG: number;
  readonly basis: MassBasis;
}

/** The grams that were estimated, not weighed. */
export function estimatedG(masses: readonly BasedMass[]): number {
  return sumG(masses.filter(({ basis }) => basis === 'volume').map(({ massG }) => massG));
}

/** The share (0 to 1) of the mass that was estimated, not weighed; null when there is no mass. */
export function estimatedShare(masses: readonly BasedMass[]): number | null {
  return shareOf(estimatedG(masses), sumG(masses.map(({ massG }) => massG)));
}

/** A part of a whole as 0 to 1; null when the whole is nothing. */
export function shareOf(partG: number, wholeG: number): number | null {
  return wholeG === 0 ? null : partG / wholeG;
}
