import { type MaterialClass, type MaterialFigure, materialFigures } from '../figures.js';
import {
  type Interval,
  type MissingFigure,
  type Mix,
  type MixFigure,
  mixFigures,
  type MixPart,
} from './figures.js';
import { mergedByMaterial } from './parts.js';
import { rangeOf, sum } from './range.js';
import { isOpen } from './span.js';
import { type Term, termOf } from './terms.js';

/**
 * The figures of a mix, from wet masses. Carbon and nitrogen are summed as masses and divided once; ratios are never
 * averaged. Formulas: R = Σ Q·C·(100−M) / Σ Q·N·(100−M) and G = Σ Q·M / Σ Q; definitions from Cornell Composting,
 * "Moisture and Carbon/Nitrogen Ratio Calculation" (compost.css.cornell.edu/calc/2.html).
 * The volume is the sum of the parts' volumes (what was seen of them, else by their density), water's left out: small
 * particles settle between large ones, so a real pile is smaller and denser, and has less air. Where solids and water would
 * need more room than there is, there is no air: 0.
 * A figure that is unknown for some parts is computed from the others, and `knownMassShare` says of how much of the mass.
 * A range is the exact least and greatest of a figure over all that the ranges of the materials allow, each figure of a
 * material free of the others; that of C:N has no upper end (Infinity) where there may be no nitrogen at all.
 * Throws RangeError on masses and figures that cannot be.
 */
export function mixOf(given: readonly MixPart[]): Mix {
  const parts = mergedByMaterial(given);
  const massG = sum(parts.map((part) => part.massG));
  const estimatedG = sum(parts.map((part) => part.estimatedG));
  const results = each((figure) => resultOf(figure, parts));
  const all = mixFigures.map((figure) => results[figure]);
  return {
    massG,
    weighedG: massG - estimatedG,
    estimatedG,
    volumeMl: volumeMlOf(parts),
    value: each((figure) => results[figure].value),
    range: each((figure) => results[figure].range),
    knownMassShare: each((figure) => ratio(results[figure].knownG, massG) ?? 0),
    missing: named(parts, (part) => all.flatMap(({ lacking }) => lacking.get(part) ?? [])),
    withoutRange: named(parts, (part) =>
      all
        .flatMap(({ known }) => known.get(part)?.from ?? [])
        .filter((figure) => isOpen(part.material[figure])),
    ),
    greensToBrowns: greensToBrownsOf(parts),
  };
}

interface Result {
  readonly value: number | null;
  readonly range: Interval | null;
  readonly knownG: number;
  readonly known: ReadonlyMap<MixPart, Term>;
  readonly lacking: ReadonlyMap<MixPart, readonly MaterialFigure[]>;
}

function resultOf(figure: MixFigure, parts: readonly MixPart[]): Result {
  const known = new Map<MixPart, Term>();
  const lacking = new Map<MixPart, readonly MaterialFigure[]>();
  for (const part of parts) {
    const term = termOf(figure, part);
    if ('lacking' in term) lacking.set(part, term.lacking);
    else known.set(part, term);
  }
  const terms = [...known.values()];
  const typical = ratio(sum(terms.map((term) => term.typical[0])), sum(terms.map((term) => term.typical[1])));
  const knownG = sum([...known.keys()].map((part) => part.massG));
  if (typical === null) return { value: null, range: null, knownG, known, lacking };
  const { min, max } = rangeOf(terms, typical);
  if (figure !== 'freeAirSpacePercent')
    return { value: typical, range: { min, max }, knownG, known, lacking };
  const range = { min: airLeft(max), max: airLeft(min) };
  return { value: airLeft(typical), range, knownG, known, lacking };
}

/** Per cent of the volume that is air, from the share of it that is not. */
function airLeft(occupiedShare: number): number {
  return Math.max(0, 100 * (1 - occupiedShare));
}

function litresOf(parts: readonly MixPart[]): number | null {
  const litres = parts.map((part) => {
    const term = termOf('bulkDensityKgM3', part);
    return 'lacking' in term ? null : term.typical[1];
  });
  return litres.reduce<number | null>(
    (total, part) => (total === null || part === null ? null : total + part),
    0,
  );
}

function volumeMlOf(parts: readonly MixPart[]): number | null {
  const litres = litresOf(parts);
  return litres === null ? null : Math.round(litres * 1000);
}

function greensToBrownsOf(parts: readonly MixPart[]): Mix['greensToBrowns'] {
  const of = (wanted: MaterialClass): MixPart[] => parts.filter(({ material }) => material.class === wanted);
  const greens = of('nitrogen');
  const browns = of('carbon');
  const massG = (some: readonly MixPart[]): number => sum(some.map((part) => part.massG));
  return {
    byMass: ratioOfBoth(massG(greens), massG(browns)),
    byVolume: ratioOfBoth(litresOf(greens), litresOf(browns)),
  };
}

function ratioOfBoth(greens: number | null, browns: number | null): number | null {
  return greens === null || greens === 0 || browns === null ? null : ratio(greens, browns);
}

/** Each figure of a material once, in the order in which figures are told. */
function named(parts: readonly MixPart[], of: (part: MixPart) => readonly MaterialFigure[]): MissingFigure[] {
  return parts.flatMap((part) => {
    const figures = new Set(of(part));
    return materialFigures
      .filter((figure) => figures.has(figure))
      .map((figure) => ({ materialCode: part.material.code, figure }));
  });
}

function each<T>(of: (figure: MixFigure) => T): Record<MixFigure, T> {
  return {
    carbonToNitrogen: of('carbonToNitrogen'),
    moisturePercent: of('moisturePercent'),
    bulkDensityKgM3: of('bulkDensityKgM3'),
    freeAirSpacePercent: of('freeAirSpacePercent'),
  };
}

function ratio(numerator: number, denominator: number): number | null {
  return denominator > 0 ? numerator / denominator : null;
}
