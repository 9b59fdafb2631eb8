import { type MaterialFigure, type MaterialFigures, materialFigures } from '../figures.js';
import type { MixPart } from './figures.js';
import { type Span, spanOf } from './span.js';

/**
 * One part a material, in the order of their codes. However many lots of it went in, all of them share each figure, so its
 * range must not be drawn anew for each; and in one order, the same mix has the same digits however it was put together.
 * What has no mass is left out. Throws RangeError on masses and figures that cannot be, and where one code stands for two
 * sets of figures.
 */
export function mergedByMaterial(parts: readonly MixPart[]): MixPart[] {
  const merged = new Map<string, MixPart>();
  for (const part of parts) {
    requirePossible(part);
    if (part.massG === 0) continue;
    const { code } = part.material;
    const before = merged.get(code);
    if (before) requireSame(before.material, part.material);
    merged.set(code, {
      material: part.material,
      massG: (before?.massG ?? 0) + part.massG,
      estimatedG: (before?.estimatedG ?? 0) + part.estimatedG,
      estimatedMl: (before?.estimatedMl ?? 0) + part.estimatedMl,
    });
  }
  return [...merged.values()].sort((a, b) => (a.material.code < b.material.code ? -1 : 1));
}

/** How much of a material there is, by weight and by volume. */
export interface Heap {
  readonly massG: number;
  readonly volumeL: number;
}

/** A part as it was recorded, and at the ends of what its density allows: all else lies between them. */
export interface Heaps {
  readonly recorded: Heap;
  readonly corners: readonly Heap[];
}

/**
 * What was weighed keeps its mass, and its volume follows the density (1 kg/m³ is 1 g/L). What was estimated from a volume
 * keeps that volume, which is what was seen; its mass is the recorded one, or else what that volume weighs at either end of the
 * density. The recorded one is a corner of its own, since it may have been estimated with a density that is not in use now.
 * Null where the volume of what was weighed is unknown.
 */
export function heapsOf(part: MixPart): Heaps | null {
  const { massG, estimatedG, estimatedMl, material } = part;
  const weighedG = massG - estimatedG;
  const seenL = estimatedMl / 1000;
  if (material.bulkDensityKgM3 === null) {
    const recorded = { massG, volumeL: seenL };
    return weighedG > 0 ? null : { recorded, corners: [recorded] };
  }
  const { typical, min, max } = spanOf(material.bulkDensityKgM3);
  const at = (densityKgM3: number): Heap => ({
    massG: weighedG + seenL * densityKgM3,
    volumeL: weighedG / densityKgM3 + seenL,
  });
  const recorded = { massG, volumeL: weighedG / typical + seenL };
  return { recorded, corners: [at(min), at(max), recorded] };
}

/** The mass of a part: a point where all was weighed, and where the density is unknown. */
export function massSpanOf(part: MixPart): Span {
  const { massG, estimatedG, material } = part;
  const heaps = estimatedG > 0 && material.kind !== 'water' ? heapsOf(part) : null;
  const masses = heaps?.corners.map((heap) => heap.massG) ?? [massG];
  return { typical: massG, min: Math.min(...masses), max: Math.max(...masses) };
}

/** The figures the mass itself rests on. */
export function massFrom({ estimatedG, material }: MixPart): MaterialFigure[] {
  return estimatedG > 0 && material.kind !== 'water' ? ['bulkDensityKgM3'] : [];
}

function requirePossible({ material, massG, estimatedG, estimatedMl }: MixPart): void {
  for (const figure of materialFigures) {
    const { typical, min, max } = material[figure] ?? { typical: null, min: null, max: null };
    if (typical === null) continue;
    const ends = [min ?? typical, typical, max ?? typical];
    const ordered = ends.every((value, index) => value >= (ends[index - 1] ?? value));
    if (!ordered || !ends.every((value) => canBe(figure, value, material)))
      throw new RangeError(`${figure} of ${material.code} cannot be ${ends.join(' to ')}`);
  }
  if (!(massG >= 0 && Number.isFinite(massG)))
    throw new RangeError(`mass of ${material.code} must be zero or more, got ${massG}`);
  if (!(estimatedG >= 0 && estimatedG <= massG))
    throw new RangeError(`${estimatedG} g of ${material.code} cannot be part of ${massG} g`);
  const bothOrNeither = estimatedMl > 0 === estimatedG > 0 || massG === 0;
  if (!(estimatedMl >= 0 && Number.isFinite(estimatedMl) && bothOrNeither))
    throw new RangeError(`${estimatedMl} mL of ${material.code} cannot have been taken for ${estimatedG} g`);
}

function canBe(figure: MaterialFigure, value: number, { kind }: MaterialFigures): boolean {
  if (figure === 'carbonToNitrogen' || figure === 'bulkDensityKgM3')
    return value > 0 && Number.isFinite(value);
  if (figure === 'moisturePercent' && kind !== 'water') return value >= 0 && value < 100;
  return value >= 0 && value <= 100;
}

function requireSame(one: MaterialFigures, other: MaterialFigures): void {
  if (one === other) return;
  const numbers = (material: MaterialFigures): string =>
    materialFigures
      .map((figure) => material[figure])
      .map((figure) => `${figure?.typical} ${figure?.min} ${figure?.max}`)
      .join();
  if (numbers(one) !== numbers(other))
    throw new RangeError(`${one.code} stands for two different sets of figures`);
}
