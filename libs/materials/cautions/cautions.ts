import { type MaterialFigures, materialTraits, type MaterialTrait } from '../figures.js';
import type { MaterialCaution, Said } from './caution.js';
import { always, animalProduct, DOMINANT_SHARE, whereDominant } from './texts.js';

export interface CautionPart {
  readonly material: Pick<MaterialFigures, 'code' | 'traits' | 'caution'>;
  /** Wet mass. */
  readonly massG: number;
}

export interface CautionContext {
  /** Whether the permit on record lets a material in, by its code; null where nothing is known. */
  readonly permitAllows?: (code: string) => boolean | null;
}

type Material = CautionPart['material'];

/**
 * What to mind in a batch of these parts, each thing once with the materials that it is about: first by trait, then what
 * is said of single materials. Citrus, and onion and garlic, are spoken of only from a quarter of the wet mass; the rest
 * from the first gram. A part without mass is not in the batch.
 */
export function cautionsOf(
  parts: readonly CautionPart[],
  { permitAllows = () => null }: CautionContext = {},
): MaterialCaution[] {
  const present = parts.filter(({ massG }) => massG > 0);
  const totalG = sum(present);
  const byTrait = materialTraits.flatMap((trait) => {
    const bearing = present.filter(({ material }) => material.traits.includes(trait));
    const share = totalG > 0 ? sum(bearing) / totalG : 0;
    return ofTrait(trait, materialsOf(bearing), share, permitAllows);
  });
  return [...byTrait, ...ownWords(materialsOf(present))];
}

function ofTrait(
  trait: MaterialTrait,
  materials: readonly Material[],
  share: number,
  permitAllows: NonNullable<CautionContext['permitAllows']>,
): MaterialCaution[] {
  if (materials.length === 0) return [];
  const caution = (said: Said, about = materials): MaterialCaution => ({
    code: trait,
    ...said,
    materials: about.map(({ code }) => code),
  });
  if (trait === 'animal-product') {
    return [false, null, true].flatMap((answer) => {
      const about = materials.filter(({ code }) => permitAllows(code) === answer);
      return about.length === 0 ? [] : [caution(animalProduct(answer), about)];
    });
  }
  if (trait === 'citrus' || trait === 'allium') {
    return share >= DOMINANT_SHARE ? [caution(whereDominant[trait])] : [];
  }
  return [caution(always[trait])];
}

function ownWords(materials: readonly Material[]): MaterialCaution[] {
  return materials.flatMap(({ code, caution }) =>
    caution === null
      ? []
      : [{ code: 'material', text: caution, source: "the programme's list of materials", materials: [code] }],
  );
}

function materialsOf(parts: readonly CautionPart[]): Material[] {
  return [...new Map(parts.map(({ material }) => [material.code, material])).values()];
}

function sum(parts: readonly CautionPart[]): number {
  return parts.reduce((total, { massG }) => total + massG, 0);
}
