import {
  type Length,
  lengthToMm,
  massToG,
  type Pile,
  pileMassG,
  type PileShape,
  type PileSize,
  pileSizeOf,
  volumeToMl,
} from '#libs/quantities';
import { invalid } from '../http/problems/catalogue.js';
import type { BucketTestDto, PileDto, PileEntered } from './pile-measurements.dto.js';

/** A pile as it is kept. */
export interface MeasuredPile extends PileSize {
  shape: PileShape;
  /** Both null where no bucket was weighed. */
  densityKgM3: number | null;
  massG: number | null;
}

/** More is a slip of the keys: the yard would be a landfill, and the pile of stone. */
const MOST_ML = 1_000_000_000;
const MOST_KG_M3 = 2000;

/** Refuses (422) sizes that do not go with the shape, and what no pile holds or weighs; `at` is where the pile stands. */
export function measuredPile(dto: PileDto, at = ''): MeasuredPile {
  const size = sizeOf(pileOf(dto, at), at);
  if (size.volumeMl > MOST_ML) throw invalid(`${at}/height`, 'and the other sizes come to more than 1000 m3');
  const bucket = dto.density ? bucketOf(dto.density, `${at}/density`) : null;
  return {
    ...{ shape: dto.shape, ...size },
    densityKgM3: bucket && bucket.densityKgM3,
    massG: bucket && pileMassG(size.volumeMl, bucket),
  };
}

/** As it was typed. */
export function enteredPile({
  length,
  width,
  circumference,
  topWidth,
  height,
  density,
}: PileDto): PileEntered {
  const typed = Object.entries({ length, width, circumference, topWidth, height, density });
  return Object.fromEntries(typed.filter(([, quantity]) => quantity !== undefined)) as unknown as PileEntered;
}

function pileOf(dto: PileDto, at: string): Pile {
  const { shape, height, length, width, circumference, topWidth } = dto;
  const needed = (field: string, given: Length | undefined): Length => {
    if (!given) throw invalid(`${at}/${field}`, `is needed of a ${shape}`);
    if (lengthToMm(given) > 0) return given;
    throw invalid(`${at}/${field}`, 'must be more than nothing');
  };
  const without = (field: string, given: Length | undefined) => {
    if (given) throw invalid(`${at}/${field}`, `is nothing that a ${shape} has, or is given otherwise`);
  };
  const tall = { height: needed('height', height) };
  if (shape !== 'flat-topped-windrow') without('topWidth', topWidth);
  if (shape === 'cone') {
    without('length', length);
    if (!circumference) return { shape, ...tall, width: needed('width', width) };
    without('width', width);
    return { shape, ...tall, circumference: needed('circumference', circumference) };
  }
  without('circumference', circumference);
  const sizes = { ...tall, length: needed('length', length), width: needed('width', width) };
  if (shape !== 'flat-topped-windrow') return { shape, ...sizes };
  if (!topWidth)
    throw invalid(`${at}/topWidth`, `is needed of a ${shape}; one that comes to an edge is triangular`);
  if (lengthToMm(topWidth) > lengthToMm(sizes.width))
    throw invalid(`${at}/topWidth`, 'must not be wider than the base');
  return { shape, ...sizes, topWidth };
}

function sizeOf(pile: Pile, at: string): PileSize {
  try {
    return pileSizeOf(pile);
  } catch (error) {
    if (error instanceof RangeError)
      throw invalid(`${at}/height`, `or another size is amiss: ${error.message}`);
    throw error;
  }
}

function bucketOf({ full, empty, volume }: BucketTestDto, at: string) {
  const contentG = massToG(full) - massToG(empty);
  const volumeMl = volumeToMl(volume);
  if (contentG <= 0) throw invalid(`${at}/full`, 'must weigh more than the bucket alone');
  if (volumeMl === 0) throw invalid(`${at}/volume`, 'must be more than nothing');
  const densityKgM3 = (contentG / volumeMl) * 1000;
  if (densityKgM3 <= MOST_KG_M3) return { contentG, volumeMl, densityKgM3 };
  throw invalid(at, `comes to ${Math.round(densityKgM3)} kg/m³, which no pile weighs`);
}
