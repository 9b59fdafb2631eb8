import type { Figure, Verification } from '../figures.js';
import { carbonPercentFromAsh } from '../mix/carbon.js';
import { midpoint, point, ranged, rounded } from './figure.js';

/** A food as its table gives it: per cent of the food as it is eaten. */
export interface Food {
  readonly water: number;
  readonly nitrogen: number;
  readonly ash: number;
}

/** One food, or two between which the material lies. */
export type Foods = readonly [Food] | readonly [Food, Food];

interface DryFigures {
  readonly nitrogenPercentDry: Figure;
  readonly carbonToNitrogen: Figure;
  readonly ashPercentDry: Figure;
}

/**
 * Nitrogen, C:N and ash of the dry matter of a food; two foods are the ends of a range whose middle stands for what is
 * typical, and the typical C:N is that of the middle. Carbon is taken from ash, which runs high for sugars and low for fats.
 */
export function dryFigures(foods: Foods, source: string): DryFigures {
  const per = (of: (food: Food) => number, digits: number, how: string): Figure =>
    between(foods, (food) => rounded(of(food), digits), `${source}; ${how}`, 'derived');
  const nitrogenPercentDry = per(nitrogenDry, 2, 'N over dry matter');
  const ashPercentDry = per(ashDry, 1, 'ash over dry matter');
  const ratio = (ash: number, nitrogen: number) => rounded(carbonPercentFromAsh(ash) / nitrogen, 1);
  const ratios = foods.map((food) => ratio(ashDry(food), nitrogenDry(food)));
  const [min, max] = foods.length === 1 ? [null, null] : [Math.min(...ratios), Math.max(...ratios)];
  const typical = ratio(ashPercentDry.typical, nitrogenPercentDry.typical);
  const carbonToNitrogen = ranged(typical, min, max, `${source}; C from ash, over N`, 'derived');
  return { nitrogenPercentDry, carbonToNitrogen, ashPercentDry };
}

/** Moisture as the table itself gives it. */
export function moistureOf(
  foods: Foods,
  source: string,
  verification: Verification,
): { readonly moisturePercent: Figure } {
  return { moisturePercent: between(foods, ({ water }) => water, source, verification) };
}

/** Most tables give protein, which is nitrogen times a factor: 6.25 unless told otherwise. */
export function nitrogenOf(protein: number, factor = 6.25): number {
  return protein / factor;
}

const nitrogenDry = ({ nitrogen, water }: Food) => (nitrogen / (100 - water)) * 100;
const ashDry = ({ ash, water }: Food) => (ash / (100 - water)) * 100;

function between(
  [one, other]: Foods,
  of: (food: Food) => number,
  source: string,
  verification: Verification,
): Figure {
  if (!other) return point(of(one), source, verification);
  const ends = [of(one), of(other)];
  return midpoint(Math.min(...ends), Math.max(...ends), source, verification);
}
