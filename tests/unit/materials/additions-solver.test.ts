import { describe, expect, it } from 'vitest';
import { type LinearProblem, type Solve, withHighs } from '#libs/materials';
import { keeping } from '../../../libs/materials/additions/highs.js';
import { dot, leastInTurn } from '../../../libs/materials/additions/linear.js';

const atLeastTwo: LinearProblem = { least: [1], most: [null], rows: [{ coefficients: [1], atLeast: 2 }] };

describe('HiGHS', () => {
  it('finds the least, within limits', async () => {
    const problem: LinearProblem = {
      least: [2, 3],
      most: [1, null],
      rows: [{ coefficients: [1, 1], atLeast: 3 }],
    };
    expect(await withHighs((solve) => solve(problem))).toEqual({ status: 'optimal', values: [1, 2] });
  });

  it('tells what is infeasible from what has no end', async () => {
    expect(await withHighs((solve) => solve({ ...atLeastTwo, most: [1] }))).toEqual({ status: 'infeasible' });
    expect(await withHighs((solve) => solve({ ...atLeastTwo, least: [-1] }))).toEqual({
      status: 'unbounded',
    });
  });

  it('refuses what is no number, and answers again after it', async () => {
    const odd = { ...atLeastTwo, least: [Number.NaN] };
    await expect(withHighs((solve) => solve(odd))).rejects.toThrow();
    expect(await withHighs((solve) => solve(atLeastTwo))).toMatchObject({ values: [2] });
  });

  it('comes to an end by its own tolerance where it comes to none by a narrower one', async () => {
    // Of a batch of a few grams of which little is known, with a range of the width of a millionth.
    const rows = [
      {
        coefficients: [0, 1, 0, 0, 1, 0, 0.00002127765941424881, 0.00031704206088436484],
        atLeast: 1.504973524493405e-7,
      },
      {
        coefficients: [
          1, -0.1607225380645956, 0.8349466282287032, 1, -0.1607225380645956, 0.9988392774619355,
          0.9988392774619355, 0.4191671107024053,
        ],
        atLeast: 0.15772276405476365,
      },
      {
        coefficients: [
          -1, 0.16072255672002314, -0.8349466255759236, -1, 0.16072255672002314, -0.99883927744328,
          -0.99883927744328, -0.41916710136711155,
        ],
        atLeast: -0.15772268668117,
      },
      {
        coefficients: [
          -0.02806446525520534, 0.11350503851897384, 0.04850556005035987, -0.02806446525520534,
          0.11350503851897384, -0.010671864119821855, 1, 0.010989334880358593,
        ],
        atLeast: -0.7066274359667841,
      },
    ];
    const most = [
      0.003942303681186695, 1.1997600911731287e-8, 100, 99.9960576951256, 99.9999999880024, 100, 100, 100,
    ];
    const outcome = await withHighs((solve) => solve({ least: [0, 0, 0, 1, 1, 1, 1, 1], most, rows }));
    if (outcome.status !== 'optimal') throw new Error(outcome.status);
    for (const { coefficients, atLeast } of rows)
      expect(dot(coefficients, outcome.values)).toBeGreaterThan(atLeast - 1e-6);
  });

  it('answers each problem as if it were the first', async () => {
    const problems: LinearProblem[] = [
      atLeastTwo,
      { ...atLeastTwo, most: [1] },
      { ...atLeastTwo, least: [-1] },
    ];
    const wide = { least: [1, 1, 1], most: [1, 1, 1], rows: [{ coefficients: [1, 2, 3], atLeast: 4 }] };
    await withHighs((solve) => {
      const first = problems.map(solve);
      solve(wide);
      expect([...problems].reverse().map(solve)).toEqual(first.reverse());
    });
  });

  it('solves without unknowns or rows', async () => {
    expect(await withHighs((solve) => solve({ least: [], most: [], rows: [] }))).toMatchObject({
      values: [],
    });
    const never = { least: [], most: [], rows: [{ coefficients: [], atLeast: 1 }] };
    expect(await withHighs((solve) => solve(never))).toEqual({ status: 'infeasible' });
  });
});

describe('what keeps a solver', () => {
  const works: Solve = () => ({ status: 'optimal', values: [7] });
  const aborts: Solve = () => {
    throw new Error('aborted');
  };
  const loading = (...solvers: Solve[]) => {
    const state = { loads: 0 };
    const load = (): Promise<Solve> => {
      const solver = solvers[Math.min(state.loads, solvers.length - 1)]!;
      state.loads += 1;
      return Promise.resolve(solver);
    };
    return { state, withSolver: keeping(load) };
  };

  it('loads it once, however often and at once it is asked', async () => {
    const { state, withSolver } = loading(works);
    await Promise.all([1, 2, 3].map(() => withSolver((solve) => solve(atLeastTwo))));
    expect(state.loads).toBe(1);
  });

  it('loads anew after an abort and does the work again', async () => {
    const { state, withSolver } = loading(aborts, works);
    expect(await withSolver((solve) => solve(atLeastTwo))).toMatchObject({ values: [7] });
    expect(await withSolver((solve) => solve(atLeastTwo))).toMatchObject({ values: [7] });
    expect(state.loads).toBe(2);
  });

  it('lets a second abort pass, and begins anew the next time', async () => {
    const { state, withSolver } = loading(aborts, aborts, works);
    await expect(withSolver((solve) => solve(atLeastTwo))).rejects.toThrow('aborted');
    expect(await withSolver((solve) => solve(atLeastTwo))).toMatchObject({ values: [7] });
    expect(state.loads).toBe(3);
  });

  it('keeps it where only the work throws, which passes at once', async () => {
    const { state, withSolver } = loading(works);
    let done = 0;
    const bad = withSolver(() => {
      done += 1;
      throw new RangeError('a bad question');
    });
    await expect(bad).rejects.toThrow('a bad question');
    await withSolver((solve) => solve(atLeastTwo));
    expect([state.loads, done]).toEqual([1, 1]);
  });

  it('tries again to load what could not be loaded', async () => {
    let loads = 0;
    const withSolver = keeping(() => {
      loads += 1;
      return loads === 1 ? Promise.reject(new Error('no such file')) : Promise.resolve(works);
    });
    expect(await withSolver((solve) => solve(atLeastTwo))).toMatchObject({ values: [7] });
  });
});

describe('the least in turn', () => {
  it('settles by the second weights what the first leave open', async () => {
    const limits = { most: [null, null], rows: [{ coefficients: [1, 1], atLeast: 4 }] };
    const values = await withHighs((solve) =>
      leastInTurn(
        [
          [5, 5],
          [2, 1],
        ],
        limits,
        solve,
      ),
    );
    expect(values![0]).toBeCloseTo(0, 8);
    expect(values![1]).toBeCloseTo(4, 6);
  });

  it('passes over weights of nothing, and is null where the rows leave nothing', async () => {
    const limits = { most: [1], rows: [{ coefficients: [1], atLeast: 0.5 }] };
    expect(await withHighs((solve) => leastInTurn([[0], [1]], limits, solve))).toEqual([0.5]);
    const never = { most: [1], rows: [{ coefficients: [1], atLeast: 2 }] };
    expect(await withHighs((solve) => leastInTurn([[1]], never, solve))).toBeNull();
  });
});
