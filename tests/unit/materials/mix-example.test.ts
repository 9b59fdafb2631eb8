import { describe, expect, it } from 'vitest';
import { mixOf } from '#libs/materials';
import { material, water } from '../../support/material.js';

/** The table under "An example" in docs/mix.md. */
describe('the example of the page on mixes', () => {
  const scraps = material('scraps', {
    class: 'nitrogen',
    nitrogenPercentDry: [2.4, 2, 2.8],
    carbonToNitrogen: [15, 14, 17],
    moisturePercent: [70, 65, 75],
    bulkDensityKgM3: [450, 350, 550],
  });
  const leaves = material('leaves', {
    class: 'carbon',
    nitrogenPercentDry: [0.9, 0.6, 1.3],
    carbonToNitrogen: [50, 40, 65],
    moisturePercent: [30, 15, 40],
    bulkDensityKgM3: [120, 80, 160],
  });
  const mix = mixOf([
    { material: scraps, massG: 300_000, estimatedG: 0, estimatedMl: 0 },
    { material: leaves, massG: 180_000, estimatedG: 180_000, estimatedMl: 1_500_000 },
    { material: water, massG: 40_000, estimatedG: 0, estimatedMl: 0 },
  ]);

  it('prints what the arithmetic answers', () => {
    const rounded = Object.entries(mix.value).map(([name, value]) => {
      const { min, max } = mix.range[name as keyof typeof mix.range]!;
      return [name, ...[value!, min, max].map((one) => Math.round(one * 10) / 10)];
    });
    expect(rounded).toEqual([
      ['carbonToNitrogen', 27, 17.3, 43.7],
      ['moisturePercent', 58.5, 46.7, 68],
      ['bulkDensityKgM3', 240, 195.2, 283.6],
      ['freeAirSpacePercent', 80.3, 75.7, 84.9],
    ]);
    expect([mix.massG, mix.volumeMl]).toEqual([520_000, 2_166_667]);
  });
});
