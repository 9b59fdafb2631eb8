import type { MaterialFigures } from '../figures.js';
import { type Column, type Gap, missesOf } from './gap.js';
import type { LeastBy } from './question.js';

/** Ten materials with two choices each, or five with four; of any further one the most is taken. */
const MOST_TRIES = 1024;

/** What a litre of it weighs as it lies, in kg/m³; of water by definition, whether the list gives it or not. */
function densityOf(material: MaterialFigures): number | null {
  return material.bulkDensityKgM3?.typical ?? (material.kind === 'water' ? 1000 : null);
}

/** Null where the density is unknown. */
export function volumeMlOf(material: MaterialFigures, massG: number): number | null {
  const density = densityOf(material);
  return density === null ? null : Math.round((massG / density) * 1000);
}

/** So much of a column: a number of half containers; null where it is not measured in any, or all there is goes in. */
export interface Dose {
  readonly halves: number | null;
  readonly massG: number;
}

/**
 * What to measure out of each column instead of `grams`, which must be above 0. Tried are the half containers below and
 * above; where none of these keep every target, one further each way too. Taken is what misses least in all, and of what
 * misses nothing the least cost or mass.
 */
export function dosesFor(gap: Gap, grams: readonly number[], leastBy: LeastBy): readonly Dose[] {
  const near = nearest(gap, grams, leastBy, 0);
  return (near.miss === 0 ? near : nearest(gap, grams, leastBy, 1)).doses;
}

interface Try {
  readonly doses: readonly Dose[];
  readonly miss: number;
  readonly cost: number;
  readonly massG: number;
}

function nearest(gap: Gap, grams: readonly number[], leastBy: LeastBy, further: number): Try {
  const choices = gap.columns.map((column, index) => choicesOf(column, grams[index] ?? 0, further));
  const tries = combinations(limited(choices)).map((doses): Try => {
    const misses = missesOf(
      gap,
      doses.map(({ massG }) => massG),
    );
    const costs = doses.map(({ massG }, index) => massG * (gap.columns[index]?.costPerKg ?? 0));
    return {
      doses,
      miss: total(misses),
      cost: leastBy === 'cost' ? total(costs) : 0,
      massG: total(doses.map(({ massG }) => massG)),
    };
  });
  return tries.reduce((best, one) => (isBetter(one, best) ? one : best));
}

function isBetter(one: Try, than: Try): boolean {
  if (one.miss !== than.miss) return one.miss < than.miss;
  return one.cost !== than.cost ? one.cost < than.cost : one.massG < than.massG;
}

/** Half containers about `massG`, none below zero and none beyond what there is. */
function choicesOf({ material, measure, mostG }: Column, massG: number, further: number): Dose[] {
  const density = densityOf(material);
  if (measure === null || density === null || massG === mostG) return [{ halves: null, massG }];
  const halfG = (measure.volumeMl * density) / 2000;
  const from = Math.max(0, Math.floor(massG / halfG) - further);
  const to = Math.min(Math.floor((mostG ?? Infinity) / halfG), Math.ceil(massG / halfG) + further);
  return Array.from({ length: to - from + 1 }, (_, index) => ({
    halves: from + index,
    massG: Math.round((from + index) * halfG),
  }));
}

function limited(choices: readonly Dose[][]): Dose[][] {
  let tries = 1;
  return choices.map((doses) => {
    const few = tries * doses.length > MOST_TRIES ? doses.slice(-1) : doses;
    tries *= few.length;
    return few;
  });
}

function combinations(choices: readonly Dose[][]): Dose[][] {
  return choices.reduce<Dose[][]>(
    (all, doses) => all.flatMap((some) => doses.map((dose) => [...some, dose])),
    [[]],
  );
}

function total(numbers: readonly number[]): number {
  return numbers.reduce((sum, number) => sum + number, 0);
}
