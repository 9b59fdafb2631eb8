import type { MaterialFigures } from '../figures.js';
import type { MixFigure } from '../mix/figures.js';
import { type Column, type Gap, missesOf } from './gap.js';
import type { Dose, LeastBy } from './question.js';

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

/** What to measure out of each column, and the figures for which half containers would have been too coarse. */
export interface Doses {
  readonly doses: readonly Dose[];
  readonly missed: readonly MixFigure[];
}

/** How to measure out. `finer`: ten times so often as finely as a person would; null to the gram. */
interface Way {
  /** Half containers so many further down and up than those next to what is needed; null weighs what they would hold. */
  readonly further: number | null;
  readonly finer: number | null;
}

const inContainers: readonly Way[] = [
  { further: 0, finer: 0 },
  { further: 1, finer: 0 },
  { further: 0, finer: 1 },
  { further: 0, finer: null },
];
const withoutContainers: readonly Way[] = [0, 1, 2, null].map((finer) => ({ further: null, finer }));

/**
 * What to measure out of each column instead of `grams`, which must be above 0. Half containers go before litres, and these
 * before kilograms, all rounded up to what a person can measure; where that steps over the other end of a target, finer.
 * Of what misses nothing the least cost or mass is taken.
 */
export function dosesFor(gap: Gap, grams: readonly number[], leastBy: LeastBy): Doses {
  const hasContainers = gap.columns.some(({ measure }) => measure !== null);
  // Whole grams may miss a range that is too narrow for them: nothing measured out does better.
  const allowed = total(missesOf(gap, grams));
  const tried = (ways: readonly Way[]) => firstOf(ways, allowed, (way) => bestOf(gap, grams, leastBy, way));
  const counted = hasContainers ? tried(inContainers) : null;
  if (counted !== null && counted.miss <= allowed) return { doses: counted.doses, missed: [] };
  const { doses } = tried(withoutContainers);
  return { doses, missed: counted === null ? [] : missedBy(gap, counted.doses) };
}

function missedBy(gap: Gap, doses: readonly Dose[]): MixFigure[] {
  const misses = missesOf(
    gap,
    doses.map(({ massG }) => massG),
  );
  return gap.targets.filter((_, index) => (misses[index] ?? 0) > 0).map(({ figure }) => figure);
}

interface Try {
  readonly doses: readonly Dose[];
  readonly miss: number;
  readonly cost: number;
  readonly massG: number;
}

/** Of the first way that misses no more than allowed, or else of the one that misses least. */
function firstOf(ways: readonly Way[], allowed: number, tryOf: (way: Way) => Try): Try {
  let best: Try | null = null;
  for (const way of ways) {
    const one = tryOf(way);
    if (one.miss <= allowed) return one;
    if (best === null || one.miss < best.miss) best = one;
  }
  if (best === null) throw new Error('there is no way to measure out');
  return best;
}

function bestOf(gap: Gap, grams: readonly number[], leastBy: LeastBy, way: Way): Try {
  const choices = gap.columns.map((column, index) => choicesOf(column, grams[index] ?? 0, way));
  const tries = combinations(limited(choices)).map((doses): Try => {
    const masses = doses.map(({ massG }) => massG);
    const costs = masses.map((massG, index) => massG * (gap.columns[index]?.costPerKg ?? 0));
    return {
      doses,
      miss: total(missesOf(gap, masses)),
      cost: leastBy === 'cost' ? total(costs) : 0,
      massG: total(masses),
    };
  });
  return tries.reduce((best, one) => (isBetter(one, best) ? one : best));
}

function isBetter(one: Try, than: Try): boolean {
  if (one.miss !== than.miss) return one.miss < than.miss;
  return one.cost !== than.cost ? one.cost < than.cost : one.massG < than.massG;
}

/** Nothing below zero and nothing beyond what there is. */
function choicesOf(column: Column, massG: number, { further, finer }: Way): Dose[] {
  const { material, measure, mostG } = column;
  const density = densityOf(material);
  if (massG === mostG) return [allOf(column, massG)];
  if (measure === null || further === null || density === null)
    return [measuredUp(column, massG, { finer, isWeighed: measure !== null || density === null })];
  const halfG = (measure.volumeMl * density) / 2000;
  const from = Math.max(0, Math.floor(massG / halfG) - further);
  const to = Math.min(Math.floor((mostG ?? Infinity) / halfG), Math.ceil(massG / halfG) + further);
  return Array.from({ length: to - from + 1 }, (_, index) => {
    const halves = from + index;
    const volumeMl = Math.round((halves * measure.volumeMl) / 2);
    return { by: 'container', halves, massG: Math.round(halves * halfG), volumeMl };
  });
}

const allOf = ({ material }: Column, massG: number): Dose => ({
  ...{ by: 'all', halves: null, massG, volumeMl: volumeMlOf(material, massG) },
});

/** Rounded up by its volume or, where that is unknown or half containers were too coarse, by its mass. */
function measuredUp(
  column: Column,
  massG: number,
  { finer, isWeighed }: { finer: number | null; isWeighed: boolean },
): Dose {
  const { material, mostG } = column;
  const density = isWeighed ? null : densityOf(material);
  const exact: Dose = {
    ...{ by: density === null ? 'mass' : 'volume', halves: null },
    ...{ massG, volumeMl: volumeMlOf(material, massG) },
  };
  if (finer === null) return exact;
  const volumeMl = density === null ? null : stepsUp((massG / density) * 1000, finer);
  const upG =
    volumeMl === null || density === null ? stepsUp(massG, finer) : Math.round((volumeMl * density) / 1000);
  if (mostG !== null && upG > mostG) return Number.isInteger(mostG) ? allOf(column, mostG) : exact;
  return { ...exact, massG: upG, volumeMl: volumeMl ?? volumeMlOf(material, upG) };
}

/** Millilitres or grams: whole litres or kilograms from 10 on, tenths below. What is left of a division is no step. */
function stepsUp(amount: number, finer: number): number {
  const step = Math.max(1, (amount >= 10_000 ? 1000 : 100) / 10 ** finer);
  return Math.ceil(Number((amount / step).toFixed(6))) * step;
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
