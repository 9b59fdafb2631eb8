import type { Figure, Verification } from '../figures.js';
import { midpoint, point, rounded } from './figure.js';

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
 * typical. Carbon is (100 − ash) / 1.8 % of the dry matter (Cornell Composting, "Estimating Carbon Content"), which runs
 * high for sugars and low for fats.
 */
export function dryFigures(foods: Foods, source: string): DryFigures {
  const per = (of: (food: Food) => number, digits: number, how: string): Figure =>
    between(foods, (food) => rounded(of(food), digits), `${source}; ${how}`, 'derived');
  return {
    nitrogenPercentDry: per(nitrogenDry, 2, 'N over dry matter'),
    carbonToNitrogen: per((food) => (100 - ashDry(food)) / 1.8 / nitrogenDry(food), 1, 'C from ash, over N'),
    ashPercentDry: per(ashDry, 1, 'ash over dry matter'),
  };
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
