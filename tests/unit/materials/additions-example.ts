import type { Candidate, Figure, MaterialFigures, MixFigure, MixTarget } from '#libs/materials';

/** A figure for a test, with no range. */
export const figure = (typical: number): Figure => ({
  typical,
  min: null,
  max: null,
  source: 'made up for a test',
  verification: 'local',
  measuredOn: null,
});

export interface Typical {
  nitrogen?: number;
  carbon?: number;
  ratio?: number;
  ash?: number;
  moisture?: number;
  density?: number;
}

export function material(
  code: string,
  typical: Typical,
  more: Partial<MaterialFigures> = {},
): MaterialFigures {
  const of = (value: number | undefined) => (value === undefined ? null : figure(value));
  return {
    code,
    name: code,
    class: 'neutral',
    kind: 'organic',
    traits: [],
    nitrogenPercentDry: of(typical.nitrogen),
    carbonPercentDry: of(typical.carbon),
    carbonToNitrogen: of(typical.ratio),
    ashPercentDry: of(typical.ash),
    moisturePercent: of(typical.moisture),
    bulkDensityKgM3: of(typical.density),
    caution: null,
    ...more,
  };
}

export const water = material('water', { moisture: 100, density: 1000 }, { kind: 'water' });

export function candidate(of: MaterialFigures, more: Partial<Omit<Candidate, 'material'>> = {}): Candidate {
  return { material: of, availableG: null, costPerKg: null, measure: null, ...more };
}

export function target(
  figure_: MixFigure,
  min: number | null,
  max: number | null,
  grade: MixTarget['grade'] = 'reasonable',
): MixTarget {
  return { figure: figure_, grade, min, max, source: 'made up for a test' };
}
