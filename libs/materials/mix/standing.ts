import type { Mix, MixFigure } from './figures.js';
import { mixFigures } from './figures.js';
import { type MixTarget, mixTargets } from './targets.js';

export const mixStandings = ['within', 'below', 'above', 'unknown'] as const;
export type MixStanding = (typeof mixStandings)[number];

export interface TargetStanding {
  readonly target: MixTarget;
  readonly standing: MixStanding;
  /** True where every gram's figures are known and the whole range stands so; else a measurement could tell otherwise. */
  readonly sure: boolean;
}

/** Where a mix stands to a target, by its exact figure. */
export function targetStanding(
  target: MixTarget,
  mix: Pick<Mix, 'value' | 'range' | 'knownMassShare'>,
): TargetStanding {
  const value = mix.value[target.figure];
  const range = mix.range[target.figure];
  const standing = standingAt(target, value);
  const sure =
    range !== null &&
    mix.knownMassShare[target.figure] === 1 &&
    standingAt(target, range.min) === standing &&
    standingAt(target, range.max) === standing;
  return { target, standing, sure };
}

function standingAt({ min, max }: MixTarget, value: number | null): MixStanding {
  if (value === null) return 'unknown';
  if (min !== null && value < min) return 'below';
  return max !== null && value > max ? 'above' : 'within';
}

/** A target that nothing meets: its least lies above its most. */
export function isContradictory({ min, max }: Pick<MixTarget, 'min' | 'max'>): boolean {
  return min !== null && max !== null && min > max;
}

/**
 * One target a figure, for asking what to add: the permit's where it has one, else the published one of that grade.
 * A published bulk density is asked for as a most only: a mix that is too light is mended by chopping and settling, which
 * no addition makes up for. Free air space is asked for by a permit alone, since its constants are from memory.
 */
export function targetsAsked(
  permitTargets: readonly MixTarget[],
  grade: 'reasonable' | 'preferred',
): MixTarget[] {
  return mixFigures.flatMap((figure) => {
    const target =
      permitTargets.find((one) => one.figure === figure) ??
      mixTargets.find((one) => one.figure === figure && one.grade === grade);
    const asked = target && askedOf(figure, target);
    return asked ? [asked] : [];
  });
}

function askedOf(figure: MixFigure, target: MixTarget): MixTarget | null {
  if (target.grade === 'permit') return target;
  if (figure === 'freeAirSpacePercent') return null;
  return figure === 'bulkDensityKgM3' ? { ...target, min: null } : target;
}
