import fc from 'fast-check';
import type { AdditionsQuestion, Candidate, MaterialFigures, MixTarget } from '#libs/materials';
import { material, target, water } from './additions-example.js';

const figures = fc.record({
  nitrogen: fc.double({ min: 0.05, max: 6, noNaN: true }),
  carbon: fc.double({ min: 20, max: 55, noNaN: true }),
  moisture: fc.double({ min: 3, max: 95, noNaN: true }),
  density: fc.double({ min: 60, max: 1000, noNaN: true }),
  ash: fc.double({ min: 1, max: 40, noNaN: true }),
});

/** Materials with all their figures known, some of them mineral. */
export const materials = (code: string, most: number): fc.Arbitrary<MaterialFigures[]> =>
  fc
    .array(fc.tuple(figures, fc.boolean(), fc.boolean()), { minLength: 1, maxLength: most })
    .map((all) =>
      all.map(([typical, rare, also], index) =>
        material(`${code}-${index}`, typical, { kind: rare && also ? 'mineral' : 'organic' }),
      ),
    );

/** Whole grams, from a bucket to a load. */
const masses = fc.integer({ min: 2_000, max: 3_000_000 });

/** A range of at least a fiftieth, or one end of it: narrower ones have tests of their own. */
const ends = (least: number, most: number): fc.Arbitrary<[number | null, number | null]> =>
  fc
    .tuple(
      fc.double({ min: least, max: most, noNaN: true }),
      fc.double({ min: 1.02, max: 2, noNaN: true }),
      fc.constantFrom('both', 'least', 'most'),
    )
    .map(([from, times, which]) => [which === 'most' ? null : from, which === 'least' ? null : from * times]);

export const targets: fc.Arbitrary<MixTarget[]> = fc
  .record({
    carbonToNitrogen: fc.option(ends(15, 45)),
    moisturePercent: fc.option(ends(35, 60)),
    bulkDensityKgM3: fc.option(ends(200, 800)),
    freeAirSpacePercent: fc.option(ends(20, 50)),
  })
  .map((asked) =>
    (Object.keys(asked) as (keyof typeof asked)[]).flatMap((figure) => {
      const range = asked[figure];
      return range === null ? [] : [target(figure, ...range)];
    }),
  );

const candidates = (most: number): fc.Arbitrary<Candidate[]> =>
  materials('candidate', most).chain((all) =>
    fc.tuple(...[...all, water].map((one) => candidateOf(one))).map((some) => [...some]),
  );

function candidateOf(of: MaterialFigures): fc.Arbitrary<Candidate> {
  return fc.record({
    material: fc.constant(of),
    availableG: fc.option(fc.integer({ min: 0, max: 3_000_000 })),
    costPerKg: fc.option(fc.integer({ min: 0, max: 50 }).map((cents) => cents / 100)),
    measure: fc.option(
      fc.constantFrom({ code: 'bucket', volumeMl: 18_900 }, { code: 'barrow', volumeMl: 90_000 }),
    ),
  });
}

export const questions = (mostCandidates: number): fc.Arbitrary<AdditionsQuestion> =>
  fc.record({
    parts: materials('part', 4).chain((all) =>
      fc.tuple(...all.map(() => masses)).map((some) =>
        all.map((one, index) => ({
          material: one,
          massG: some[index] ?? 0,
          estimatedG: 0,
          estimatedMl: 0,
        })),
      ),
    ),
    candidates: candidates(mostCandidates),
    targets,
    leastBy: fc.constantFrom('mass', 'cost'),
    obtainable: materials('obtainable', 3),
  });
