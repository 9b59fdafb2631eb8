import { describe, expect, it } from 'vitest';
import { contradictionsIn, type MaterialKind, startingMaterials } from '#libs/materials';
import { material } from '../../support/material.js';

type Given = Parameters<typeof material>[1];
const told = (kind: MaterialKind, given: Given) =>
  contradictionsIn(kind, material('some', given)).map(({ figures: [first], part }) => `${first} ${part}`);

describe('figures that cannot be together', () => {
  it('are not in the starting list', () => {
    const faults = startingMaterials.flatMap((one) =>
      contradictionsIn(one.kind, one).map(({ figures, detail }) => `${one.code} ${figures[0]} ${detail}`),
    );
    expect(faults).toEqual([]);
  });

  it.each<[MaterialKind, Given, string[]]>([
    ['organic', {}, []],
    ['organic', { nitrogenPercentDry: -1 }, ['nitrogenPercentDry typical']],
    ['organic', { nitrogenPercentDry: [2, -1, 3] }, ['nitrogenPercentDry min']],
    ['organic', { ashPercentDry: [50, 40, 101] }, ['ashPercentDry max']],
    ['organic', { carbonToNitrogen: 0 }, ['carbonToNitrogen typical']],
    ['organic', { bulkDensityKgM3: Infinity }, ['bulkDensityKgM3 typical']],
    ['organic', { bulkDensityKgM3: NaN }, ['bulkDensityKgM3 typical']],
    ['organic', { moisturePercent: [50, 51, null] }, ['moisturePercent min']],
    ['organic', { moisturePercent: [50, null, 49] }, ['moisturePercent max']],
    ['organic', { moisturePercent: 99.9 }, []],
    ['organic', { moisturePercent: [99, 98, 100] }, ['moisturePercent max']],
    ['mineral', { moisturePercent: 100 }, ['moisturePercent typical']],
    ['mineral', { ashPercentDry: 100, moisturePercent: 10, bulkDensityKgM3: 900 }, []],
    ['mineral', { carbonToNitrogen: 25 }, ['carbonToNitrogen typical']],
    ['inert-carbon', { carbonPercentDry: 80 }, ['carbonPercentDry typical']],
    ['water', { moisturePercent: 100, bulkDensityKgM3: 1000 }, []],
    ['water', { moisturePercent: 98 }, ['moisturePercent typical']],
    ['water', { ashPercentDry: 0 }, ['ashPercentDry typical']],
    ['organic', { nitrogenPercentDry: 0, carbonPercentDry: 50 }, []],
    ['organic', { nitrogenPercentDry: 0, carbonToNitrogen: 50 }, ['carbonToNitrogen typical']],
    ['organic', { nitrogenPercentDry: 60, ashPercentDry: 41 }, ['nitrogenPercentDry typical']],
    ['organic', { carbonPercentDry: 50, nitrogenPercentDry: 5, ashPercentDry: 45 }, []],
    [
      'organic',
      { carbonPercentDry: 50, nitrogenPercentDry: 5, ashPercentDry: 45.1 },
      ['carbonPercentDry typical'],
    ],
    // Fish wastes as printed, in the sheet of Cornell's mix calculation: C 38.2, N 10.6, and so 3.6.
    ['organic', { carbonPercentDry: 38.2, nitrogenPercentDry: 10.6, carbonToNitrogen: 3.6 }, []],
    [
      'organic',
      { carbonPercentDry: 40, nitrogenPercentDry: 2, carbonToNitrogen: 17.9 },
      ['carbonToNitrogen typical'],
    ],
  ])('of %s: %j', (kind, given, expected) => {
    expect(told(kind, given)).toEqual(expected);
  });

  it('are told of as a pair with all that they rest on', () => {
    const figures = material('some', { nitrogenPercentDry: 6, carbonToNitrogen: 17 });
    expect(contradictionsIn('organic', figures)).toEqual([
      {
        figures: ['carbonToNitrogen', 'nitrogenPercentDry'],
        part: 'typical',
        detail: expect.stringContaining('108 % of the dry matter'),
      },
    ]);
  });
});
