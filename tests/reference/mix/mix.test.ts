/**
 * Sources:
 * - Cornell Composting, moisture and C/N calculation pages (compost.css.cornell.edu/calc). The moisture examples were read
 *   on a third-party copy of Cornell's text; the inputs and the answer of the C/N example are from memory.
 * - Ratio averaging as printed, to be contradicted: a vendor's balance page crediting North Carolina Cooperative
 *   Extension (7.5A + 130 − 130A), and a garden page (two parts grass 20:1, one part leaves 60:1, "33/1").
 * - Target ranges: LSU AgCenter publication 3838-D; 1 lb/yd³ from the exact pound and yard.
 */
import { describe, expect, it } from 'vitest';
import { mixOf, mixTargets, moisturePercentFromDrying } from '#libs/materials';
import { material, water } from '../../support/material.js';

describe('Cornell worked examples', () => {
  it('10 g of grass dries to 2.3 g: "77% for the grass clippings"', () => {
    expect(moisturePercentFromDrying(10, 2.3)).toBeCloseTo(77, 10);
  });

  it('10 kg grass at 77 % and "6.8 kg leaves" at 35 % make 60 %', () => {
    const mix = mixOf([
      { material: material('grass', { moisturePercent: 77 }), massG: 10_000, estimatedG: 0 },
      { material: material('leaves', { moisturePercent: 35 }), massG: 6_800, estimatedG: 0 },
    ]);
    expect(mix.value.moisturePercent).toBeCloseTo(60, 10);
  });

  it('10 kg grass (N 2.4, C 45, M 77) and about 3.5 kg leaves (N 0.75, C 50, M 35) make C:N 30 (from memory)', () => {
    const grass = material('grass', {
      nitrogenPercentDry: 2.4,
      carbonToNitrogen: 45 / 2.4,
      moisturePercent: 77,
    });
    const leaves = material('leaves', {
      nitrogenPercentDry: 0.75,
      carbonToNitrogen: 50 / 0.75,
      moisturePercent: 35,
    });
    const mix = mixOf([
      { material: grass, massG: 10_000, estimatedG: 0 },
      { material: leaves, massG: 3_500, estimatedG: 0 },
    ]);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(30, 0);
  });

  it('1 000 kg at 40 % need 333 kg of water to reach 55 % (derived from the same formula)', () => {
    const mix = mixOf([
      { material: material('pile', { moisturePercent: 40 }), massG: 1_000_000, estimatedG: 0 },
      { material: water, massG: 333_333, estimatedG: 0 },
    ]);
    expect(mix.value.moisturePercent).toBeCloseTo(55, 3);
  });
});

describe('averaged ratios, printed but wrong', () => {
  it('0.90 litter at 7.5 and 0.10 straw at 130 is not "20"', () => {
    // Nitrogen and moisture of broiler litter and wheat straw as in the Alberta table (Agdex 400/27-1, Table 3).
    const litter = material('litter', {
      nitrogenPercentDry: 4.7,
      carbonToNitrogen: 7.5,
      moisturePercent: 25,
    });
    const straw = material('straw', { nitrogenPercentDry: 0.4, carbonToNitrogen: 130, moisturePercent: 10 });
    const mix = mixOf([
      { material: litter, massG: 900, estimatedG: 0 },
      { material: straw, massG: 100, estimatedG: 0 },
    ]);
    expect(0.9 * 7.5 + 0.1 * 130).toBeCloseTo(20, 0);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(8.87, 2);
  });

  it('two parts grass 20:1 and one part leaves 60:1, by volume, is not "33/1"', () => {
    // Nitrogen, moisture and density as in the starting list: two cubic metres of grass, one of leaves.
    const grass = material('grass', { nitrogenPercentDry: 2.4, carbonToNitrogen: 20, moisturePercent: 77 });
    const leaves = material('leaves', { nitrogenPercentDry: 0.9, carbonToNitrogen: 60, moisturePercent: 38 });
    const mix = mixOf([
      { material: grass, massG: 2 * 396_000, estimatedG: 0 },
      { material: leaves, massG: 237_000, estimatedG: 0 },
    ]);
    expect((2 * 20 + 60) / 3).toBeCloseTo(33.3, 1);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(29.3, 1);
  });
});

describe('LSU AgCenter 3838-D target ranges', () => {
  const kgM3 = (lbYd3: number): number => Math.round((lbYd3 * 453.59237) / 764.554857984);

  it('are printed in metric to the nearest kg/m³', () => {
    const density = mixTargets.filter(({ figure }) => figure === 'bulkDensityKgM3');
    expect(density.map(({ min, max }) => [min, max])).toEqual([
      [kgM3(800), kgM3(1200)],
      [null, kgM3(1100)],
    ]);
  });

  it('put the preferred range inside the reasonable one', () => {
    for (const wide of mixTargets.filter(({ grade }) => grade === 'reasonable')) {
      const narrow = mixTargets.find(({ figure, grade }) => figure === wide.figure && grade === 'preferred')!;
      expect(narrow.min ?? wide.min!).toBeGreaterThanOrEqual(wide.min!);
      expect(narrow.max!).toBeLessThanOrEqual(wide.max!);
    }
  });
});
