/**
 * Sources:
 * - Cornell Composting, moisture and C/N calculation pages (compost.css.cornell.edu/calc). The moisture examples were read
 *   on a third-party copy of Cornell's text; the inputs and the answer of the C/N example are from memory. The rows of its
 *   spreadsheet were read on a modified copy (scribd.com/document/235079137).
 * - A solved exercise on vegetable waste and sawdust, as printed at scribd.com/document/470443366 (textbook not named).
 * - "How to calculate the carbon-to-nitrogen ratio of your compost mix", docslib.org/doc/12269573: percentages as is, so
 *   they are taken here as those of material without moisture.
 * - Nitrogen to add to rice straw: cacn.jp/soil/making.html.
 * - A cubic yard of sawdust and urea: answer 351921 of Ask Extension, Oregon, 10 August 2016 (ask2.extension.org/kb).
 * - Bucket: Zabaleta, Supplementary material on composting, after Cooperband 2002 (scribd.com/document/456947730).
 * - Published ranges: Alberta Agriculture, Manure Composting Manual (Agdex 400/27-1), Table 3, read on a mirror.
 * - Target ranges: LSU AgCenter publication 3838-D; 1 lb/yd³ from the exact pound and yard.
 */
import { describe, expect, it } from 'vitest';
import {
  bulkDensityKgM3FromBucket,
  carbonPercentFromAsh,
  type MaterialFigures,
  type Mix,
  mixOf,
  mixTargets,
  moisturePercentFromDrying,
} from '#libs/materials';
import { material, water } from '../../support/material.js';
import { secondForCarbonToNitrogenG, secondForMoistureG, waterForMoistureG } from './two-materials.js';

const mixed = (...parts: [MaterialFigures, number][]): Mix =>
  mixOf(parts.map(([one, massG]) => ({ material: one, massG, estimatedG: 0, estimatedMl: 0 })));

describe('Cornell worked examples', () => {
  const grass = material('grass', { moisturePercent: 77, carbonPercentDry: 45, nitrogenPercentDry: 2.4 });
  const leaves = material('leaves', { moisturePercent: 35, carbonPercentDry: 50, nitrogenPercentDry: 0.75 });

  it('10 g of grass dries to 2.3 g: "77% for the grass clippings"', () => {
    expect(moisturePercentFromDrying(10, 2.3)).toBeCloseTo(77, 10);
  });

  it('10 kg grass at 77 % and "6.8 kg leaves" at 35 % make 60 %', () => {
    expect(secondForMoistureG(10_000, 77, 35, 60)).toBeCloseTo(6_800, 6);
    expect(mixed([grass, 10_000], [leaves, 6_800]).value.moisturePercent).toBeCloseTo(60, 10);
  });

  it('10 kg grass (N 2.4, C 45, M 77) and 3.5 kg leaves (N 0.75, C 50, M 35) make C:N 30 (from memory)', () => {
    const of = (m: number, c: number, n: number) => ({
      moisturePercent: m,
      carbonPercentDry: c,
      nitrogenPercentDry: n,
    });
    const secondG = secondForCarbonToNitrogenG(10_000, of(77, 45, 2.4), of(35, 50, 0.75), 30);
    expect(secondG / 1000).toBeCloseTo(3.47, 2);
    expect(mixed([grass, 10_000], [leaves, secondG]).value.carbonToNitrogen).toBeCloseTo(30, 9);
    expect(mixed([grass, 10_000], [leaves, 3_500]).value.carbonToNitrogen).toBeCloseTo(30, 0);
  });

  it('1 000 kg at 40 % need 333 kg of water to reach 55 % (derived from the same formula)', () => {
    expect(waterForMoistureG(1_000_000, 40, 55)).toBeCloseTo(333_333.3, 0);
    const pile = material('pile', { moisturePercent: 40 });
    expect(mixed([pile, 1_000_000], [water, 333_333]).value.moisturePercent).toBeCloseTo(55, 3);
  });

  it('carbon is (100 − ash) / 1.8, about 55 % of what is volatile', () => {
    expect(carbonPercentFromAsh(10)).toBeCloseTo(50, 10);
    expect(carbonPercentFromAsh(0)).toBeCloseTo(55, -1);
    expect(carbonPercentFromAsh(100)).toBe(0);
  });

  it.each([
    ['Cattle manure', 81, 45.6, 2.4, 19],
    ['Newsprint', 5.5, 62.5, 0.1, 625],
    ['Seaweed', 53, 32.3, 1.9, 17],
    ['Fish wastes', 76, 38.2, 10.6, 3.6],
  ])('%s: %%C = %%N × C:N', (code, moisturePercent, carbonPercentDry, nitrogenPercentDry, ratio) => {
    const row = material(code, { moisturePercent, carbonPercentDry, nitrogenPercentDry });
    expect(mixed([row, 1000]).value.carbonToNitrogen).toBeCloseTo(ratio, 1);
  });
});

describe('other worked examples', () => {
  it('1 kg vegetable waste (C:N 11) and "0.3 kg sawdust" (C:N 500) make C:N 20', () => {
    const vegetables = material('vegetables', {
      moisturePercent: 80,
      nitrogenPercentDry: 4,
      carbonToNitrogen: 11,
    });
    const sawdust = material('sawdust', {
      moisturePercent: 50,
      nitrogenPercentDry: 0.1,
      carbonToNitrogen: 500,
    });
    expect(mixed([vegetables, 1000], [sawdust, 300]).value.carbonToNitrogen).toBeCloseTo(20, 10);
    const needed = secondForCarbonToNitrogenG(
      1000,
      { moisturePercent: 80, nitrogenPercentDry: 4, carbonPercentDry: 44 },
      { moisturePercent: 50, nitrogenPercentDry: 0.1, carbonPercentDry: 50 },
      20,
    );
    expect(needed).toBeCloseTo(300, 9);
    expect((1000 * 11 + 300 * 500) / 1300).toBeCloseTo(124, 0);
  });

  it('50 lb hay, 10 lb kitchen scraps and 2 lb coffee grounds: "21.5/0.62 = 34.7"', () => {
    const asIs = (code: string, carbonPercentDry: number) =>
      material(code, { carbonPercentDry, nitrogenPercentDry: 1, moisturePercent: 0 });
    const mix = mixed([asIs('hay', 40), 50], [asIs('scraps', 10), 10], [asIs('grounds', 25), 2]);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(34.7, 1);
  });

  it('1 t of rice straw (C 42, N 0.6: C:N 70) needs 8 kg of nitrogen for C:N 30', () => {
    const straw = material('straw', { carbonPercentDry: 42, nitrogenPercentDry: 0.6, moisturePercent: 0 });
    const nitrogen = material('nitrogen', {
      carbonPercentDry: 0,
      nitrogenPercentDry: 100,
      moisturePercent: 0,
    });
    expect(mixed([straw, 1_000_000]).value.carbonToNitrogen).toBeCloseTo(70, 10);
    expect(mixed([straw, 1_000_000], [nitrogen, 8_000]).value.carbonToNitrogen).toBeCloseTo(30, 10);
  });

  it('a cubic yard of sawdust (400 lb, C 60 %, C:N 400) needs "16 pounds of urea" (46 % N) for C:N 30', () => {
    const sawdust = material('sawdust', {
      carbonPercentDry: 60,
      carbonToNitrogen: 400,
      moisturePercent: 0,
      bulkDensityKgM3: (400 * 453.59237) / 764.554857984,
    });
    const urea = { carbonPercentDry: 0, nitrogenPercentDry: 46, moisturePercent: 0 };
    const lb = 453.59237;
    const mix = mixed([sawdust, 400 * lb], [material('urea', urea), 16 * lb]);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(240 / (0.6 + 7.36), 9);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(30, 0);
    expect(mixed([sawdust, 400 * lb]).volumeMl).toBe(764_555);
    const first = { carbonPercentDry: 60, nitrogenPercentDry: 0.15, moisturePercent: 0 };
    expect(secondForCarbonToNitrogenG(400 * lb, first, urea, 30) / lb).toBeCloseTo(7.4 / 0.46, 2);
  });

  it('a 20 L bucket, 1 kg empty and 10 kg full: "0.45 kg/L"', () => {
    expect(bulkDensityKgM3FromBucket(10_000, 1_000, 20_000)).toBeCloseTo(450, 10);
  });
});

describe('averaged ratios, printed but wrong', () => {
  // Nitrogen and moisture of litter and straw as in the Alberta table; those of grass and leaves from it and from Cornell.
  const litter = material('litter', { nitrogenPercentDry: 4.7, carbonToNitrogen: 7.5, moisturePercent: 25 });
  const straw = material('straw', { nitrogenPercentDry: 0.4, carbonToNitrogen: 130, moisturePercent: 10 });
  const grass = material('grass', {
    nitrogenPercentDry: 2.4,
    carbonToNitrogen: 20,
    moisturePercent: 77,
    bulkDensityKgM3: 396,
  });
  const leaves = (carbonToNitrogen: number): MaterialFigures =>
    material('leaves', {
      nitrogenPercentDry: 0.9,
      carbonToNitrogen,
      moisturePercent: 38,
      bulkDensityKgM3: 237,
    });

  it('0.90 litter at 7.5 and 0.10 straw at 130 is neither the 30 that was aimed at nor "20" (a vendor)', () => {
    expect(0.9 * 7.5 + 0.1 * 130).toBeCloseTo(20, 0);
    expect(mixed([litter, 900], [straw, 100]).value.carbonToNitrogen).toBeCloseTo(8.87, 2);
  });

  it('two parts grass 20:1 and one part leaves 60:1, by volume, is not "33/1" (a garden page)', () => {
    expect((2 * 20 + 60) / 3).toBeCloseTo(33.3, 1);
    const mix = mixed([grass, 2 * 396_000], [leaves(60), 237_000]);
    expect(mix.volumeMl).toBe(3_000_000);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(29.3, 1);
  });

  it('half grass 20:1 and half leaves 40:1 is not 10 + 20 = 30 (a county, which says that it is simplified)', () => {
    expect(0.5 * 20 + 0.5 * 40).toBe(30);
    expect(mixed([grass, 500], [leaves(40), 500]).value.carbonToNitrogen).toBeCloseTo(30.1, 1);
    // Near by chance: the leaves have half the nitrogen but nearly three times the dry matter. Dried alike, it is not.
    const dried = (one: MaterialFigures): MaterialFigures => ({
      ...one,
      moisturePercent: straw.moisturePercent,
    });
    expect(mixed([dried(grass), 500], [dried(leaves(40)), 500]).value.carbonToNitrogen).toBeCloseTo(25.5, 1);
  });
});

describe('published ranges', () => {
  const rangeOf = (
    code: string,
    nitrogenPercentDry: [number, number, number],
    carbonToNitrogen: [number, number, number],
  ) => {
    const moisturePercent = [40, 30, 50] as const;
    const row = material(code, { nitrogenPercentDry, carbonToNitrogen, moisturePercent });
    return mixed([row, 1000]).range.carbonToNitrogen!;
  };

  it('of leaves and of paper are the range of a heap of nothing else', () => {
    const leaves = rangeOf('leaves', [0.9, 0.5, 1.3], [54, 40, 80]);
    expect(leaves.min).toBeCloseTo(40, 10);
    expect(leaves.max).toBeCloseTo(80, 10);
    const paper = rangeOf('paper', [0.225, 0.2, 0.25], [150, 127, 178]);
    expect(paper.min).toBeCloseTo(127, 10);
    expect(paper.max).toBeCloseTo(178, 10);
  });

  it('of horse manure cannot all go together: C:N 50 with N no less than 1.4 would be 70 % carbon', () => {
    const { min, max } = rangeOf('horse manure', [1.6, 1.4, 2.3], [30, 22, 50]);
    expect(min).toBeCloseTo(22, 10);
    expect(max).toBeCloseTo(60 / 1.4, 10);
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
