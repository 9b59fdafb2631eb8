import type { Figure, MaterialFigure, MaterialFigures } from '#libs/materials';

/** A number alone, or typical, least and most. */
type Given = number | readonly [typical: number, min: number | null, max: number | null];

export function figure(given: Given, source = 'the example', measuredOn: string | null = null): Figure {
  const [typical, min, max] = typeof given === 'number' ? [given, null, null] : given;
  return { typical, min, max, source, verification: measuredOn === null ? 'mirror' : 'local', measuredOn };
}

/** An invented material of which nothing is known but what is given. */
export function material(
  code: string,
  given: Partial<Record<MaterialFigure, Given>> & Partial<Pick<MaterialFigures, 'class' | 'kind'>> = {},
): MaterialFigures {
  const known = (name: MaterialFigure): Figure | null => {
    const numbers = given[name];
    return numbers === undefined ? null : figure(numbers);
  };
  return {
    code,
    name: code,
    class: given.class ?? 'neutral',
    kind: given.kind ?? 'organic',
    traits: [],
    nitrogenPercentDry: known('nitrogenPercentDry'),
    carbonPercentDry: known('carbonPercentDry'),
    carbonToNitrogen: known('carbonToNitrogen'),
    ashPercentDry: known('ashPercentDry'),
    moisturePercent: known('moisturePercent'),
    bulkDensityKgM3: known('bulkDensityKgM3'),
    caution: null,
  };
}

export const water = material('water', { kind: 'water', moisturePercent: 100, bulkDensityKgM3: 1000 });
