import { describe, expect, it } from 'vitest';
import { mixOf, type MixTarget } from '#libs/materials';
import { mixView, standingOf } from '../../../apps/api/mixing/mix-view.js';
import { material } from '../../support/material.js';

const target = (min: number | null, max: number | null): MixTarget => ({
  ...{ figure: 'moisturePercent', grade: 'permit', min, max, source: 'Permit HS-1' },
});
const of = (moisturePercent: number) =>
  mixOf([{ material: material('scraps', { moisturePercent }), massG: 9_000, estimatedG: 0, estimatedMl: 0 }]);

describe('how a mix stands', () => {
  it.each([
    [65.04, target(40, 65), 65.04, 'above'],
    [65.0004, target(40, 65), 65.0004, 'above'],
    [39.96, target(40, 65), 39.96, 'below'],
    [64.96, target(40, 65), 65, 'within'],
    [72.04, target(40, 65), 72, 'above'],
    // 60.55 asked of 60.56: a tenth would be 60.6, which is above as well.
    [60.56, target(null, 60.55), 60.6, 'above'],
    [60.51, target(null, 60.55), 60.5, 'within'],
    [60.549, target(null, 60.549), 60.5, 'within'],
    [60.549, target(60.549, null), 60.55, 'within'],
  ])('is told of %d against %j by a figure that stands so too: %d', (exact, asked, value, state) => {
    expect(standingOf(asked, of(exact))).toMatchObject({ value, state });
  });
});

describe('the figures of a material', () => {
  it('have no more digits than anybody measured', () => {
    const worked = { carbonToNitrogen: 16.538461538461537, nitrogenPercentDry: 2.6 };
    const part = { material: material('scraps', worked), massG: 9_000, estimatedG: 0, estimatedMl: 0 };
    const [told] = mixView({ parts: [part], contradicted: [], permit: null, leftAt: null }).materials;
    expect(told).toMatchObject({
      ...{ carbonToNitrogen: { typical: 16.538, min: null }, nitrogenPercentDry: { typical: 2.6 } },
      moisturePercent: null,
    });
  });
});
