import type { MaterialFigure, MaterialFigures } from '../figures.js';
import { carbonSpanFromAsh, MOST_CARBON_PERCENT } from './carbon.js';
import { type Span, spanOf } from './span.js';

/** Carbon and nitrogen, in per cent of the dry matter. */
export interface Balance {
  readonly carbon: number;
  readonly nitrogen: number;
}

interface Region {
  readonly typical: Balance;
  /** Every balance that the ranges allow is a mean of these. */
  readonly corners: readonly Balance[];
}

export interface BalanceRange extends Region {
  /** The figures it was worked out from. */
  readonly from: readonly MaterialFigure[];
}

interface Way {
  readonly from: readonly [MaterialFigure, MaterialFigure];
  readonly region: (first: Span, second: Span) => Region;
}

/** Any two of N, C and C:N give the third; ash stands in for C where nothing better is known. */
const ways: readonly Way[] = [
  { from: ['nitrogenPercentDry', 'carbonToNitrogen'], region: byNitrogenAndRatio },
  { from: ['nitrogenPercentDry', 'carbonPercentDry'], region: byNitrogenAndCarbon },
  { from: ['carbonPercentDry', 'carbonToNitrogen'], region: byCarbonAndRatio },
  {
    from: ['nitrogenPercentDry', 'ashPercentDry'],
    region: (nitrogen, ash) => byNitrogenAndCarbon(nitrogen, carbonSpanFromAsh(ash)),
  },
  {
    from: ['ashPercentDry', 'carbonToNitrogen'],
    region: (ash, ratio) => byCarbonAndRatio(carbonSpanFromAsh(ash), ratio),
  },
];

/**
 * The carbon and nitrogen of an organic material; null where too little is known. Where several pairs of figures are known,
 * the one with most figures measured at the site itself, else the first above. A pair that cannot be (more carbon and
 * nitrogen than dry matter, a C:N without nitrogen) is passed over: a measured N may not go with a published C:N.
 */
export function balanceOf(material: MaterialFigures): BalanceRange | null {
  const possible = ways.flatMap(({ from: [first, second], region }) => {
    const [one, other] = [material[first], material[second]];
    if (one === null || other === null) return [];
    const { typical, corners } = region(spanOf(one), spanOf(other));
    const noRatio = second === 'carbonToNitrogen' && typical.nitrogen === 0;
    if (noRatio || typical.carbon + typical.nitrogen > 100) return [];
    const measured = [one, other].filter(({ measuredOn }) => measuredOn !== null).length;
    return [{ typical, corners, from: [first, second], measured }];
  });
  const best = Math.max(...possible.map(({ measured }) => measured));
  return possible.find(({ measured }) => measured === best) ?? null;
}

/** What else would have to be known for a balance; empty where there is one. */
export function lackingForBalance(material: MaterialFigures): MaterialFigure[] {
  if (balanceOf(material) !== null) return [];
  const carbonOrRatio = [material.carbonPercentDry, material.ashPercentDry, material.carbonToNitrogen];
  if (material.nitrogenPercentDry !== null) return ['carbonToNitrogen'];
  return carbonOrRatio.every((figure) => figure === null)
    ? ['nitrogenPercentDry', 'carbonToNitrogen']
    : ['nitrogenPercentDry'];
}

/*
 * Why a few corners are enough. Draw carbon against nitrogen. "N from n₀ to n₁" and "C from c₀ to c₁" are strips; "C:N from
 * r₀ to r₁" is the wedge between two lines through the origin; "C at most so much" is a half-plane. Any two of them with
 * that limit leave a convex polygon, and each point of a convex polygon is a mean of its corners.
 */

const limitFor = (typicalCarbon: number): number => Math.max(MOST_CARBON_PERCENT, typicalCarbon);

/**
 * Strip and wedge. The limit cuts the upper line C = r₁N at N = limit / r₁, and leaves nothing above N = limit / r₀, where
 * even the lower line meets it. So its corners are at n₀ on both lines, at the highest N on both, and where the limit begins.
 */
function byNitrogenAndRatio(nitrogen: Span, ratio: Span): Region {
  const typical = { carbon: nitrogen.typical * ratio.typical, nitrogen: nitrogen.typical };
  const limit = limitFor(typical.carbon);
  const highest = Math.min(nitrogen.max, limit / ratio.min);
  const bend = Math.min(Math.max(limit / ratio.max, nitrogen.min), highest);
  const at = (n: number, r: number): Balance => ({ carbon: Math.min(n * r, limit), nitrogen: n });
  const corners = [
    at(nitrogen.min, ratio.min),
    at(nitrogen.min, ratio.max),
    at(bend, ratio.max),
    at(highest, ratio.max),
    at(highest, ratio.min),
  ];
  return { typical, corners };
}

/** Two strips: a rectangle. */
function byNitrogenAndCarbon(nitrogen: Span, carbon: Span): Region {
  const most = Math.min(carbon.max, limitFor(carbon.typical));
  return {
    typical: { carbon: carbon.typical, nitrogen: nitrogen.typical },
    corners: [carbon.min, most].flatMap((c) =>
      [nitrogen.min, nitrogen.max].map((n) => ({ carbon: c, nitrogen: n })),
    ),
  };
}

/** Strip and wedge, the strip along the other axis: the wedge cuts off each end of it. */
function byCarbonAndRatio(carbon: Span, ratio: Span): Region {
  const most = Math.min(carbon.max, limitFor(carbon.typical));
  return {
    typical: { carbon: carbon.typical, nitrogen: carbon.typical / ratio.typical },
    corners: [carbon.min, most].flatMap((c) =>
      [ratio.min, ratio.max].map((r) => ({ carbon: c, nitrogen: c / r })),
    ),
  };
}
