/**
 * The linear problems of what to add, solved by two solvers that share nothing: HiGHS (highs.dev, revised simplex in C++)
 * and YALPS (npm `yalps` 0.6.4, a tableau simplex in TypeScript). They agree on what is possible and on the least mass and
 * cost within a millionth.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { solve as yalps } from 'yalps';
import {
  additionsFor,
  type AdditionsAnswer,
  type AdditionsQuestion,
  type LinearOutcome,
  type LinearProblem,
  type Solve,
  withHighs,
} from '#libs/materials';
import { questions } from '../../unit/materials/additions-arbitrary.js';

const RELATIVE = 1e-6;

const yalpsSolve: Solve = ({ least, most, rows }): LinearOutcome => {
  const bounds = most.flatMap((limit, column): [string, { max: number }][] =>
    limit === null ? [] : [[`most${column}`, { max: limit }]],
  );
  const { status, variables } = yalps(
    {
      direction: 'minimize',
      objective: 'least',
      constraints: new Map<string, { min: number } | { max: number }>([
        ...rows.map(({ atLeast }, row): [string, { min: number }] => [`row${row}`, { min: atLeast }]),
        ...bounds,
      ]),
      variables: least.map((weight, column): [string, [string, number][]] => [
        String(column),
        [
          ['least', weight],
          ...rows.map(({ coefficients }, row): [string, number] => [`row${row}`, coefficients[column]!]),
          [`most${column}`, 1],
        ],
      ]),
    },
    { includeZeroVariables: true, precision: 1e-10 },
  );
  if (status === 'infeasible' || status === 'unbounded') return { status };
  if (status !== 'optimal') throw new Error(`ended as ${status}`);
  const found = new Map(variables);
  return { status, values: least.map((_, column) => found.get(String(column)) ?? 0) };
};

const objective = ({ least }: LinearProblem, { values }: { values: readonly number[] }): number =>
  least.reduce((total, weight, column) => total + weight * values[column]!, 0);

function expectClose(one: number, other: number): void {
  expect(Math.abs(one - other)).toBeLessThanOrEqual(RELATIVE * Math.max(1, Math.abs(other)));
}

const sample = (seed: number, numRuns: number): AdditionsQuestion[] =>
  fc.sample(questions(12), { seed, numRuns });

describe('two solvers', () => {
  it('agree on every problem that 250 questions put to them', async () => {
    const counted: Record<string, number> = {};
    await withHighs((highs) => {
      const both: Solve = (problem) => {
        const one = highs(problem);
        const other = yalpsSolve(problem);
        expect(other.status).toBe(one.status);
        if (one.status === 'optimal' && other.status === 'optimal')
          expectClose(objective(problem, one), objective(problem, other));
        counted[one.status] = (counted[one.status] ?? 0) + 1;
        return one;
      };
      for (const question of sample(20_261_125, 250)) additionsFor(question, both);
    });
    expect(counted['optimal']).toBeGreaterThan(300);
    expect(counted['infeasible']).toBeGreaterThan(200);
  });

  it.each(['mass', 'cost'] as const)('lead to the same answer, least by %s', async (leastBy) => {
    const massOf = ({ additions }: AdditionsAnswer) =>
      additions.reduce((total, { massG }) => total + massG, 0);
    let found = 0;
    await withHighs((highs) => {
      for (const question of sample(4, 200)) {
        const one = additionsFor({ ...question, leastBy }, highs);
        const other = additionsFor({ ...question, leastBy }, yalpsSolve);
        expect(other.state).toBe(one.state);
        expect(other.unmet.map(({ target }) => target.figure)).toEqual(
          one.unmet.map(({ target }) => target.figure),
        );
        if (one.state !== 'found') continue;
        found += 1;
        // A gram above each, of at most thirteen.
        expect(Math.abs(massOf(one) - massOf(other))).toBeLessThanOrEqual(13 + RELATIVE * massOf(other));
        expect(Math.abs((one.cost ?? 0) - (other.cost ?? 0))).toBeLessThanOrEqual(
          0.01 + RELATIVE * (other.cost ?? 0),
        );
      }
    });
    expect(found).toBeGreaterThan(30);
  });
});
