import type { MaterialFigure, MaterialFigures } from '../figures.js';
import type { MissingFigure, Mix, MixFigure, MixPart } from './figures.js';

/**
 * The figures of a mix, from wet masses. Carbon and nitrogen are summed as masses and divided once; ratios are never
 * averaged. Formulas: R = Σ Q·C·(100−M) / Σ Q·N·(100−M) with %C = %N × C:N, and G = Σ Q·M / Σ Q; definitions from
 * Cornell Composting, "Moisture and Carbon/Nitrogen Ratio Calculation" (compost.css.cornell.edu/calc/2.html).
 * The volume is the sum of the parts' volumes: it ignores that small particles and water settle between large ones, so
 * a real pile is smaller and denser. A figure that is unknown for some parts is computed from the others, and says so.
 * Throws RangeError on a negative or non-finite mass and on figures that cannot be.
 */
export function mixOf(parts: readonly MixPart[]): Mix {
  parts.forEach(requirePossible);
  const present = parts.filter((part) => part.massG > 0);
  const massG = sum(present, (part) => part.massG);
  const estimatedG = sum(present, (part) => part.estimatedG);
  const known: Record<MixFigure, MixPart[]> = {
    carbonToNitrogen: present.filter((part) => unknownFor('carbonToNitrogen', part.material).length === 0),
    moisturePercent: present.filter((part) => part.material.moisturePercent !== null),
    bulkDensityKgM3: present.filter((part) => part.material.bulkDensityKgM3 !== null),
    freeAirSpacePercent: [],
  };
  const volumeMl = sum(
    known.bulkDensityKgM3,
    (part) => (part.massG / (part.material.bulkDensityKgM3?.typical ?? 1)) * 1000,
  );
  const knownMassG = (figure: MixFigure): number => sum(known[figure], (part) => part.massG);
  const share = (figure: MixFigure): number => ratio(knownMassG(figure), massG) ?? 0;
  return {
    massG,
    weighedG: massG - estimatedG,
    estimatedG,
    volumeMl: known.bulkDensityKgM3.length === present.length ? Math.round(volumeMl) : null,
    value: {
      carbonToNitrogen: ratio(sum(known.carbonToNitrogen, carbonG), sum(known.carbonToNitrogen, nitrogenG)),
      moisturePercent: ratio(
        sum(known.moisturePercent, (part) => part.massG * (part.material.moisturePercent?.typical ?? 0)),
        knownMassG('moisturePercent'),
      ),
      bulkDensityKgM3: ratio(knownMassG('bulkDensityKgM3') * 1000, volumeMl),
      freeAirSpacePercent: null,
    },
    range: {
      carbonToNitrogen: null,
      moisturePercent: null,
      bulkDensityKgM3: null,
      freeAirSpacePercent: null,
    },
    knownMassShare: {
      carbonToNitrogen: share('carbonToNitrogen'),
      moisturePercent: share('moisturePercent'),
      bulkDensityKgM3: share('bulkDensityKgM3'),
      freeAirSpacePercent: share('freeAirSpacePercent'),
    },
    missing: missingIn(present),
    withoutRange: [],
    greensToBrowns: { byMass: null, byVolume: null },
  };
}

/**
 * Moisture in per cent of the wet mass, from a sample weighed before and after drying: (wet − dry) / wet × 100.
 * Source: Cornell Composting, "Measuring Moisture Content". Throws RangeError unless wet > 0 and 0 ≤ dry ≤ wet.
 */
export function moisturePercentFromDrying(wetG: number, dryG: number): number {
  if (!(wetG > 0 && dryG >= 0 && dryG <= wetG)) throw new RangeError(`cannot dry ${wetG} g to ${dryG} g`);
  return ((wetG - dryG) / wetG) * 100;
}

function unknownFor(figure: MixFigure, material: MaterialFigures): MaterialFigure[] {
  const contributesNeither = material.kind !== 'organic';
  if (figure === 'carbonToNitrogen' && contributesNeither) return [];
  const needs: MaterialFigure[] =
    figure === 'carbonToNitrogen'
      ? ['nitrogenPercentDry', 'carbonToNitrogen', 'moisturePercent']
      : figure === 'freeAirSpacePercent'
        ? []
        : [figure];
  return needs.filter((need) => material[need] === null);
}

function missingIn(parts: readonly MixPart[]): MissingFigure[] {
  const materials = new Map(parts.map(({ material }) => [material.code, material]));
  return [...materials.values()].flatMap((material) => {
    const figures = new Set([
      ...unknownFor('carbonToNitrogen', material),
      ...unknownFor('moisturePercent', material),
      ...unknownFor('bulkDensityKgM3', material),
    ]);
    return [...figures].map((figure) => ({ materialCode: material.code, figure }));
  });
}

function nitrogenG({ material, massG }: MixPart): number {
  if (material.kind !== 'organic') return 0;
  const dryG = massG * (1 - (material.moisturePercent?.typical ?? 0) / 100);
  return (dryG * (material.nitrogenPercentDry?.typical ?? 0)) / 100;
}

function carbonG(part: MixPart): number {
  return nitrogenG(part) * (part.material.carbonToNitrogen?.typical ?? 0);
}

function requirePossible({ material, massG }: MixPart): void {
  const typical = (figure: MaterialFigure): number | null => material[figure]?.typical ?? null;
  const nitrogen = typical('nitrogenPercentDry');
  const carbonToNitrogen = typical('carbonToNitrogen');
  const moisture = typical('moisturePercent');
  const density = typical('bulkDensityKgM3');
  const percent = (value: number | null): boolean => value === null || (value >= 0 && value <= 100);
  const positive = (value: number | null): boolean => value === null || (value > 0 && Number.isFinite(value));
  const possible = percent(nitrogen) && percent(moisture) && positive(carbonToNitrogen) && positive(density);
  if (!possible || (nitrogen ?? 0) * (carbonToNitrogen ?? 0) > 100) {
    throw new RangeError(
      `the figures of ${material.code} cannot be: a percentage lies outside 0 to 100, or a ratio or density is not above 0`,
    );
  }
  if (!(massG >= 0 && Number.isFinite(massG)))
    throw new RangeError(`mass of ${material.code} must be zero or more, got ${massG}`);
}

function sum(parts: readonly MixPart[], of: (part: MixPart) => number): number {
  return parts.reduce((total, part) => total + of(part), 0);
}

function ratio(numerator: number, denominator: number): number | null {
  return denominator > 0 ? numerator / denominator : null;
}
