import {
  type AdditionsAnswer,
  type AdditionsQuestion,
  additionsFor,
  type Candidate,
  type Figure,
  type MaterialFigures,
  type MixFigure,
  type MixTarget,
  withHighs,
} from '#libs/materials';

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

export const scraps = material('scraps', { nitrogen: 2.4, carbon: 36, moisture: 69, density: 455, ash: 10 });
export const chips = material('chips', { nitrogen: 0.1, carbon: 50, moisture: 20, density: 250, ash: 1 });
export const leaves = material('leaves', { nitrogen: 0.9, carbon: 50, moisture: 38, density: 100, ash: 10 });
export const straw = material('straw', { nitrogen: 0.5, carbon: 45, moisture: 12, density: 60, ash: 7 });
export const barrow = { code: 'B1', volumeMl: 90_000 };

export const batch = [{ material: scraps, massG: 500_000, estimatedG: 0, estimatedMl: 0 }];
export const ratio = target('carbonToNitrogen', 25, 30);
export const dampness = target('moisturePercent', 50, 60);

export const ask = (question: Partial<AdditionsQuestion>): Promise<AdditionsAnswer> =>
  withHighs((solve) =>
    additionsFor(
      {
        parts: batch,
        candidates: [],
        targets: [ratio, dampness],
        leastBy: 'mass',
        obtainable: [],
        ...question,
      },
      solve,
    ),
  );

export const codes = (some: readonly { materialCode: string }[]) =>
  some.map(({ materialCode }) => materialCode);
