import {
  eachFigure,
  type Figure,
  type Interval,
  type MaterialClass,
  type MaterialFigure,
  type MaterialKind,
  type MissingFigure,
  type Mix,
  type MixFigure,
  mixFigures,
  mixOf,
  type MixPart,
  type MixTarget,
  mixTargets,
} from '#libs/materials';
import { kgOf, litresOf, sumG } from '#libs/quantities';
import type { PermitFacts } from '../sites/site-facts.service.js';
import type { Contradicted } from './built.service.js';

/** The mix that a batch was built as. Unknown is null, never a guess. */
export interface BatchMix extends Record<MixFigure, number | null> {
  massKg: number;
  weighedKg: number;
  estimatedKg: number;
  /** Mass of the materials of which a figure that the mix needs is unknown. */
  unknownKg: number;
  volumeL: number | null;
  ranges: Record<MixFigure, Interval | null>;
  /** How much of the mass each figure rests on. */
  knownMassPercent: Record<MixFigure, number>;
  greensToBrowns: { byMass: number | null; byVolume: number | null };
  missing: FigureOf[];
  withoutRange: FigureOf[];
  contradicted: Contradicted[];
  targets: MixStanding[];
  method: string;
  /** The moment that the figures of the materials are of: when it left `building`; null where they are of now. */
  figuresAsOf: string | null;
  materials: MixMaterial[];
}

export interface FigureOf {
  material: string;
  figure: MaterialFigure;
}

export interface MixStanding extends MixTarget {
  value: number | null;
  state: 'within' | 'below' | 'above' | 'unknown';
}

/** One material of the mix, with the figures that were used of it. */
export interface MixMaterial extends Record<MaterialFigure, Figure | null> {
  code: string;
  name: string;
  class: MaterialClass;
  kind: MaterialKind;
  massKg: number;
  /** Part of it that was estimated from a volume. */
  estimatedKg: number;
}

const METHOD =
  'The figures are from the typical figure of each material; between what a figure lies is what it comes to where every ' +
  'figure of every material takes that end of its range which makes it least, and which makes it most.';

export interface Mixed {
  /** Sound: no figure of theirs is impossible. */
  parts: readonly MixPart[];
  contradicted: Contradicted[];
  permit: PermitFacts | null;
  leftAt: Date | null;
}

export function mixView({ parts, contradicted, permit, leftAt }: Mixed): BatchMix {
  const mix = mixOf(parts);
  const incomplete = new Set(mix.missing.map(({ materialCode }) => materialCode));
  const unknown = parts.filter(({ material }) => incomplete.has(material.code));
  return {
    massKg: kgOf(mix.massG),
    weighedKg: kgOf(mix.weighedG),
    estimatedKg: kgOf(mix.estimatedG),
    unknownKg: kgOf(sumG(unknown.map(({ massG }) => massG))),
    volumeL: mix.volumeMl === null ? null : litresOf(mix.volumeMl),
    ...eachOfMix((figure) => rounded(mix.value[figure])),
    ranges: eachOfMix((figure) => roundedRange(mix.range[figure])),
    knownMassPercent: eachOfMix((figure) => rounded(mix.knownMassShare[figure] * 100) ?? 0),
    greensToBrowns: ratios(mix),
    missing: mix.missing.map(figureOf),
    withoutRange: mix.withoutRange.map(figureOf),
    contradicted,
    targets: [...permitTargets(permit), ...mixTargets].map((target) => standingOf(target, mix)),
    method: METHOD,
    figuresAsOf: leftAt?.toISOString() ?? null,
    materials: parts.map(materialView),
  };
}

/** What the permit asks of a mix, as targets. */
export function permitTargets(permit: PermitFacts | null): MixTarget[] {
  if (!permit) return [];
  const source = `Permit ${permit.reference}`;
  return permit.mixTargets.map((target) => ({ ...target, grade: 'permit', source }));
}

/** Judged by the exact figure; printed with one decimal. */
function standingOf(target: MixTarget, mix: Mix): MixStanding {
  const { min, max } = target;
  const exact = mix.value[target.figure];
  const value = rounded(exact);
  if (exact === null) return { ...target, value, state: 'unknown' };
  if (min !== null && exact < min) return { ...target, value, state: 'below' };
  return { ...target, value, state: max !== null && exact > max ? 'above' : 'within' };
}

function materialView({ material, massG, estimatedG }: MixPart): MixMaterial {
  const { code, name, class: materialClass, kind } = material;
  return {
    ...{ code, name, class: materialClass, kind, massKg: kgOf(massG), estimatedKg: kgOf(estimatedG) },
    ...eachFigure((figure) => material[figure]),
  };
}

function figureOf({ materialCode, figure }: MissingFigure): FigureOf {
  return { material: materialCode, figure };
}

function ratios({ greensToBrowns: { byMass, byVolume } }: Mix): BatchMix['greensToBrowns'] {
  return { byMass: rounded(byMass), byVolume: rounded(byVolume) };
}

export function eachOfMix<T>(of: (figure: MixFigure) => T): Record<MixFigure, T> {
  return Object.fromEntries(mixFigures.map((figure) => [figure, of(figure)])) as Record<MixFigure, T>;
}

function roundedRange(range: Interval | null): Interval | null {
  return range && { min: tenths(range.min), max: tenths(range.max) };
}

export function rounded(figure: number | null): number | null {
  return figure === null ? null : tenths(figure);
}

const tenths = (figure: number): number => Math.round(figure * 10) / 10;
