import type { WasteCategory } from '#libs/accounting';
import {
  eachFigure,
  type Figure,
  type MaterialClass,
  type MaterialKind,
  type MaterialTrait,
  materialTraits,
  type Verification,
} from '#libs/materials';
import type { MaterialDto } from './materials.dto.js';
import type { MaterialRow } from './materials.records.js';

export type StandingFigure = Omit<Figure, 'measuredOn'>;

export function materialView(row: MaterialRow): MaterialDto {
  return {
    ...{ code: row.code, name: row.name, class: row.class as MaterialClass, kind: row.kind as MaterialKind },
    traits: inOrder(row.traits),
    ...eachFigure((figure): StandingFigure | null => {
      const known = row.figures.find((one) => one.figure === figure);
      if (!known) return null;
      const { typical, min, max, source, verification } = known;
      return { typical, min, max, source, verification: verification as Verification };
    }),
    caution: row.caution,
    wasteCategory: row.wasteCategory as WasteCategory | null,
    retired: row.retiredAt !== null,
    version: row.version,
  };
}

/** Each once, in the order in which they are told of everywhere. */
export function inOrder(traits: readonly string[]): MaterialTrait[] {
  return materialTraits.filter((trait) => traits.includes(trait));
}
