import { describe, expect, it } from 'vitest';
import { differenceWords, stockWords } from '../../../apps/api/mixing/recipe-words.js';

const words = (expectedG: number | null, presentG: number, densityKgM3: number | null = 250) => {
  const volumeMl = (massG: number | null) =>
    massG === null || densityKgM3 === null ? null : Math.round((massG / densityKgM3) * 1000);
  const massG = expectedG === null ? null : presentG - expectedG;
  return differenceWords('Chips', {
    ...{ materialCode: 'chips', fromDropOffs: false },
    expected: { massG: expectedG, volumeMl: expectedG === null ? 20_000 : volumeMl(expectedG) },
    present: { massG: presentG, volumeMl: volumeMl(presentG) },
    difference: {
      massG,
      volumeMl: volumeMl(massG),
      percent: expectedG && massG !== null ? (massG / expectedG) * 100 : null,
    },
  });
};

describe('what differs from a recipe', () => {
  it.each<[string, number, number, string]>([
    [
      'less',
      75_000,
      60_000,
      '60 kg (132 lb) went in where the recipe has 75 kg (165 lb), 15 kg (33 lb; about 60 L, 20 %) less.',
    ],
    [
      'more',
      40_000,
      52_000,
      '52 kg (115 lb) went in where the recipe has 40 kg (88 lb), 12 kg (26 lb; about 48 L, 30 %) more.',
    ],
    // 38.66 and 36.24 differ by 2.42; what is told of them differs by 2.5.
    [
      'told of what is told',
      38_660,
      36_240,
      '36.2 kg (80 lb) went in where the recipe has 38.7 kg (85 lb), 2.5 kg (5.5 lb; about 9.7 L, 6 %) less.',
    ],
    [
      'of heavy ones in whole kilograms',
      120_400,
      99_600,
      '100 kg (220 lb) went in where the recipe has 120 kg (265 lb), 20 kg (44 lb; about 83 L, 17 %) less.',
    ],
    [
      'not told where a scale cannot',
      61_000,
      60_000,
      '60 kg (132 lb) went in where the recipe has 61 kg (134 lb).',
    ],
    [
      'not told where nothing is seen of it',
      1_010,
      1_040,
      '1 kg (2.2 lb) went in where the recipe has 1 kg (2.2 lb).',
    ],
    [
      'all',
      5_000,
      0,
      'none went in where the recipe has 5 kg (11 lb), 5 kg (11 lb; about 20 L, 100 %) less.',
    ],
    ['without a share of nothing', 0, 5_000, '5 kg (11 lb) went in where the recipe has none.'],
  ])('is %s', (_, expectedG, presentG, text) => {
    expect(words(expectedG, presentG)).toBe(`Chips: ${text}`);
  });

  it('is not told in litres without a density, nor at all where the recipe is in litres', () => {
    expect(words(10_000, 8_000, null)).toBe(
      'Chips: 8 kg (18 lb) went in where the recipe has 10 kg (22 lb), 2 kg (4.4 lb; 20 %) less.',
    );
    expect(words(null, 3_000, null)).toBe(
      'Chips: 3 kg (6.6 lb) went in; the recipe has 20 L (5.3 gal), and without its density the two cannot be compared.',
    );
  });
});

describe('what lies in stock of a part', () => {
  const words = (needMl: number, thereMl: number | null, halves: number | null = null) =>
    stockWords(
      {
        expected: { massG: needMl / 4, volumeMl: needMl },
        inStock: thereMl === null ? null : { massG: thereMl / 4, volumeMl: thereMl },
      },
      halves === null ? null : { code: 'B1', volumeMl: 90_000, halves },
    );

  it('is told in the containers of the yard, and what is missing beside it', () => {
    expect(words(360_000, 90_000, 8)).toBe('1 lies there, 3 are missing');
    expect(words(360_000, 340_000, 8)).toBe('3½ lie there, ½ is missing');
    expect(words(360_000, 0, 8)).toBe('none lies there, 4 are missing');
    expect([words(360_000, 360_000, 8), words(360_000, 900_000, 8)]).toEqual([null, null]);
  });

  it('is told in litres or kilograms where there is no container, and not where nobody counted it', () => {
    expect(words(300_000, 90_000)).toBe('90 L (24 gal) lie there, 210 L (56 gal) are missing');
    expect(words(300_000, 0)).toBe('none lies there, 300 L (80 gal) are missing');
    expect([words(300_000, 300_000), words(300_000, null)]).toEqual([null, null]);
    const unseen = { expected: { massG: 9_000, volumeMl: null }, inStock: { massG: 4_000, volumeMl: null } };
    expect(stockWords(unseen, null)).toBe('4 kg (8.8 lb) lie there, 5 kg (12 lb) are missing');
    expect(stockWords({ ...unseen, inStock: { massG: null, volumeMl: 9 } }, null)).toBeNull();
  });
});
