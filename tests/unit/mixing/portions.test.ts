import { describe, expect, it } from 'vitest';
import {
  doseWords,
  halvesWords,
  inSentence,
  kgUp,
  kgWords,
  listed,
  litresUp,
  litresWords,
  measuredIn,
  portionWords,
} from '../../../apps/api/mixing/portions.js';
import type { Dose } from '#libs/materials';
import { volumeToMl } from '#libs/quantities';
import { wantedWords } from '../../../apps/api/mixing/wanted-words.js';

const barrow = { code: 'barrow', volumeMl: 90_000 };
const chips = { name: 'Wood chips, hardwood', massG: 135_000, volumeMl: 540_000 };

describe('amounts in the words of a yard', () => {
  it('are in containers before litres before kilograms', () => {
    const words = (known: object) => portionWords({ ...chips, measured: null, ...known });
    expect(words({ measured: measuredIn(barrow, 540_000) })).toBe(
      '6 × barrow (90 L or 24 gal each) of wood chips (hardwood)',
    );
    expect(words({ measured: measuredIn(barrow, 500_000) })).toBe(
      '5½ × barrow (90 L or 24 gal each) of wood chips (hardwood)',
    );
    expect(words({})).toBe('540 L (143 gal) of wood chips (hardwood)');
    expect(words({ volumeMl: null })).toBe('135 kg (298 lb) of wood chips (hardwood)');
    expect(words({ volumeMl: null, massG: null })).toBe('an unknown amount of wood chips (hardwood)');
  });

  it('are in litres where they come to less than half a container', () => {
    expect(measuredIn(barrow, 20_000)).toBeNull();
    expect(measuredIn(barrow, 23_000)).toMatchObject({ halves: 1 });
    expect(measuredIn(null, 20_000)).toBeNull();
    expect(measuredIn(barrow, null)).toBeNull();
  });

  it.each([
    [1, '½'],
    [2, '1'],
    [11, '5½'],
    [12, '6'],
  ])('%i halves are %s', (halves, words) => {
    expect(halvesWords(halves)).toBe(words);
  });

  it('are told no closer than a person measures, in US units too', () => {
    expect([litresWords(40_000), litresWords(10_499), litresWords(9_960), litresWords(250)]).toEqual([
      ...['40 L (11 gal)', '10 L (2.8 gal)', '10 L (2.6 gal)', '0.3 L (0.1 gal)'],
    ]);
    // A cubic yard is 764.55 L.
    expect([litresWords(764_000), litresWords(2_070_000), litresWords(9_000_000)]).toEqual([
      ...['764 L (202 gal)', '2070 L (2.71 yd³)', '9000 L (11.8 yd³)'],
    ]);
    expect([kgWords(81_400), kgWords(9_940), kgWords(49)]).toEqual([
      ...['81 kg (179 lb)', '9.9 kg (22 lb)', '0 kg (0.1 lb)'],
    ]);
    expect(kgWords(30_000, 'about 120 L')).toBe('30 kg (66 lb; about 120 L)');
  });

  it('are doses as finely as these were rounded', () => {
    const words = (by: Dose['by'], massG: number, volumeMl: number | null) =>
      doseWords('Leaves, mixed', { by, halves: null, massG, volumeMl });
    expect(words('volume', 106_000, 458_000)).toBe('458 L (121 gal) of leaves (mixed)');
    expect(words('volume', 106_000, 458_300)).toBe('458.3 L (121.1 gal) of leaves (mixed)');
    expect(words('volume', 1_000, 4_320)).toBe('4.32 L (1.15 gal) of leaves (mixed)');
    expect(words('mass', 27_000, 115_300)).toBe('27 kg (60 lb; about 115 L) of leaves (mixed)');
    expect(words('mass', 27_040, null)).toBe('27.04 kg (59.62 lb) of leaves (mixed)');
    expect(words('all', 27_040, 115_300)).toBe('115 L (30 gal) of leaves (mixed)');
  });

  it('are rounded up where they are to be fetched, in both units', () => {
    // 359.435 L are 94.95 gal; 360 L and 95 gal are both enough.
    expect([litresUp(359_435), litresUp(10_000), litresUp(9_910)]).toEqual([
      ...['360 L (95 gal)', '10 L (2.7 gal)', '10 L (2.7 gal)'],
    ]);
    // 30.0 kg are 66.1 lb.
    expect([kgUp(30_000), kgUp(30_001), kgUp(120)]).toEqual([
      ...['30 kg (67 lb)', '31 kg (67 lb)', '0.2 kg (0.3 lb)'],
    ]);
    const exact = litresUp(volumeToMl({ value: 25, unit: 'gal' }));
    expect(exact).toBe('95 L (25 gal)');
  });

  it('name materials as a sentence does, and leave alone what a programme named', () => {
    expect(inSentence('Wood ash')).toBe('wood ash');
    expect(inSentence('Grass clippings, fresh')).toBe('grass clippings (fresh)');
    expect(inSentence('McKay farm straw')).toBe('McKay farm straw');
    expect(inSentence('Wilson hay, baled')).toBe('Wilson hay (baled)');
    expect(listed(['a', 'b', 'c'], 'or')).toBe('a, b or c');
    expect([listed(['a'], 'and'), listed([], 'and')]).toEqual(['a', '']);
  });
});

describe('what donors are told', () => {
  const some = (materialCode: string, massG: number) => ({ materialCode, massG, volumeMl: massG * 2 });
  const ask = (anyOf: ReturnType<typeof some>[], allOf: ReturnType<typeof some>[] = []) => ({
    ...{ keys: ['A'], anyOf, allOf },
  });
  const known = (traits: Record<string, 'herbicide-risk' | 'wood-dust'>) => (code: string) => ({
    ...{ name: `Some ${code}`, traits: traits[code] ? [traits[code]] : [] },
  });
  type Served = Parameters<typeof wantedWords>[1]['batches'];
  const told = (
    asks: ReturnType<typeof ask>[],
    {
      traits = {},
      batches = [],
      beyondHelp = [],
    }: { traits?: object; batches?: Served; beyondHelp?: string[] } = {},
  ) => wantedWords('Mallow Bank', { asks, batches, beyondHelp }, known(traits as Record<string, never>));

  it('is one thing, any of some, or all of some', () => {
    expect(told([ask([some('leaves', 20_000)])])).toEqual([
      'Mallow Bank asks for about 40 L (11 gal; 20 kg, 45 lb) of Some leaves.',
    ]);
    expect(told([ask([some('leaves', 20_000), some('hay', 30_000)])])[0]).toContain(
      'or about 60 L (16 gal; 30 kg, 67 lb) of Some hay: any one of these would do.',
    );
    expect(told([ask([], [some('leaves', 20_000), some('hay', 30_000)])])[0]).toContain(
      'and about 60 L (16 gal; 30 kg, 67 lb) of Some hay: it takes all of these together.',
    );
  });

  it('names six, and tells how many others would do', () => {
    const kinds = Array.from({ length: 8 }, (_, index) => some(`kind ${index}`, 20_000));
    const [text] = told([ask(kinds)]);
    expect(text).toMatch(/kind 5: any one of these would do, and so would 2 others\.$/);
    expect(text).not.toContain('kind 6');
    expect(told([ask(kinds.slice(0, 7))])[0]).toMatch(/and so would 1 other\.$/);
  });

  it('minds weedkiller and painted wood, once each and only where they are asked for', () => {
    const asks = [ask([some('hay', 1), some('chips', 2)]), ask([some('hay', 3)])];
    const words = told(asks, { traits: { hay: 'herbicide-risk', chips: 'wood-dust' } });
    expect(words.slice(2)).toEqual([
      expect.stringContaining('weedkiller'),
      expect.stringContaining('unpainted'),
    ]);
    expect(told(asks)).toHaveLength(2);
  });

  it('says why nothing is asked for', () => {
    const [met, stocked] = [
      { code: 'A', state: 'in-range' },
      { code: 'B', state: 'found' },
    ] as const;
    expect(told([])).toEqual(['Mallow Bank asks for nothing: no batch is being built.']);
    expect(told([], { batches: [met] })).toEqual(['Mallow Bank asks for nothing: its batches are in range.']);
    expect(told([], { batches: [met, stocked] })).toEqual([
      'Mallow Bank asks for nothing: what its batches lack lies there.',
    ]);
    const dark = { code: 'C', state: 'unknown' } as const;
    expect(told([], { batches: [stocked, dark] })).toEqual([
      'Mallow Bank asks for nothing now.',
      'Too little is known of C to say what to ask for.',
    ]);
  });

  it('tells of batches that no gift would help, beside what is asked for the others', () => {
    const batches = [
      { code: 'A', state: 'impossible' },
      { code: 'B', state: 'contradictory' },
      { code: 'C', state: 'impossible' },
    ] as const;
    const words = told([ask([some('leaves', 20_000)])], { batches, beyondHelp: ['C'] });
    expect(words).toEqual([
      expect.stringContaining('asks for about 40 L'),
      'Nothing that donors could bring would put C and B into range.',
    ]);
  });
});
