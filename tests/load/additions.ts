import {
  additionsFor,
  type AdditionsAnswer,
  type AdditionsQuestion,
  type Candidate,
  type LinearProblem,
  type MaterialFigures,
  type Solve,
  startingMaterials,
  targetsAsked,
  withHighs,
} from '#libs/materials';
import { type Figure, median } from './measure.js';

const CANDIDATES = 30;
const ROUNDS = 60;

/** Thirty materials of the starting list, each of a slightly other make: the list has not thirty whose figures are all known. */
function thirty(): MaterialFigures[] {
  const known = startingMaterials.filter(
    ({ nitrogenPercentDry, carbonToNitrogen, moisturePercent, bulkDensityKgM3 }) =>
      nitrogenPercentDry !== null &&
      carbonToNitrogen !== null &&
      moisturePercent !== null &&
      bulkDensityKgM3 !== null,
  );
  return Array.from({ length: CANDIDATES }, (_, index) => {
    const like = known[index % known.length];
    if (like?.moisturePercent == null)
      throw new Error('the starting list has no material whose figures are known');
    const moisture = like.moisturePercent.typical * (1 - 0.01 * Math.floor(index / known.length));
    return {
      ...like,
      code: `${like.code}-${index}`,
      moisturePercent: { ...like.moisturePercent, typical: moisture, min: null, max: null },
    };
  });
}

/** A hundred kilograms each of five wet materials: too dense, too rich in nitrogen and too wet to leave so. */
function wetBatch(materials: readonly MaterialFigures[]): AdditionsQuestion['parts'] {
  const moisture = (material: MaterialFigures) => material.moisturePercent?.typical ?? 0;
  return [...materials]
    .sort((a, b) => moisture(b) - moisture(a))
    .slice(0, 5)
    .map((material) => ({ material, massG: 100_000, estimatedG: 0, estimatedMl: 0 }));
}

interface Case {
  readonly name: string;
  readonly state: AdditionsAnswer['state'];
  readonly question: AdditionsQuestion;
}

function cases(): Case[] {
  const materials = thirty();
  const barrow = { code: 'barrow', volumeMl: 90_000 };
  const candidates = materials.map((material, index): Candidate => ({
    material,
    availableG: 400_000,
    costPerKg: index / 100,
    measure: barrow,
  }));
  const question: AdditionsQuestion = {
    parts: wetBatch(materials),
    candidates,
    targets: targetsAsked([], 'preferred'),
    leastBy: 'cost',
    obtainable: materials.map((material) => ({ ...material, code: `more-${material.code}` })),
  };
  const wet = [...candidates].sort(
    (a, b) => (b.material.moisturePercent?.typical ?? 0) - (a.material.moisturePercent?.typical ?? 0),
  );
  const onlyWet = wet.map((candidate, index) => (index < 6 ? candidate : { ...candidate, availableG: 500 }));
  return [
    { name: 'found', state: 'found', question },
    { name: 'impossible', state: 'impossible', question: { ...question, candidates: onlyWet } },
  ];
}

/** What to add with thirty materials at hand and thirty obtainable, against the solver alone on the same problems. */
export async function additionsFigures(): Promise<Figure[]> {
  return withHighs((solve) => cases().flatMap((one) => figuresOf(one, solve)));
}

function figuresOf({ name, state, question }: Case, solve: Solve): Figure[] {
  const problems: LinearProblem[] = [];
  const answer = additionsFor(question, (problem) => {
    problems.push(problem);
    return solve(problem);
  });
  if (answer.state !== state) throw new Error(`expected ${state}, and it was ${answer.state}`);
  const answered: number[] = [];
  const bare: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    answered.push(timed(() => additionsFor(question, solve)));
    bare.push(timed(() => problems.map(solve)));
  }
  const ratio = median(answered) / median(bare);
  const baseline = 'the solver on the same problems';
  return [
    {
      what: `what to add, ${name}, ${problems.length} problems`,
      value: median(answered),
      unit: 'ms',
      baseline,
      ratio,
    },
    { what: `what to add, ${name}, slowest of ${ROUNDS}`, value: Math.max(...answered), unit: 'ms' },
  ];
}

function timed(work: () => unknown): number {
  const begun = performance.now();
  work();
  return performance.now() - begun;
}
