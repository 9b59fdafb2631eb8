import type {
  MaterialFigure,
  MaterialValue,
  MixFigure,
  MixFigures,
  MixMaterial,
  MixValue,
} from '#libs/documents';
import { basisOf, eachFigure, type Figure } from '#libs/materials';
import type { BatchMix } from '../../mixing/mix.service.js';
import type { Names } from './record.records.js';

/** The mix at its start, with every figure it was computed from; null where nothing went in. */
export function mixPart(mix: BatchMix, { materials }: Names): MixFigures | null {
  if (mix.materials.length === 0) return null;
  const nameOf = (code: string): string => materials.get(code) ?? code;
  const named = <T extends { material: string }>(gap: T): T => ({ ...gap, material: nameOf(gap.material) });
  const { massKg, weighedKg, estimatedKg, unknownKg, volumeL, greensToBrowns, method, figuresAsOf } = mix;
  return {
    ...{ massKg, weighedKg, estimatedKg, unknownKg, volumeL },
    figures: {
      carbonToNitrogen: valueOf(mix, 'carbonToNitrogen'),
      moisturePercent: valueOf(mix, 'moisturePercent'),
      bulkDensityKgM3: valueOf(mix, 'bulkDensityKgM3'),
      freeAirSpacePercent: valueOf(mix, 'freeAirSpacePercent'),
    },
    greensToBrowns,
    targets: mix.targets.map(({ value: _, ...target }) => target),
    missing: mix.missing.map(named),
    withoutRange: mix.withoutRange.map(named),
    contradicted: mix.contradicted.map(named),
    materials: mix.materials.map(materialOf),
    cautions: mix.cautions.map(({ text, source, materials: of }) => ({
      text,
      source,
      materials: of.map(nameOf),
    })),
    ...{ method, figuresAsOf },
  };
}

function valueOf(mix: BatchMix, figure: MixFigure): MixValue {
  return {
    value: mix[figure],
    range: mix.ranges[figure],
    knownMassPercent: mix.knownMassPercent[figure],
  };
}

function materialOf(part: BatchMix['materials'][number]): MixMaterial {
  const { name, massKg, estimatedKg } = part;
  return { name, massKg, estimatedKg, figures: eachFigure((figure) => figureOf(figure, part[figure])) };
}

function figureOf(figure: MaterialFigure, known: Figure | null): MaterialValue | null {
  if (!known) return null;
  const { typical, min, max, source, verification, measuredOn } = known;
  return {
    typical: hundredths(typical),
    min: min === null ? null : hundredths(min),
    max: max === null ? null : hundredths(max),
    basis: basisOf[figure],
    ...{ source, verification, measuredOn },
  };
}

/** Densities that were published in pounds a cubic yard have more digits than anybody measured. */
const hundredths = (figure: number): number => Math.round(figure * 100) / 100;
