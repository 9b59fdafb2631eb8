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

/** A volume goes by the density of its count; one of which none was known then goes by what is known now. */
export function standingOf(line: StockLine, material: MaterialFigures | undefined): Standing {
  const { volumeMl, usedG } = line;
  const density = line.densityKgM3 ?? material?.bulkDensityKgM3?.typical ?? null;
  const countedG = line.massG ?? massOf(volumeMl ?? 0, density);
  const leftG = countedG === null ? null : Math.max(0, countedG - usedG);
  const beyondG = countedG === null ? 0 : Math.max(0, usedG - countedG);
  const leftMl = volumeMl !== null && usedG === 0 ? volumeMl : volumeOf(leftG, density);
  return { line, countedG, leftG, leftMl, beyondG, measure: containerOf(line) };
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
