import { type Gap, limitsOf, missesOf } from './gap.js';
import { leastInTurn, type Solve } from './linear.js';
import type { LeastBy } from './question.js';

/** So little above a whole gram that it is the solver's rounding and not a need. */
const ROUNDING = 2e-7;
/** Of a batch; less than this is none. */
const NONE = 1e-8;
/** How far a figure may be off a target too narrow for whole grams, as a part of it. */
const TOLERANCE = 1e-6;

/**
 * The least grams of each column that bring every target into range, to the whole gram above; null where none do. By
 * cost: the least cost, and of what costs that the least mass; unknown costs count as nothing. Rounding up may step out of
 * the range again: then a gram's room is kept on all sides. A range too narrow even for that is answered in parts of a gram.
 */
export function leastGrams(gap: Gap, leastBy: LeastBy, solve: Solve): number[] | null {
  const exact = exactGrams(gap, leastBy, solve, 0);
  if (exact === null) return null;
  const whole = wholeGrams(gap, exact);
  if (keepsAll(gap, whole)) return whole;
  // What is neither at none nor at all that there is goes up by a gram at the most, and no more columns are than rows.
  const roomy = exactGrams(gap, leastBy, solve, limitsOf(gap).rows.length);
  const wholeRoomy = roomy && wholeGrams(gap, roomy);
  if (wholeRoomy && keepsAll(gap, wholeRoomy)) return wholeRoomy;
  const narrow = [whole, exact].find((grams) => keepsAll(gap, grams, TOLERANCE));
  if (narrow === undefined) throw new Error('the solver answered with a mix that is out of range');
  return narrow;
}

/** With room left in every row for so many grams of whatever changes it most. */
function exactGrams(gap: Gap, leastBy: LeastBy, solve: Solve, roomG: number): number[] | null {
  const mass = gap.columns.map(() => 1);
  const cost = gap.columns.map(({ costPerKg }) => costPerKg ?? 0);
  const { most, rows } = limitsOf(gap);
  const roomy = rows.map(({ coefficients, atLeast }) => ({
    coefficients,
    atLeast: atLeast + (roomG / gap.massG) * Math.max(0, ...coefficients.map(Math.abs)),
  }));
  const values = leastInTurn(leastBy === 'cost' ? [cost, mass] : [mass], { most, rows: roomy }, solve);
  return values?.map((value) => (value < NONE ? 0 : value * gap.massG)) ?? null;
}

function wholeGrams({ columns }: Gap, grams: readonly number[]): number[] {
  return grams.map((value, index) => Math.min(columns[index]?.mostG ?? Infinity, gramsAbove(value)));
}

export function gramsAbove(grams: number): number {
  return Math.max(0, Math.ceil(grams * (1 - ROUNDING)));
}

function keepsAll(gap: Gap, grams: readonly number[], tolerance = 0): boolean {
  return missesOf(gap, grams).every((miss) => miss <= tolerance);
}
