/**
 * Sources of printed figures:
 * - US EPA, Advancing Sustainable Materials Management: 2015 Fact Sheet (July 2018): 262 million short tons generated, more than 91
 *   recycled and composted, "34.7 percent".
 * - US EPA, Facts and Figures, data of 2018: 292.4 million short tons generated, 93.9 recycled and composted, "32.1 percent" (read on
 *   copies of the page and of the press release).
 * - 30 Texas Administrative Code §328.9 (a) and (b): the formulas in words. No example with numbers is printed there.
 * - State of North Carolina, annual report of the Town of Cary for 2024-25 (public record): 37,684.36 short tons disposed of,
 *   11,007.53 recycled, 23,510.17 of yard waste. The share is not printed; it is worked out by hand to 47.81 %.
 */
import { describe, expect, it } from 'vitest';
import { type RateFormula, rateFormulas, rateOf, type SuppliedMasses } from '#libs/accounting';
import { massToG } from '#libs/quantities';

const formulaOf = (code: string): RateFormula => rateFormulas.find((formula) => formula.code === code)!;
const tons = (value: number): number => massToG({ value, unit: 'short-ton' });
const percentOf = (code: string, recycledTons: number, supplied: SuppliedMasses): number => {
  const answer = rateOf(formulaOf(code), tons(recycledTons), supplied, 'the town');
  if (!answer.ok) throw new Error(answer.why.detail);
  return answer.rate.percent;
};

describe('the recycling rate of EPA', () => {
  it.each([
    [2015, 262, 91, 34.7],
    [2018, 292.4, 93.9, 32.1],
  ])('of %i: of %d million tons %d, which is %d %%', (_, generated, recycled, printed) => {
    const disposed = Math.round((generated - recycled) * 10) / 10;
    // In thousands, since a mass of a whole nation is beyond what is kept.
    expect(percentOf('us-epa-1997', recycled * 1000, { disposed: tons(disposed * 1000) })).toBe(printed);
  });

  it('counts what else the town recycles where it is told', () => {
    const supplied = { disposed: tons(37_684.36), otherRecycled: tons(11_007.53) };
    expect(percentOf('us-epa-1997', 23_510.17, supplied)).toBe(47.8);
  });
});

describe('the two rates of Texas', () => {
  const supplied = { disposed: tons(600), exported: tons(150), imported: tons(50) };

  it('is recycled over recycled, disposed and exported less imported', () => {
    expect(percentOf('us-tx-recycling', 300, supplied)).toBe(30);
  });

  it('is that of EPA where as much is exported as imported', () => {
    const even = { disposed: tons(600), exported: tons(75), imported: tons(75) };
    expect(percentOf('us-tx-recycling', 300, even)).toBe(
      percentOf('us-epa-1997', 300, { disposed: tons(600) }),
    );
  });

  it('adds what was source reduced on both sides of the other', () => {
    expect(percentOf('us-tx-reduction', 300, { ...supplied, sourceReduced: tons(250) })).toBe(44);
  });
});
