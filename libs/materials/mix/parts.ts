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
    });
  }
  return [...merged.values()].sort((a, b) => (a.material.code < b.material.code ? -1 : 1));
}

/** How much of a material there is, by weight and by volume. */
export interface Heap {
  readonly massG: number;
  readonly volumeL: number;
}

/**
 * A part if its density were `densityKgM3` (1 kg/m³ is 1 g/L). What was weighed keeps its mass, and its volume follows. What
 * was estimated from a volume keeps that volume, which is what was seen, and its mass follows.
 */
export function heapAt({ massG, estimatedG }: MixPart, typicalKgM3: number, densityKgM3: number): Heap {
  const weighedG = massG - estimatedG;
  const seenL = estimatedG / typicalKgM3;
  return { massG: weighedG + seenL * densityKgM3, volumeL: weighedG / densityKgM3 + seenL };
}

/** The mass of a part: a point where all was weighed, and where no range of the density is known. */
export function massSpanOf(part: MixPart): Span {
  const { bulkDensityKgM3, kind } = part.material;
  if (part.estimatedG === 0 || bulkDensityKgM3 === null || kind === 'water') {
    return { typical: part.massG, min: part.massG, max: part.massG };
  }
  const { typical, min, max } = spanOf(bulkDensityKgM3);
  return {
    typical: part.massG,
    min: heapAt(part, typical, min).massG,
    max: heapAt(part, typical, max).massG,
  };
}

/** The figures the mass itself rests on. */
export function massFrom({ estimatedG, material }: MixPart): MaterialFigure[] {
  return estimatedG > 0 && material.kind !== 'water' ? ['bulkDensityKgM3'] : [];
}

function requirePossible({ material, massG, estimatedG }: MixPart): void {
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
