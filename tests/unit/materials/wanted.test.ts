import { describe, expect, it } from 'vitest';
import { type AdditionsAnswer, asksOf, type WantedMaterial } from '#libs/materials';

const dose = { by: 'mass', halves: null, massG: 1, volumeMl: null } as const;
const lacking = (
  wouldHelp: readonly WantedMaterial[],
  together: readonly WantedMaterial[] = [],
): AdditionsAnswer => ({
  ...{ state: 'impossible', additions: [], after: null, afterMeasured: null, missedMeasured: [], cost: null },
  ...{ costUnknown: [], unmet: [], leftOut: [], notJudged: [] },
  wouldHelp: wouldHelp.map((one) => ({
    ...one,
    dose,
    alongside: [{ materialCode: 'wood-chips', massG: 1, dose }],
  })),
  together,
});
const some = (materialCode: string, massG: number, volumeMl: number | null = massG * 2) => ({
  ...{ materialCode, massG, volumeMl },
});
const served = (state: AdditionsAnswer['state']): AdditionsAnswer => ({ ...lacking([]), state });

describe('what to ask for', () => {
  it('asks for nothing where every batch is served, and for nothing that cannot be told', () => {
    const states = ['in-range', 'found', 'contradictory', 'unknown'] as const;
    const answers = states.map((state) => ({ key: state, answer: served(state) }));
    expect(asksOf(answers)).toEqual({ asks: [], beyondHelp: [] });
  });

  it('puts batches together that one material would help, and keeps only what helps each of them', () => {
    const { asks } = asksOf([
      { key: 'A', answer: lacking([some('coffee', 3_000), some('grass', 4_000), some('hay', 9_000)]) },
      { key: 'B', answer: lacking([some('grass', 1_000), some('coffee', 5_000)]) },
    ]);
    expect(asks).toEqual([
      { keys: ['A', 'B'], anyOf: [some('grass', 5_000), some('coffee', 8_000)], allOf: [] },
    ]);
  });

  it('joins what would do for both however far down the lists it stands, what donors often bring first', () => {
    const own = (letter: string) => Array.from({ length: 9 }, (_, index) => some(`${letter}${index}`, 1_000));
    const { asks } = asksOf([
      { key: 'A', answer: lacking([...own('a'), some('farm-straw', 2_000), some('leaves', 9_000)]) },
      { key: 'B', answer: lacking([...own('b'), some('farm-straw', 2_000), some('leaves', 9_000)]) },
    ]);
    expect(asks).toEqual([
      { keys: ['A', 'B'], anyOf: [some('leaves', 18_000), some('farm-straw', 4_000)], allOf: [] },
    ]);
  });

  it('asks apart where no one material would do for both', () => {
    const { asks } = asksOf([
      { key: 'A', answer: lacking([some('coffee', 3_000)]) },
      { key: 'B', answer: lacking([some('leaves', 7_000)]) },
      { key: 'C', answer: lacking([some('leaves', 2_000), some('chips', 4_000)]) },
    ]);
    expect(asks).toEqual([
      { keys: ['A'], anyOf: [some('coffee', 3_000)], allOf: [] },
      { keys: ['B', 'C'], anyOf: [some('leaves', 9_000)], allOf: [] },
    ]);
  });

  it('asks for all of what helps only together, and joins only the same', () => {
    const both = [some('leaves', 7_000), some('coffee', 1_000)];
    const { asks } = asksOf([
      { key: 'A', answer: lacking([], both) },
      { key: 'B', answer: lacking([some('leaves', 100)]) },
      { key: 'C', answer: lacking([], [some('leaves', 1_000), some('hay', 1_000)]) },
      { key: 'D', answer: lacking([], both) },
    ]);
    expect(asks.map(({ keys }) => keys)).toEqual([['A', 'D'], ['B'], ['C']]);
    expect(asks[0]).toMatchObject({ anyOf: [], allOf: [some('leaves', 14_000), some('coffee', 2_000)] });
  });

  it('names what nothing would help, and takes a volume for unknown where one of two is', () => {
    const { asks, beyondHelp } = asksOf([
      { key: 'A', answer: lacking([]) },
      { key: 'B', answer: lacking([some('hay', 10, null)]) },
      { key: 'C', answer: lacking([some('hay', 20)]) },
    ]);
    expect(beyondHelp).toEqual(['A']);
    expect(asks).toEqual([{ keys: ['B', 'C'], anyOf: [some('hay', 30, null)], allOf: [] }]);
  });
});
