import {
  cautionsOf,
  eachFigure,
  type Figure,
  type Interval,
  type MaterialCaution,
  type MaterialClass,
  type MaterialFigure,
  type MaterialKind,
  type MissingFigure,
  type Mix,
  type MixFigure,
  mixFigures,
  mixOf,
  type MixPart,
  type MixStanding as Standing,
  type MixTarget,
  mixTargets,
  targetStanding,
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
  ranges: Record<MixFigure, Bounds | null>;
  /** How much of the mass each figure rests on. */
  knownMassPercent: Record<MixFigure, number>;
  greensToBrowns: { byMass: number | null; byVolume: number | null };
  missing: FigureOf[];
  withoutRange: FigureOf[];
  contradicted: Contradicted[];
  cautions: Caution[];
  targets: MixStanding[];
  method: string;
  /** The moment that the figures of the materials are of: when it left `building`; null where they are of now. */
  figuresAsOf: string | null;
  materials: MixMaterial[];
}

export interface Caution extends MaterialCaution {
  materials: string[];
}

/** Of C:N, the upper end is null where there may be no nitrogen at all. */
export interface Bounds {
  min: number;
  max: number | null;
}

export interface FigureOf {
  material: string;
  figure: MaterialFigure;
}

export interface MixStanding extends MixTarget {
  value: number | null;
  state: Standing;
  /** All that the ranges allow stands so, and nothing of it is unknown. */
  sure: boolean;
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
  'Each figure is worked out from the typical figures of the materials. Its range is the exact least and greatest that it ' +
  'can come to while every figure of every material lies anywhere within its own range, each free of the others, except ' +
  'that no more than 60 % of the dry matter of a material is taken to be carbon, unless its typical figures say more. What ' +
  'was estimated keeps the volume that was seen and the mass that was recorded; its range is what that volume may weigh. A ' +
  'figure of which no range is known is taken as a point, and what is unknown is left out.';

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
    cautions: cautionsIn(parts, permit),
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

/** What to mind in the materials of these parts. */
export function cautionsIn(parts: readonly MixPart[], permit: PermitFacts | null): Caution[] {
  const cautions = cautionsOf(parts, { permitAllows: allowedBy(permit) });
  return cautions.map((caution) => ({ ...caution, materials: [...caution.materials] }));
}

/** Whether a permit lets a material in: all of them where it lists none. Null where there is no permit. */
export function allowedBy(permit: PermitFacts | null): (code: string) => boolean | null {
  return (code) => permit && (permit.materials.length === 0 || permit.materials.includes(code));
}

/** Judged by the exact figure; printed with one decimal, or with as many as tell it from an end that it misses. */
export function standingOf(target: MixTarget, mix: Mix): MixStanding {
  const { standing: state, sure } = targetStanding(target, mix);
  return { ...target, value: telling(target, mix), state, sure };
}

/** Enough to tell any figure from any end that somebody typed. */
const MOST_DECIMALS = 9;

function telling(target: MixTarget, mix: Mix): number | null {
  const exact = mix.value[target.figure];
  if (exact === null) return null;
  const { standing } = targetStanding(target, mix);
  for (let decimals = 1; decimals <= MOST_DECIMALS; decimals += 1) {
    const value = Number(exact.toFixed(decimals));
    const as = { ...mix, value: { ...mix.value, [target.figure]: value } };
    if (targetStanding(target, as).standing === standing) return decimals === 1 ? tenths(exact) : value;
  }
  return exact;
}

function materialView({ material, massG, estimatedG }: MixPart): MixMaterial {
  const { code, name, class: materialClass, kind } = material;
  return {
    ...{ code, name, class: materialClass, kind, massKg: kgOf(massG), estimatedKg: kgOf(estimatedG) },
    ...eachFigure((figure) => toldFigure(material[figure])),
  };
}

/** A figure that was worked out from others has more digits than anybody measured. */
function toldFigure(figure: Figure | null): Figure | null {
  return (
    figure && {
      ...figure,
      typical: thousandths(figure.typical),
      min: figure.min === null ? null : thousandths(figure.min),
      max: figure.max === null ? null : thousandths(figure.max),
    }
  );
}

const thousandths = (value: number): number => Math.round(value * 1000) / 1000;

function figureOf({ materialCode, figure }: MissingFigure): FigureOf {
  return { material: materialCode, figure };
}

function ratios({ greensToBrowns: { byMass, byVolume } }: Mix): BatchMix['greensToBrowns'] {
  return { byMass: hundredths(byMass), byVolume: hundredths(byVolume) };
}

export function eachOfMix<T>(of: (figure: MixFigure) => T): Record<MixFigure, T> {
  return Object.fromEntries(mixFigures.map((figure) => [figure, of(figure)])) as Record<MixFigure, T>;
}

function roundedRange(range: Interval | null): Bounds | null {
  return range && { min: tenths(range.min), max: Number.isFinite(range.max) ? tenths(range.max) : null };
}

export function rounded(figure: number | null): number | null {
  return figure === null ? null : tenths(figure);
}

const tenths = (figure: number): number => Math.round(figure * 10) / 10;

const hundredths = (ratio: number | null): number | null =>
  ratio === null ? null : Math.round(ratio * 100) / 100;
