import { splitByLargestRemainder } from '#libs/quantities';
import type { BatchResidue, Period } from './diversion.records.js';

export interface AttributedResidue {
  siteId: string;
  material: string;
  month: string;
  residueG: number;
}

/**
 * Residue given back to where the material came from: each batch's residue is split over its lots by the mass they
 * have in it, to the gram, and what falls to the jurisdiction (and sites) asked for is answered. What went in through
 * no drop-off (chips, water, overs) takes no share: all residue is taken to have come with what people brought.
 */
export function residueOf(
  batches: readonly BatchResidue[],
  { jurisdictionId, siteIds }: Pick<Period, 'jurisdictionId' | 'siteIds'>,
): AttributedResidue[] {
  return batches.flatMap(({ month, residueG, lots }) => {
    const parts = splitByLargestRemainder(
      residueG,
      lots.map(({ massG }) => massG),
    );
    return lots.flatMap(({ siteId, material, ...lot }, index) => {
      const asked = lot.jurisdictionId === jurisdictionId && (siteIds?.includes(siteId) ?? true);
      return asked ? [{ siteId, material, month, residueG: parts[index] ?? 0 }] : [];
    });
  });
}
