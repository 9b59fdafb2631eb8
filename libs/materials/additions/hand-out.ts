import type { MixPart } from '../mix/figures.js';
import type { MixTarget } from '../mix/targets.js';
import { additionsFor } from './answer.js';
import type { Solve } from './linear.js';
import type { AdditionsAnswer, AdditionsQuestion } from './question.js';

/** A batch that draws on the stock of a yard. */
export interface Wanting<Key> {
  readonly key: Key;
  readonly parts: readonly MixPart[];
  readonly targets: readonly MixTarget[];
}

interface Taken {
  readonly materialCode: string;
  readonly massG: number;
}

export interface HandedOut<Key> {
  readonly answers: readonly { readonly key: Key; readonly answer: AdditionsAnswer }[];
  /** What is left in the end of what was limited, by material. */
  readonly leftG: ReadonlyMap<string, number>;
}

/**
 * What several batches need of one stock, which is handed out in their order: each has what those before it left. A batch
 * that is impossible still has put by for it what goes in alongside the first material that would help, so that what is
 * got for it is not got in vain. Throws as `additionsFor` does.
 */
export function handOut<Key>(
  batches: readonly Wanting<Key>[],
  stock: Pick<AdditionsQuestion, 'candidates' | 'leastBy' | 'obtainable'>,
  solve: Solve,
): HandedOut<Key> {
  const leftG = new Map(
    stock.candidates.flatMap(({ material, availableG }): [string, number][] =>
      availableG === null ? [] : [[material.code, availableG]],
    ),
  );
  const answers = batches.map(({ key, parts, targets }) => {
    const candidates = stock.candidates.map((candidate) => ({
      ...candidate,
      availableG: leftG.get(candidate.material.code) ?? null,
    }));
    const answer = additionsFor({ ...stock, parts, targets, candidates }, solve);
    for (const { materialCode, massG } of takenBy(answer)) {
      const left = leftG.get(materialCode);
      if (left !== undefined) leftG.set(materialCode, Math.max(0, left - massG));
    }
    return { key, answer };
  });
  return { answers, leftG };
}

function takenBy({ additions, wouldHelp }: AdditionsAnswer): readonly Taken[] {
  const taken = additions.length === 0 ? (wouldHelp[0]?.alongside ?? []) : additions;
  return taken.map(({ materialCode, dose }) => ({ materialCode, massG: dose.massG }));
}
