import { type Interval, type MixFigure, mixFigures } from '#libs/materials';
import { invalid } from '../http/problems/catalogue.js';
import type { NewPermitMixTargetDto } from './permits.dto.js';

/** A limit outside of these is mistyped: it would ask nothing, or what no heap can be. */
const possible: Readonly<Record<MixFigure, Interval>> = {
  carbonToNitrogen: { min: 1, max: 500 },
  moisturePercent: { min: 1, max: 99 },
  bulkDensityKgM3: { min: 10, max: 2000 },
  freeAirSpacePercent: { min: 1, max: 99 },
};

/** Refuses targets of a mix that ask nothing, twice, or what contradicts itself. */
export function requireMixTargets(targets: readonly NewPermitMixTargetDto[]): void {
  targets.forEach((target, index) => {
    const { figure, min, max } = target;
    const at = `/mixTargets/${index}`;
    if (targets.findIndex((other) => other.figure === figure) < index)
      throw invalid(`${at}/figure`, 'is asked above already');
    if (min === undefined && max === undefined) throw invalid(at, 'needs a min, a max or both');
    for (const end of ['min', 'max'] as const) {
      const asked = target[end];
      const { min: least, max: most } = possible[figure];
      if (asked !== undefined && (asked < least || asked > most))
        throw invalid(`${at}/${end}`, `cannot be: of this figure, a limit lies between ${least} and ${most}`);
    }
    if (min !== undefined && max !== undefined && min > max)
      throw invalid(`${at}/max`, `is below the min of ${min}`);
  });
}

/** In the order in which the figures of a mix are told. */
export function mixTargetsInOrder<T extends { figure: string }>(targets: readonly T[]): T[] {
  return mixFigures.flatMap((figure) => targets.filter((target) => target.figure === figure));
}
