import { describe, expect, it } from 'vitest';
import type { MixTarget } from '#libs/materials';
import { beyondHelpWords } from '../../../apps/api/mixing/additions-summary.js';
import { bayWords, unmetWords } from '../../../apps/api/mixing/additions-words.js';

const target = (min: number | null, max: number | null): MixTarget => ({
  ...{ figure: 'moisturePercent', grade: 'permit', min, max },
  source: 'Permit HS-1',
});

describe('how near a figure comes', () => {
  it.each<[MixTarget, number, string]>([
    // 60.02 is 60 to a tenth, which is asked.
    [
      target(null, 60),
      60.02,
      'Moisture comes to 60.1 % at the nearest, and at most 60 % is asked (Permit HS-1).',
    ],
    [
      target(45, 60),
      44.98,
      'Moisture comes to 44.9 % at the nearest, and 45 to 60 % is asked (Permit HS-1).',
    ],
    [
      target(45, null),
      44,
      'Moisture comes to 44 % at the nearest, and at least 45 % is asked (Permit HS-1).',
    ],
    [
      target(null, 60),
      80 + 1e-9,
      'Moisture comes to 80 % at the nearest, and at most 60 % is asked (Permit HS-1).',
    ],
  ])('is never told as what is asked: %j at %d', (asked, nearest, text) => {
    expect(unmetWords({ target: asked, nearest, kept: [] })).toBe(text);
  });
});

describe('what is kept', () => {
  const ratio = (min: number | null, max: number | null): MixTarget => ({
    ...{ ...target(min, max), figure: 'carbonToNitrogen' },
  });

  it('is told with how near a figure comes beside it', () => {
    const told = (kept: MixTarget[]) => unmetWords({ target: target(null, 30), nearest: 61, kept });
    expect(told([ratio(null, 16)])).toBe(
      'Moisture comes to 61 % at the nearest while C:N is kept at most 16, and at most 30 % is asked (Permit HS-1).',
    );
    expect(told([ratio(20, 25)])).toContain('while C:N is kept at 20 to 25, and');
  });

  it('is all told where nothing that could be had would do', () => {
    const unmet = [{ target: target(null, 30), nearest: 61, kept: [ratio(null, 16)] }];
    expect(beyondHelpWords('HS-1', unmet, null)).toBe(
      'No listed material brings HS-1 into range, alone or with others: moisture of at most 30 % and C:N of at most 16 cannot be met together.',
    );
    const alone = [{ ...unmet[0]!, kept: [] }];
    expect(beyondHelpWords('HS-1', alone, { reference: 'HP-9' } as never)).toMatch(
      /: moisture of at most 30 % cannot be met\. Look at permit HP-9\.$/,
    );
  });
});

describe('a bay that is too small', () => {
  const bay = { id: '', siteId: '', code: 'A1', capacityMl: 400_000 };

  it('is told of where the numbers told differ', () => {
    expect(bayWords(450_000, bay)[0]).toContain('come to 450 L (119 gal), and bay A1 holds 400 L (106 gal)');
    expect(bayWords(400_300, bay)).toEqual([]);
    expect(bayWords(399_000, bay)).toEqual([]);
    expect(bayWords(null, bay)).toEqual([]);
    expect(bayWords(450_000, { ...bay, capacityMl: null })).toEqual([]);
  });
});
