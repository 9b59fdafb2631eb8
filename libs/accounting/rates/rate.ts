import { Decimal } from 'decimal.js';
import { kgOf, sumG } from '#libs/quantities';
import { type RateFormula, type RateTerm, rateTerms, type SuppliedTerm } from './formulas.js';

/** Masses in whole grams; what is left out was not supplied. */
export type SuppliedMasses = Readonly<Partial<Record<SuppliedTerm, number>>>;

/** A percentage with all that it was made of, as a report holds it. */
export interface RateOfPeriod {
  formula: string;
  title: string;
  /** Written out, as "recycled / (recycled + disposed)". */
  expression: string;
  /** With how far it was checked. */
  source: string;
  terms: { name: string; massKg: number; from: string }[];
  /** Per cent, rounded half to even once: one decimal, and below 1 % two significant digits, of six decimals at most. */
  percent: number;
  notes: string[];
}

/** Why there is no rate, and which of the masses is at fault; `formula` where it is none of them. */
export interface NoRate {
  readonly field: RateTerm | 'formula';
  readonly detail: string;
}

export type RateAnswer = { ok: true; rate: RateOfPeriod } | { ok: false; why: NoRate };

const Exact = Decimal.clone({ precision: 40, rounding: Decimal.ROUND_HALF_EVEN });

const names: Readonly<Record<RateTerm, string>> = {
  recycledHere: 'recycled by this programme',
  otherRecycled: 'recycled otherwise',
  disposed: 'disposed',
  exported: 'exported',
  imported: 'imported',
  sourceReduced: 'source reduced',
};

/**
 * The rate of a period by one formula. `recycledHereG` is what this programme diverted (it may be below zero, and then there is
 * no rate); the rest is as the municipality supplied it, and `source` says who did. Without `disposed` there is none: a
 * programme knows no percentage of a waste stream it does not see. A mass that the formula has no place for is refused,
 * since leaving it out in silence would tell another rate than the one that was meant.
 * Throws RangeError on a supplied mass that is not whole and zero or more.
 */
export function rateOf(
  formula: RateFormula,
  recycledHereG: number,
  supplied: SuppliedMasses,
  source: string,
): RateAnswer {
  sumG(Object.values(supplied));
  const why = faultOf(formula, recycledHereG, supplied);
  if (why) return { ok: false, why };
  const gramsOf = (term: RateTerm): number =>
    term === 'recycledHere' ? recycledHereG : (supplied[term] ?? 0);
  const sumOf = (terms: readonly RateTerm[]): number => sumG(terms.map(gramsOf));
  const aboveG = sumOf(formula.above);
  const belowG = aboveG + sumOf(formula.below) - sumOf(formula.lessBelow);
  if (belowG === 0) return { ok: false, why: { field: 'disposed', detail: 'nothing was generated at all' } };
  const used = rateTerms.filter((term) => usedBy(formula).includes(term));
  return {
    ok: true,
    rate: {
      ...{ formula: formula.code, title: formula.title, expression: formula.expression },
      source: `${formula.source} (${formula.verification})`,
      terms: used.map((term) => ({
        name: names[term],
        massKg: kgOf(gramsOf(term)),
        from: fromWhere(term, supplied, source),
      })),
      percent: asRead(new Exact(aboveG).times(100).dividedBy(belowG)),
      notes: notesOf(formula, supplied, gramsOf('disposed') < aboveG),
    },
  };
}

/** A small programme's share of a town's waste is far below 1 %: one decimal would print it as nothing. */
function asRead(percent: Decimal): number {
  const decimals = percent.lessThan(1) ? Math.min(6, 1 - percent.e) : 1;
  return percent.toDecimalPlaces(decimals).toNumber();
}

function faultOf(formula: RateFormula, recycledHereG: number, supplied: SuppliedMasses): NoRate | null {
  const given = rateTerms.filter((term) => term !== 'recycledHere' && supplied[term] !== undefined);
  const misplaced = given.find((term) => !usedBy(formula).includes(term));
  if (misplaced) return { field: misplaced, detail: `has no place in this formula: ${formula.expression}` };
  const missing = formula.needed.find((term) => supplied[term] === undefined);
  if (missing) return { field: missing, detail: `is needed for this formula: ${formula.expression}` };
  if (supplied.disposed === 0) return { field: 'disposed', detail: 'must be more than nothing' };
  if ((supplied.imported ?? 0) > (supplied.disposed ?? 0)) {
    return { field: 'imported', detail: 'is more than all that was disposed of, of which it is a part' };
  }
  if (recycledHereG < 0) {
    const detail =
      'more residue went to landfill in the period than material came in: there is no rate of that';
    return { field: 'recycledHere', detail };
  }
  return null;
}

const usedBy = ({ above, below, lessBelow }: RateFormula): readonly RateTerm[] => [
  ...above,
  ...below,
  ...lessBelow,
];

function fromWhere(term: RateTerm, supplied: SuppliedMasses, source: string): string {
  if (term === 'recycledHere') return 'diverted in this report: accepted less residue to landfill';
  return supplied[term] === undefined ? 'not supplied, counted as nothing' : source;
}

function notesOf(formula: RateFormula, supplied: SuppliedMasses, littleDisposed: boolean): string[] {
  return [
    ...formula.notes,
    ...(supplied.otherRecycled === undefined
      ? [
          'Only what this programme composted counts as recycled here; what else the place recycles is not in this rate.',
        ]
      : []),
    'Residue that this programme sent to landfill is not counted as recycled; it is taken to be in the mass disposed of.',
    ...(littleDisposed
      ? [
          'Less was disposed of than was recycled, which is rare: look again whether that mass has the right unit.',
        ]
      : []),
  ];
}
