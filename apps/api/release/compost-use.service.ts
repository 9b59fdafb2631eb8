import { Injectable } from '@nestjs/common';
import { applicationOf, containersFor } from '#libs/materials';
import {
  gToUnit,
  kgOf,
  type Layer,
  type LayerKnown,
  litresOf,
  mlToUnit,
  mm2ToUnit,
  umToUnit,
  volumeToMl,
} from '#libs/quantities';
import { type Fault, Problem } from '../http/problems/catalogue.js';
import { type CompostUseDto, type CompostUseQuery, type WorkedOut, workedOut } from './compost-use.dto.js';

/** Beyond these it is a slip of the keys: 100 km², 10 m deep, a million m³. */
const MOST: Layer = { areaMm2: 1e14, depthUm: 1e7, volumeMl: 1e12 };

/** How much compost for how large a bed, and back. Nothing is recorded. */
@Injectable()
export class CompostUseService {
  use(query: CompostUseQuery): CompostUseDto {
    const known = knownOf(query);
    const { layer, massG, cautions } = within(query, () => applicationOf(known, query.densityKgM3));
    const { areaMm2, depthUm, volumeMl } = layer;
    const { containerLitres } = query;
    return {
      workedOut: workedOut.find((name) => !(name in known)) ?? 'volume',
      areaM2: areaMm2 / 1e6,
      areaFt2: rounded(mm2ToUnit(areaMm2, 'ft2')),
      depthMm: depthUm / 1000,
      depthIn: rounded(umToUnit(depthUm, 'in')),
      volumeM3: volumeMl / 1e6,
      volumeL: litresOf(volumeMl),
      volumeYd3: rounded(mlToUnit(volumeMl, 'yd3')),
      volumeFt3: rounded(mlToUnit(volumeMl, 'ft3')),
      massKg: massG === null ? null : kgOf(massG),
      massLb: massG === null ? null : rounded(gToUnit(massG, 'lb')),
      containers:
        containerLitres === undefined
          ? null
          : containersFor(volumeMl, volumeToMl({ value: containerLitres, unit: 'L' })),
      cautions: [...cautions],
      entered: query,
    };
  }
}

/** Exactly two of the three, each with its unit; else a fault at each parameter that is missing or one too many. */
function knownOf(query: CompostUseQuery): LayerKnown {
  const { areaValue, areaUnit, depthValue, depthUnit, volumeValue, volumeUnit } = query;
  const area = areaValue !== undefined && areaUnit ? { value: areaValue, unit: areaUnit } : null;
  const depth = depthValue !== undefined && depthUnit ? { value: depthValue, unit: depthUnit } : null;
  const volume = volumeValue !== undefined && volumeUnit ? { value: volumeValue, unit: volumeUnit } : null;
  const faults = workedOut.flatMap((name) => halfTold(query, name));
  if (faults.length > 0) throw refused(faults);
  if (area && depth && !volume) return { area, depth };
  if (area && volume && !depth) return { area, volume };
  if (depth && volume && !area) return { depth, volume };
  const told = area !== null && depth !== null && volume !== null;
  const detail = told
    ? 'is one too many: leave out one of area, depth and volume'
    : 'is needed, or another: two of area, depth and volume';
  throw refused(
    workedOut
      .filter((name) => told || query[`${name}Value`] === undefined)
      .map((name) => ({ pointer: `/${name}Value`, detail })),
  );
}

function halfTold(query: CompostUseQuery, name: WorkedOut): Fault[] {
  const [value, unit] = [query[`${name}Value`], query[`${name}Unit`]];
  if (value === 0) return [{ pointer: `/${name}Value`, detail: 'must be more than nothing' }];
  if ((value === undefined) === (unit === undefined)) return [];
  const [missing, other] = value === undefined ? ['Value', 'Unit'] : ['Unit', 'Value'];
  return [{ pointer: `/${name}${missing}`, detail: `goes with ${name}${other}` }];
}

/** Two figures that are possible by themselves may still make a third that is not, or that rounds to nothing. */
function within<T extends { layer: Layer }>(query: CompostUseQuery, work: () => T): T {
  const faults = (detail: string) =>
    workedOut
      .filter((name) => query[`${name}Value`] !== undefined)
      .map((name) => ({ pointer: `/${name}Value`, detail: `makes, with the other, ${detail}` }));
  const tooMuch = faults('more than 100 km², 10 m or a million m³');
  let made: T;
  try {
    made = work();
  } catch (error) {
    throw error instanceof RangeError ? refused(tooMuch) : error;
  }
  const { areaMm2, depthUm, volumeMl } = made.layer;
  const fits = areaMm2 <= MOST.areaMm2 && depthUm <= MOST.depthUm && volumeMl <= MOST.volumeMl;
  if (!fits) throw refused(tooMuch);
  if (Math.min(areaMm2, depthUm, volumeMl) < 1) throw refused(faults('less than 1 mm², 1 µm or 1 mL'));
  return made;
}

function refused(faults: Fault[]): Problem {
  return new Problem('invalid', undefined, faults);
}

const rounded = (figure: number): number => Math.round(figure * 1000) / 1000;
