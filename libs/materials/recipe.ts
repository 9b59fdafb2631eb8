import type { MaterialFigures } from './figures.js';
import type { MissingFigure } from './mix/figures.js';

/** What the parts of a recipe are parts of: wet mass, or volume as it lies. */
export const recipeBases = ['mass', 'volume'] as const;
export type RecipeBasis = (typeof recipeBases)[number];

export interface RecipePart {
  readonly material: MaterialFigures;
  /** More than 0. */
  readonly parts: number;
  /** It comes with the drop-offs and sets the size of the mix; the others are taken from stock to go with it. */
  readonly fromDropOffs: boolean;
}

/** Each material once. */
export interface Recipe {
  readonly basis: RecipeBasis;
  readonly parts: readonly RecipePart[];
}

/** So much of a material. One of the two is null where its density is not known and the other was given. */
export interface Amount {
  readonly massG: number | null;
  readonly volumeMl: number | null;
}

export interface ScaledPart {
  readonly materialCode: string;
  readonly fromDropOffs: boolean;
  /** What the recipe has of it in a mix of this size. */
  readonly expected: Amount;
  /** What is there of it. */
  readonly present: Amount & { readonly massG: number };
}

export interface ScaledRecipe {
  readonly parts: readonly ScaledPart[];
  /** What is there and in no part of the recipe. */
  readonly notInRecipe: readonly { readonly materialCode: string; readonly massG: number }[];
  /** Densities without which some amount above is null. */
  readonly missing: readonly MissingFigure[];
  /** Of the drop-offs what is there and could not be counted, since parts are by volume and its density is unknown. */
  readonly uncounted: readonly string[];
}

/** Each null where one of the two amounts, or the density, is unknown. */
export interface Difference {
  readonly massG: number | null;
  readonly volumeMl: number | null;
  /** Per cent of what the recipe has; null as well where the recipe has nothing. */
  readonly percent: number | null;
}

export interface ComparedPart extends ScaledPart {
  /** What went in less what the recipe has: below 0 where too little went in. */
  readonly difference: Difference;
}

export interface ComparedRecipe extends ScaledRecipe {
  readonly parts: readonly ComparedPart[];
}

/**
 * How much of each part goes with what is there, in grams by material code. The parts that come with the drop-offs
 * set the size together: their sum over the sum of their parts is what one part stands for. So a hub that brought less
 * of one and more of another gets as much of the rest. Nothing there asks for nothing.
 */
export function scaleRecipe(recipe: Recipe, available: ReadonlyMap<string, number>): ScaledRecipe {
  const there = recipe.parts.map((part) => ({
    ...part,
    present: presentOf(part.material, available.get(part.material.code) ?? 0),
  }));
  const [counted, uncounted] = partedBy(
    there.filter(({ fromDropOffs }) => fromDropOffs),
    ({ present }) => inBasis(recipe.basis, present) !== null,
  );
  const total = sum(counted.map(({ present }) => inBasis(recipe.basis, present) ?? 0));
  const totalParts = sum(counted.map(({ parts }) => parts));
  const named = new Set(recipe.parts.map(({ material }) => material.code));
  return {
    parts: there.map(({ material, parts, fromDropOffs, present }) => ({
      materialCode: material.code,
      fromDropOffs,
      expected: totalParts > 0 ? expectedOf(recipe.basis, material, (total * parts) / totalParts) : unknown,
      present: { massG: present.massG, volumeMl: rounded(present.volumeMl) },
    })),
    notInRecipe: [...available]
      .filter(([code, massG]) => massG > 0 && !named.has(code))
      .map(([materialCode, massG]) => ({ materialCode, massG })),
    missing: recipe.parts
      .filter(({ material }) => material.bulkDensityKgM3 === null)
      .map(({ material }) => ({ materialCode: material.code, figure: 'bulkDensityKgM3' })),
    uncounted: uncounted.map(({ material }) => material.code),
  };
}

/** What the recipe would have had for the drop-offs that went in, beside all that went in, in grams by material code. */
export function compareRecipe(recipe: Recipe, wentIn: ReadonlyMap<string, number>): ComparedRecipe {
  const scaled = scaleRecipe(recipe, wentIn);
  return { ...scaled, parts: scaled.parts.map((part) => ({ ...part, difference: differenceOf(part) })) };
}

/** What is missing of what the recipe has where so much lies in stock. */
export function missingOf(expected: Amount, inStock: Amount): Amount {
  const beyond = (need: number | null, there: number | null) =>
    need === null || there === null ? null : Math.max(0, need - there);
  return {
    massG: beyond(expected.massG, inStock.massG),
    volumeMl: beyond(expected.volumeMl, inStock.volumeMl),
  };
}

const unknown: Amount = { massG: null, volumeMl: null };

/** Volumes unrounded, so that what is scaled from them is rounded once. */
function presentOf(material: MaterialFigures, massG: number): { massG: number; volumeMl: number | null } {
  if (!(massG >= 0 && Number.isFinite(massG)))
    throw new RangeError(`mass of ${material.code} must be zero or more, got ${massG}`);
  return { massG, volumeMl: massG === 0 ? 0 : volumeOf(massG, densityOf(material)) };
}

function expectedOf(basis: RecipeBasis, material: MaterialFigures, amount: number): Amount {
  const density = densityOf(material);
  if (basis === 'mass') return { massG: rounded(amount), volumeMl: rounded(volumeOf(amount, density)) };
  const massG = density === null ? null : (amount * density) / 1000;
  return { massG: rounded(massG), volumeMl: rounded(amount) };
}

/** Of what is told: a recipe that was followed to the gram differs by nothing, and what none of went in by all of it. */
function differenceOf({ expected, present }: ScaledPart): Difference {
  if (expected.massG === null) return { massG: null, volumeMl: null, percent: null };
  const massG = present.massG - expected.massG;
  const percent = expected.massG === 0 ? null : (massG / expected.massG) * 100;
  const isKnown = present.volumeMl !== null && expected.volumeMl !== null;
  const volumeMl = isKnown ? present.volumeMl - expected.volumeMl : null;
  // The one was worked out from grams and the other not, so they may be a millilitre apart where the grams are the same.
  return { massG, volumeMl: massG === 0 && isKnown ? 0 : volumeMl, percent };
}

const inBasis = (basis: RecipeBasis, amount: Amount) => (basis === 'mass' ? amount.massG : amount.volumeMl);

const densityOf = (material: MaterialFigures | undefined): number | null =>
  material?.bulkDensityKgM3?.typical ?? null;

const volumeOf = (massG: number, densityKgM3: number | null): number | null =>
  densityKgM3 === null ? null : (massG / densityKgM3) * 1000;

// A difference that rounds to nothing is 0, never −0.
const rounded = <N extends number | null>(amount: N): N | number =>
  amount === null ? amount : Math.round(amount) + 0;

const sum = (amounts: readonly number[]): number => amounts.reduce((total, amount) => total + amount, 0);

function partedBy<T>(all: readonly T[], isIn: (one: T) => boolean): [T[], T[]] {
  return [all.filter(isIn), all.filter((one) => !isIn(one))];
}
