import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type RateFormula, rateFormulas, rateOf, type SuppliedMasses } from '#libs/accounting';

const epa = rateFormulas.find(({ code }) => code === 'us-epa-1997')!;
const texas = rateFormulas.find(({ code }) => code === 'us-tx-recycling')!;
const reduction = rateFormulas.find(({ code }) => code === 'us-tx-reduction')!;
const asked = (formula: RateFormula, recycledHereG: number, supplied: SuppliedMasses) =>
  rateOf(formula, recycledHereG, supplied, 'Scale house of the town');

describe('a rate', () => {
  it('says what it was made of and who said so', () => {
    const answer = asked(texas, 30_000, { disposed: 60_000, exported: 10_000 });
    expect(answer).toMatchObject({
      ok: true,
      rate: {
        ...{ formula: 'us-tx-recycling', percent: 30 },
        source: '30 Texas Administrative Code §328.9 (verified)',
        terms: [
          { name: 'recycled by this programme', massKg: 30 },
          { name: 'recycled otherwise', massKg: 0, from: 'not supplied, counted as nothing' },
          { name: 'disposed', massKg: 60, from: 'Scale house of the town' },
          { name: 'exported', massKg: 10, from: 'Scale house of the town' },
          { name: 'imported', massKg: 0, from: 'not supplied, counted as nothing' },
        ],
      },
    });
  });

  const refused: [string, RateFormula, number, SuppliedMasses, string][] = [
    ['nothing disposed is told', epa, 5, {}, 'disposed'],
    ['nothing was disposed of', epa, 5, { disposed: 0 }, 'disposed'],
    ['a mass has no place in the formula', epa, 5, { disposed: 9, exported: 1 }, 'exported'],
    ['a mass that the formula needs is missing', reduction, 5, { disposed: 9 }, 'sourceReduced'],
    ['more was imported than disposed of', texas, 5, { disposed: 9, imported: 10 }, 'imported'],
    ['more residue left than material came', epa, -1, { disposed: 9 }, 'recycledHere'],
  ];
  it.each(refused)('is not given where %s', (_, formula, recycledHereG, supplied, field) => {
    expect(asked(formula, recycledHereG, supplied)).toMatchObject({ ok: false, why: { field } });
  });

  it('takes no mass that is not whole', () => {
    expect(() => asked(epa, 5, { disposed: 1.5 })).toThrow(RangeError);
    expect(() => asked(epa, 5, { disposed: -1 })).toThrow(RangeError);
  });

  it('asks to look at the unit where less was disposed of than recycled', () => {
    const notes = (disposed: number) => {
      const answer = asked(epa, 1000, { disposed });
      return answer.ok ? answer.rate.notes.join(' ') : '';
    };
    expect(notes(999)).toContain('right unit');
    expect(notes(1000)).not.toContain('right unit');
  });

  it('rounds half to even, once', () => {
    expect(asked(epa, 41, { disposed: 1_959 })).toMatchObject({ rate: { percent: 2 } });
    expect(asked(epa, 43, { disposed: 1_957 })).toMatchObject({ rate: { percent: 2.2 } });
  });

  // By hand: 99 kg of 1,300 short tons (1,179,340.162 kg) and themselves are 0.008394 %.
  it.each([
    [99_000, 1_179_340_162, 0.0084],
    [1, 799, 0.12],
    [27, 19_973, 0.14],
    [996, 99_004, 1],
    [1, 99_999_999_999, 0],
  ])('has two digits that count where it is below 1 %%: %d g beside %d g', (recycled, disposed, percent) => {
    expect(asked(epa, recycled, { disposed })).toMatchObject({ rate: { percent } });
  });

  it('lies between 0 and 100 and grows with what was recycled', () => {
    const mass = fc.integer({ min: 1, max: 1e12 });
    fc.assert(
      fc.property(fc.constantFrom(...rateFormulas), mass, mass, mass, (formula, here, more, disposed) => {
        const supplied = formula.needed.includes('sourceReduced')
          ? { disposed, sourceReduced: 5 }
          : { disposed };
        const of = (grams: number) => {
          const answer = asked(formula, grams, supplied);
          return answer.ok ? answer.rate.percent : Number.NaN;
        };
        expect(of(here)).toBeGreaterThanOrEqual(0);
        expect(of(here + more)).toBeLessThanOrEqual(100);
        expect(of(here + more)).toBeGreaterThanOrEqual(of(here));
      }),
    );
  });
});

it('every formula from memory says so to whoever reads its rate', () => {
  const remembered = rateFormulas.filter(({ verification }) => verification === 'from memory');
  expect(remembered.map(({ code }) => code)).toEqual(['us-wa', 'us-vt']);
  for (const formula of remembered) {
    const answer = asked(formula, 1, { disposed: 1 });
    expect(answer.ok && answer.rate.notes.join(' ')).toContain('from memory');
    expect(answer.ok && answer.rate.source).toContain('(from memory)');
  }
});
