import { type Gap, limitsOf, missesOf, type Room } from './gap.js';
import { leastInTurn, type Solve } from './linear.js';
import type { LeastBy } from './question.js';

/** So little above a whole gram that it is the solver's rounding and not a need. */
const ROUNDING = 1e-9;
/** Of a batch; less than this is the solver's rounding too, unless the targets cannot be kept without it. */
const NONE = 1e-8;
/** How far a figure may be off a target too narrow for whole grams, as a part of it. */
const TOLERANCE = 1e-6;

/**
 * The least grams of each column that bring every target into range, to the whole gram above; null where none do. By
 * cost: the least cost, and of what costs that the least mass; unknown costs count as nothing. Rounding up may step out of
 * the range again: then a gram's room is kept on all sides. A range too narrow even for that is answered in parts of a gram.
 */
export function leastGrams(gap: Gap, leastBy: LeastBy, solve: Solve): number[] | null {
  const solved = gramsWithin(gap, leastBy, solve, 'exact');
  if (solved === null) return null;
  const exact = withoutCrumbs(gap, solved);
  const whole = wholeGrams(gap, exact);
  if (keepsAll(gap, whole)) return whole;
  const roomy = gramsWithin(gap, leastBy, solve, 'for rounding');
  const wholeRoomy = roomy && wholeGrams(gap, withoutCrumbs(gap, roomy));
  if (wholeRoomy && keepsAll(gap, wholeRoomy)) return wholeRoomy;
  const narrow = [whole, exact, solved].find((grams) => keepsAll(gap, grams, TOLERANCE));
  if (narrow === undefined) throw new Error('the solver answered with a mix that is out of range');
  return narrow;
}

function gramsWithin(gap: Gap, leastBy: LeastBy, solve: Solve, room: Room): number[] | null {
  const mass = gap.columns.map(() => 1);
  const cost = gap.columns.map(({ costPerKg }) => costPerKg ?? 0);
  const values = leastInTurn(leastBy === 'cost' ? [cost, mass] : [mass], limitsOf(gap, room), solve);
  return values?.map((value) => value * gap.massG) ?? null;
}

function withoutCrumbs({ massG }: Gap, grams: readonly number[]): number[] {
  return grams.map((value) => (value < NONE * massG ? 0 : value));
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
