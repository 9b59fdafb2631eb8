/** The weighted sum of the unknowns is at least so much. */
export interface Row {
  readonly coefficients: readonly number[];
  readonly atLeast: number;
}

/** Find the unknowns, none below zero, that make the weighted sum `least` as small as the rows allow. */
export interface LinearProblem {
  readonly least: readonly number[];
  /** The most each unknown may be; null where nothing limits it. */
  readonly most: readonly (number | null)[];
  readonly rows: readonly Row[];
}

export type LinearOutcome =
  | { readonly status: 'optimal'; readonly values: readonly number[] }
  | { readonly status: 'infeasible' | 'unbounded' };

/** Solves a linear problem. Throws an Error where neither an optimum was found nor that there is none. */
export type Solve = (problem: LinearProblem) => LinearOutcome;

/**
 * The unknowns that are least by the first weights and, of those, by the second, and so on; null where the rows leave
 * nothing. A later step may give up a part in a thousand million of an earlier one, which rounding eats anyway.
 */
export function leastInTurn(
  weights: readonly (readonly number[])[],
  limits: Pick<LinearProblem, 'most' | 'rows'>,
  solve: Solve,
): readonly number[] | null {
  let rows = limits.rows;
  let values: readonly number[] | null = null;
  for (const weight of weights) {
    const size = Math.max(...weight.map(Math.abs));
    if (size === 0) continue;
    const least = weight.map((value) => value / size);
    const outcome = solve({ least, most: limits.most, rows });
    if (outcome.status !== 'optimal') break;
    values = outcome.values;
    const sum = dot(least, values);
    rows = [
      ...rows,
      { coefficients: least.map((value) => -value), atLeast: -(sum + SLACK * Math.max(1, sum)) },
    ];
  }
  return values;
}

const SLACK = 1e-9;

export function dot(left: readonly number[], right: readonly number[]): number {
  return left.reduce((total, value, index) => total + value * (right[index] ?? 0), 0);
}
