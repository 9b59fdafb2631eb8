import { describe, expect, it } from 'vitest';
import {
  isContradictory,
  mixOf,
  type MixTarget,
  mixTargets,
  type TargetStanding,
  targetsAsked,
  targetStanding,
} from '#libs/materials';
import { material } from '../../support/material.js';

const target = (min: number | null, max: number | null, figure = 'moisturePercent' as const): MixTarget => ({
  figure,
  grade: 'permit',
  min,
  max,
  source: 'an invented permit',
});

const damp = material('damp', { moisturePercent: [55, 50, 60] });
const unknown = material('unknown');
const standing = (asked: MixTarget, unknownG = 0): Pick<TargetStanding, 'standing' | 'sure'> => {
  const parts = [
    { material: damp, massG: 1000, estimatedG: 0, estimatedMl: 0 },
    { material: unknown, massG: unknownG, estimatedG: 0, estimatedMl: 0 },
  ];
  const { standing: at, sure } = targetStanding(asked, mixOf(parts));
  return { standing: at, sure };
};

describe('a mix beside a target', () => {
  it('stands within, below or above, its ends included', () => {
    expect(standing(target(45, 65))).toEqual({ standing: 'within', sure: true });
    expect(standing(target(50, 60))).toEqual({ standing: 'within', sure: true });
    expect(standing(target(61, null))).toEqual({ standing: 'below', sure: true });
    expect(standing(target(null, 49))).toEqual({ standing: 'above', sure: true });
  });

  it('is not sure where its range straddles an end, or some of it is unknown', () => {
    expect(standing(target(51, 65))).toEqual({ standing: 'within', sure: false });
    expect(standing(target(56, 65))).toEqual({ standing: 'below', sure: false });
    expect(standing(target(null, 54))).toEqual({ standing: 'above', sure: false });
    expect(standing(target(45, 65), 1)).toEqual({ standing: 'within', sure: false });
  });

  it('is unknown where the figure is', () => {
    const asked: MixTarget = { ...target(20, 40), figure: 'carbonToNitrogen' };
    expect(standing(asked)).toEqual({ standing: 'unknown', sure: false });
  });
});

describe('targets', () => {
  it('contradict themselves where the least lies above the most', () => {
    expect(isContradictory(target(60, 50))).toBe(true);
    for (const fine of [target(50, 50), target(null, 50), target(50, null)])
      expect(isContradictory(fine)).toBe(false);
  });

  const ends = (targets: readonly MixTarget[]): unknown[] =>
    targets.map(({ figure, grade, min, max }) => [figure, grade, min, max]);

  it('asked for are the published ones of the grade, of density the most alone, of air none', () => {
    expect(ends(targetsAsked([], 'reasonable'))).toEqual([
      ['carbonToNitrogen', 'reasonable', 20, 40],
      ['moisturePercent', 'reasonable', 40, 65],
      ['bulkDensityKgM3', 'reasonable', null, 712],
    ]);
    expect(ends(targetsAsked([], 'preferred'))).toEqual([
      ['carbonToNitrogen', 'preferred', 25, 30],
      ['moisturePercent', 'preferred', 50, 55],
      ['bulkDensityKgM3', 'preferred', null, 653],
    ]);
    expect(mixTargets.some(({ figure }) => figure === 'freeAirSpacePercent')).toBe(true);
  });

  it("asked for are the permit's where it has one, as it has it", () => {
    const permit: MixTarget[] = [
      { ...target(30, null), figure: 'freeAirSpacePercent' },
      { ...target(400, 650), figure: 'bulkDensityKgM3' },
    ];
    expect(ends(targetsAsked(permit, 'preferred'))).toEqual([
      ['carbonToNitrogen', 'preferred', 25, 30],
      ['moisturePercent', 'preferred', 50, 55],
      ['bulkDensityKgM3', 'permit', 400, 650],
      ['freeAirSpacePercent', 'permit', 30, null],
    ]);
  });
});
