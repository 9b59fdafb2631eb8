/** What a rate is made of; each in whole grams and of one period. */
export const rateTerms = [
  'recycledHere',
  'otherRecycled',
  'disposed',
  'exported',
  'imported',
  'sourceReduced',
] as const;
export type RateTerm = (typeof rateTerms)[number];

/** What only the municipality can say. */
export type SuppliedTerm = Exclude<RateTerm, 'recycledHere'>;

export interface RateFormula {
  readonly code: string;
  readonly title: string;
  /** Written out; the rate is the sum above over the sum below. */
  readonly expression: string;
  readonly source: string;
  /** Of the formula; a note that is from memory says so itself. */
  readonly verification: 'verified' | 'from memory';
  readonly above: readonly RateTerm[];
  /** Also below: all that is above. */
  readonly below: readonly RateTerm[];
  /** Taken off below. */
  readonly lessBelow: readonly RateTerm[];
  /** Without these there is no rate; the others count as nothing where they are not given. */
  readonly needed: readonly SuppliedTerm[];
  readonly notes: readonly string[];
}

const recycled = ['recycledHere', 'otherRecycled'] as const;
const plain = { above: recycled, below: ['disposed'], lessBelow: [], needed: ['disposed'] } as const;
const texas = [
  'Texas asks for dry tons (30 TAC §328.8(f)); the masses of this programme are wet, as they were weighed.',
  'What was rejected and disposed of is not counted as recycled (30 TAC §328.8(c)).',
];
const fromMemory = 'The formula is from memory: read the rule of the state before relying on it.';

/**
 * A rate is of a whole place, and these differ in what they count: numbers of two formulas are not to be compared. None of them is
 * what a programme diverted over what it accepted.
 */
export const rateFormulas: readonly RateFormula[] = [
  {
    code: 'us-epa-1997',
    title: 'Recycling rate of municipal solid waste',
    expression: 'recycled / (recycled + disposed)',
    source:
      "US EPA, Measuring Recycling (EPA530-R-97-011, September 1997), as EPA's own frequent questions on it tell the method",
    verification: 'verified',
    ...plain,
    notes: [
      'Disposed is what was generated in the place itself: with what was sent elsewhere, and without what came from elsewhere.',
      'Backyard composting is source reduction and no recycling in this method (from memory).',
    ],
  },
  {
    code: 'us-tx-recycling',
    title: 'Recycling rate, Texas',
    expression: 'recycled / (recycled + disposed + exported − imported)',
    source: '30 Texas Administrative Code §328.9',
    verification: 'verified',
    ...{ above: recycled, below: ['disposed', 'exported'], lessBelow: ['imported'], needed: ['disposed'] },
    notes: texas,
  },
  {
    code: 'us-tx-reduction',
    title: 'Waste-stream reduction rate, Texas',
    expression: '(recycled + source reduced) / (recycled + source reduced + disposed + exported − imported)',
    source: '30 Texas Administrative Code §328.9',
    verification: 'verified',
    above: [...recycled, 'sourceReduced'],
    ...{ below: ['disposed', 'exported'], lessBelow: ['imported'], needed: ['disposed', 'sourceReduced'] },
    notes: texas,
  },
  {
    code: 'us-ca-2006',
    title: 'Diversion rate, California up to 2006',
    expression: 'diverted / (diverted + disposed)',
    source:
      'California Public Resources Code §41780.2 and 14 CCR §18794.1: generation equals disposal plus diversion',
    verification: 'verified',
    ...plain,
    notes: ['Since 2007 California tells pounds disposed per person and day instead.'],
  },
  {
    code: 'us-wa',
    title: 'Recovery rate, Washington',
    expression: 'recovered / (recovered + disposed)',
    source: 'practice of the State of Washington',
    verification: 'from memory',
    ...plain,
    notes: [fromMemory],
  },
  {
    code: 'us-vt',
    title: 'Diversion rate, Vermont',
    expression: 'diverted / (diverted + disposed)',
    source: 'practice of the State of Vermont',
    verification: 'from memory',
    ...plain,
    notes: [fromMemory],
  },
];

export const rateFormulaCodes = rateFormulas.map(({ code }) => code);
