import {
  type MaterialBasis,
  type MaterialValue,
  type MixFigure,
  type MixFigures,
  type MixMaterial,
  type MixTarget,
  type Verification,
} from './record-mix.js';

type Told = Exclude<MixFigure, 'freeAirSpacePercent'>;
type MaterialTold = 'nitrogenPercentDry' | 'carbonToNitrogen' | 'moisturePercent' | 'bulkDensityKgM3';

/** The mix of a record of before each figure had its own source: one source, and the weakest check, of a whole material. */
export interface Mix2 extends Record<Told, number | null> {
  massKg: number;
  volumeL: number | null;
  knownMassPercent: Record<Told, number>;
  missing: { material: string; figure: string }[];
  targets: (Omit<MixTarget, 'sure'> & { figure: Told })[];
  materials: Material2[];
}

interface Material2 extends Record<MaterialTold, number | null> {
  name: string;
  massKg: number;
  source: string;
  verification: Verification;
}

export function mixOfSecond(mix: Mix2): MixFigures {
  const told = (name: Told) => ({
    value: mix[name],
    range: null,
    knownMassPercent: mix.knownMassPercent[name],
  });
  return {
    massKg: mix.massKg,
    ...{ weighedKg: null, estimatedKg: null, unknownKg: null },
    volumeL: mix.volumeL,
    figures: {
      carbonToNitrogen: told('carbonToNitrogen'),
      moisturePercent: told('moisturePercent'),
      bulkDensityKgM3: told('bulkDensityKgM3'),
      freeAirSpacePercent: { value: null, range: null, knownMassPercent: 0 },
    },
    greensToBrowns: { byMass: null, byVolume: null },
    targets: mix.targets.map((target) => ({ ...target, sure: null })),
    missing: mix.missing,
    ...{ withoutRange: [], contradicted: [] },
    materials: mix.materials.map(materialOf),
    cautions: [],
    ...{ method: null, figuresAsOf: null },
  };
}

function materialOf({ name, massKg, source, verification, ...figures }: Material2): MixMaterial {
  const told = (figure: MaterialTold, basis: MaterialBasis): MaterialValue | null => {
    const typical = figures[figure];
    if (typical === null) return null;
    return { typical, min: null, max: null, basis, source, verification, measuredOn: null };
  };
  return {
    ...{ name, massKg, estimatedKg: null },
    figures: {
      nitrogenPercentDry: told('nitrogenPercentDry', 'dry matter'),
      carbonPercentDry: null,
      carbonToNitrogen: told('carbonToNitrogen', 'dry matter'),
      ashPercentDry: null,
      moisturePercent: told('moisturePercent', 'wet mass'),
      bulkDensityKgM3: told('bulkDensityKgM3', 'as it lies'),
    },
  };
}
