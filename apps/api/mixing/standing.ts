import type { MaterialFigures, Measure } from '#libs/materials';
import { estimateMassG } from '#libs/quantities';
import type { StockLine } from './stock.records.js';

/** What lies at a yard of one material: what was counted last, less what was taken from it since. */
export interface Standing {
  line: StockLine;
  /** Null where only a volume was told and no density is known. */
  countedG: number | null;
  leftG: number | null;
  leftMl: number | null;
  /** What was taken beyond what had been counted. */
  beyondG: number;
  measure: (Measure & { containerId: string }) | null;
}

/**
 * What was counted by its volume is that volume, less what was seen to go of it: it weighs what it does by the density in use
 * now, as in the mix that it is added to. Without one it goes by the density of the count.
 */
export function standingOf(line: StockLine, material: MaterialFigures | undefined): Standing {
  const density = material?.bulkDensityKgM3?.typical ?? line.densityKgM3;
  const countedG = line.massG ?? massOf(line.volumeMl ?? 0, density);
  const left = line.volumeMl
    ? leftByVolume(line.volumeMl, line, density)
    : leftByMass(countedG, line, density);
  return { line, countedG, ...left, measure: containerOf(line) };
}

type Left = Pick<Standing, 'leftG' | 'leftMl' | 'beyondG'>;

function leftByVolume(countedMl: number, line: StockLine, density: number | null): Left {
  const weighedMl = volumeOf(line.usedWeighedG, density);
  if (weighedMl === null) return { leftG: null, leftMl: null, beyondG: 0 };
  const restMl = countedMl - line.usedSeenMl - weighedMl;
  const leftMl = Math.max(0, restMl);
  return { leftMl, leftG: massOf(leftMl, density), beyondG: massOf(Math.max(0, -restMl), density) ?? 0 };
}

function leftByMass(countedG: number | null, { usedG }: StockLine, density: number | null): Left {
  const restG = (countedG ?? 0) - usedG;
  const leftG = Math.max(0, restG);
  return { leftG, leftMl: volumeOf(leftG, density), beyondG: Math.max(0, -restG) };
}

/** That it was last counted in, while its volume is known. */
export function containerOf({ containerId, containerCode, containerMl }: StockLine): Standing['measure'] {
  if (containerId === null || containerCode === null || containerMl === null) return null;
  return { containerId, code: containerCode, volumeMl: containerMl };
}

/** Nothing weighs nothing, whatever it is. */
function massOf(volumeMl: number, densityKgM3: number | null): number | null {
  if (volumeMl === 0) return 0;
  return densityKgM3 === null ? null : estimateMassG(volumeMl, densityKgM3);
}

function volumeOf(massG: number | null, densityKgM3: number | null): number | null {
  if (massG === 0) return 0;
  return massG === null || densityKgM3 === null ? null : Math.round((massG / densityKgM3) * 1000);
}
