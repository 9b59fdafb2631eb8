import type { MaterialFigure, MaterialFigures } from '../figures.js';
import { lackingForOrganicMatter, occupiedSpan, organicMatterOf } from './air-space.js';
import { balanceOf, lackingForBalance } from './balance.js';
import type { MixFigure, MixPart } from './figures.js';
import { type Heap, heapsOf, massFrom, massSpanOf } from './parts.js';
import { spanOf } from './span.js';

/** What a material adds to the sum above the line, and to the sum below it. */
export type Choice = readonly [above: number, below: number];

/** A material in a figure that is one sum over another. */
export interface Term {
  readonly typical: Choice;
  /** Enough for an extreme of the figure, whatever the other materials are: see each function. */
  readonly corners: readonly Choice[];
  /** The figures it was worked out from. */
  readonly from: readonly MaterialFigure[];
}

export interface Lacking {
  readonly lacking: readonly MaterialFigure[];
}

/**
 * Every figure of a mix is Σ above / Σ below, so it can be blended, and held against a target, without dividing first:
 *
 * | figure              | above               | below       | the figure is    |
 * | ------------------- | ------------------- | ----------- | ---------------- |
 * | carbonToNitrogen    | carbon, g × 100     | nitrogen    | the ratio        |
 * | moisturePercent     | water, g × 100      | mass, g     | the ratio        |
 * | bulkDensityKgM3     | mass, g             | volume, L   | the ratio        |
 * | freeAirSpacePercent | occupied volume, L  | volume, L   | 100 × (1 − ratio), no less than 0 |
 *
 * All four are linear in the mass. `lacking` tells what would have to be known instead.
 *
 * A corner is enough if, for each λ ≥ 0, it makes above − λ·below greatest (or least) over all that the ranges allow; that
 * is what the search for the extreme asks (`range.ts`).
 */
export function termOf(figure: MixFigure, part: MixPart): Term | Lacking {
  return terms[figure](part);
}

const terms: Readonly<Record<MixFigure, (part: MixPart) => Term | Lacking>> = {
  carbonToNitrogen: balanceTerm,
  moisturePercent: moistureTerm,
  bulkDensityKgM3: densityTerm,
  freeAirSpacePercent: airTerm,
};

const nothing: Term = { typical: [0, 0], corners: [[0, 0]], from: [] };

/** Dry mass × (carbon, nitrogen): linear in each, so both are at an end; the ends of dry mass are those of mass and moisture. */
function balanceTerm(part: MixPart): Term | Lacking {
  const { kind, moisturePercent } = part.material;
  if (kind !== 'organic') return nothing;
  const balance = balanceOf(part.material);
  if (balance === null || moisturePercent === null)
    return {
      lacking: [...lackingForBalance(part.material), ...unknown(part.material, 'moisturePercent')],
    };
  const mass = massSpanOf(part);
  const moisture = spanOf(moisturePercent);
  const dryG = (massG: number, percent: number): number => massG * (1 - percent / 100);
  const leastG = dryG(mass.min, moisture.max);
  const mostG = dryG(mass.max, moisture.min);
  const typicalG = dryG(mass.typical, moisture.typical);
  return {
    typical: [typicalG * balance.typical.carbon, typicalG * balance.typical.nitrogen],
    corners: balance.corners.flatMap(({ carbon, nitrogen }): Choice[] => [
      [leastG * carbon, leastG * nitrogen],
      [mostG * carbon, mostG * nitrogen],
    ]),
    from: [...balance.from, 'moisturePercent', ...massFrom(part)],
  };
}

/** Mass × (moisture, 1): linear in each, so both are at an end. */
function moistureTerm(part: MixPart): Term | Lacking {
  const { kind, moisturePercent } = part.material;
  const mass = massSpanOf(part);
  if (kind === 'water') return point([100 * part.massG, part.massG]);
  if (moisturePercent === null) return { lacking: ['moisturePercent'] };
  const moisture = spanOf(moisturePercent);
  return {
    typical: [mass.typical * moisture.typical, mass.typical],
    corners: [mass.min, mass.max].flatMap((massG) =>
      [moisture.min, moisture.max].map((percent): Choice => [massG * percent, massG]),
    ),
    from: ['moisturePercent', ...massFrom(part)],
  };
}

/**
 * (mass, volume). In the density ρ, the mass never falls and the volume never grows (see `heapsOf`), so mass − λ·volume is
 * greatest at the highest ρ and least at the lowest, or else at what was recorded. Water fills pores and adds no volume: our
 * judgement, on the safe side for air.
 */
function densityTerm(part: MixPart): Term | Lacking {
  if (part.material.kind === 'water') return point([part.massG, 0]);
  const heaps = heapsOf(part);
  if (heaps === null) return { lacking: ['bulkDensityKgM3'] };
  const choice = ({ massG, volumeL }: Heap): Choice => [massG, volumeL];
  return {
    typical: choice(heaps.recorded),
    corners: heaps.corners.map(choice),
    from: ['bulkDensityKgM3'],
  };
}

/** (mass × occupied per gram, volume): as above in the density, and linear in what is occupied, so both are at an end. */
function airTerm(part: MixPart): Term | Lacking {
  const { kind, moisturePercent } = part.material;
  if (kind === 'water') return point([part.massG / 1000, 0]);
  const heaps = heapsOf(part);
  const organic = organicMatterOf(part.material);
  if (heaps === null || organic === null || moisturePercent === null) {
    return {
      lacking: [
        ...unknown(part.material, 'moisturePercent'),
        ...(heaps === null ? (['bulkDensityKgM3'] as const) : []),
        ...(organic === null ? lackingForOrganicMatter(part.material) : []),
      ],
    };
  }
  const occupied = occupiedSpan(spanOf(moisturePercent), organic.percentDry);
  const choice = ({ massG, volumeL }: Heap, lPerG: number): Choice => [massG * lPerG, volumeL];
  return {
    typical: choice(heaps.recorded, occupied.typical),
    corners: heaps.corners.flatMap((heap) => [choice(heap, occupied.min), choice(heap, occupied.max)]),
    from: ['moisturePercent', 'bulkDensityKgM3', ...organic.from],
  };
}

function unknown(material: MaterialFigures, figure: MaterialFigure): MaterialFigure[] {
  return material[figure] === null ? [figure] : [];
}

function point(choice: Choice): Term {
  return { typical: choice, corners: [choice], from: [] };
}
