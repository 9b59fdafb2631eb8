import highs, { type Highs, type ModelData } from 'highs';
import type { LinearProblem, LinearOutcome, Solve } from './linear.js';

/** The package's types are of its CommonJS build, where the function is a member; what is imported is the function. */
const load = highs as unknown as typeof highs.default;

/** So that a row is kept to far better than a gram. */
const TOLERANCE = 1e-9;
/** The solver's own, for where it comes to no end with the other. */
const EASY_TOLERANCE = 1e-7;

/** Does work with a solver that is loaded when first asked for and kept. */
export type WithSolver = <Answer>(work: (solve: Solve) => Answer) => Promise<Answer>;

/**
 * With HiGHS (highs.dev), compiled to WebAssembly and run in this process, once for all; a solve takes about a tenth of
 * a millisecond, and nothing else happens meanwhile.
 */
export const withHighs: WithSolver = keeping(async () => {
  const solve = solveWith(await load());
  // The first solve compiles what it runs through, so it is not left to whoever asks first.
  solve({ least: [1, 1], most: [1, null], rows: [{ coefficients: [1, 2], atLeast: 3 }] });
  return solve;
});

/**
 * Keeps what `load` gives until a solve throws, since an instance that was aborted is of no use any more: then loads
 * anew and does the work once more. What the work itself throws passes.
 */
export function keeping(load: () => Promise<Solve>): WithSolver {
  let kept: Promise<Solve> | null = null;
  return async (work) => {
    for (let again = true; ; again = false) {
      const mine = (kept ??= load());
      let broken = true;
      try {
        const solve = await mine;
        broken = false;
        return work((problem) => {
          broken = true;
          const outcome = solve(problem);
          broken = false;
          return outcome;
        });
      } catch (error) {
        if (broken && kept === mine) kept = null;
        if (!broken || !again) throw error;
      }
    }
  };
}

/**
 * Solves with a loaded instance, in one model that is filled anew each time: to make one takes as long as to solve it. The
 * problem is handed over as numbers, so no text of anybody's can be misread.
 */
function solveWith(highs: Highs): Solve {
  const { optimal, infeasible, unbounded, unknown } = highs.constants.modelStatus;
  const model = highs.createModel();
  model.options.set({
    output_flag: false,
    // Reducing a problem as small as these first takes longer than solving it.
    presolve: 'off',
    solver: 'simplex',
  });
  const runOn = (data: ModelData, tolerance: number) => {
    model.options.set({ primal_feasibility_tolerance: tolerance, dual_feasibility_tolerance: tolerance });
    model.passModel(data);
    model.run();
    return model.getModelStatus();
  };
  return (problem): LinearOutcome => {
    // HiGHS calls a model without unknowns empty, and does not look at its rows.
    if (problem.least.length === 0) return withoutUnknowns(problem);
    const data = modelOf(problem, highs.infinity);
    const strict = runOn(data, TOLERANCE);
    const status = strict === unknown ? runOn(data, EASY_TOLERANCE) : strict;
    if (status === infeasible) return { status: 'infeasible' };
    if (status === unbounded) return { status: 'unbounded' };
    if (status !== optimal) throw new Error(`the solver ended without an answer, in status ${status}`);
    return { status: 'optimal', values: [...model.getSolution().colValue] };
  };
}

function withoutUnknowns({ rows }: LinearProblem): LinearOutcome {
  const kept = rows.every(({ atLeast }) => atLeast <= TOLERANCE);
  return kept ? { status: 'optimal', values: [] } : { status: 'infeasible' };
}

/** In typed arrays, which go over without a look at each number: that takes longer than solving. */
function modelOf({ least, most, rows }: LinearProblem, infinity: number): ModelData {
  const columns = least.length;
  const starts = new Int32Array(rows.length + 1);
  const indices = new Int32Array(rows.length * columns);
  const values = new Float64Array(rows.length * columns);
  rows.forEach(({ coefficients }, row) => {
    starts[row + 1] = (row + 1) * columns;
    values.set(coefficients, row * columns);
    for (let column = 0; column < columns; column += 1) indices[row * columns + column] = column;
  });
  return {
    numCols: columns,
    numRows: rows.length,
    colCost: Float64Array.from(least),
    colLower: new Float64Array(columns),
    colUpper: Float64Array.from(most, (value) => value ?? infinity),
    rowLower: Float64Array.from(rows, ({ atLeast }) => atLeast),
    rowUpper: new Float64Array(rows.length).fill(infinity),
    matrix: { format: 'csr', numRows: rows.length, numCols: columns, starts, indices, values },
  };
}
