import { describe, expect, it } from 'vitest';
import {
  halvesWords,
  inSentence,
  kgWords,
  listed,
  litresWords,
  measuredIn,
  portionWords,
} from '../../../apps/api/mixing/portions.js';
import { wantedWords } from '../../../apps/api/mixing/wanted-words.js';

const barrow = { code: 'barrow', volumeMl: 90_000 };
const chips = { name: 'Wood chips', massG: 135_000, volumeMl: 540_000 };

describe('amounts in the words of a yard', () => {
  it('are in containers before litres before kilograms', () => {
    const words = (known: object) => portionWords({ ...chips, measured: null, ...known });
    expect(words({ measured: measuredIn(barrow, 540_000) })).toBe('6 × barrow (90 L each) of wood chips');
    expect(words({ measured: measuredIn(barrow, 500_000) })).toBe('5½ × barrow (90 L each) of wood chips');
    expect(words({})).toBe('540 L of wood chips');
    expect(words({ volumeMl: null })).toBe('135 kg of wood chips');
    expect(words({ volumeMl: null, massG: null })).toBe('an unknown amount of wood chips');
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

  it('are told no closer than a person measures', () => {
    expect([litresWords(40_000), litresWords(10_499), litresWords(9_960), litresWords(250)]).toEqual([
      ...['40 L', '10 L', '10 L', '0.3 L'],
    ]);
    expect([kgWords(81_400), kgWords(9_940), kgWords(49)]).toEqual(['81 kg', '9.9 kg', '0.0 kg']);
  });

  it('name materials as a sentence does', () => {
    expect(inSentence('Wood chips')).toBe('wood chips');
    expect(inSentence('Grass clippings, fresh')).toBe('grass clippings (fresh)');
    expect(inSentence('SBR sludge')).toBe('SBR sludge');
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
  const told = (asks: ReturnType<typeof ask>[], traits = {}, isServed = false) =>
    wantedWords('Mallow Bank', { asks, isServed }, known(traits));

  it('is one thing, any of some, or all of some', () => {
    expect(told([ask([some('leaves', 20_000)])])).toEqual([
      'Mallow Bank asks this week for about 40 L (20 kg) of some leaves.',
    ]);
    expect(told([ask([some('leaves', 20_000), some('hay', 30_000)])])[0]).toContain(
      'or about 60 L (30 kg) of some hay: any one of these would do.',
    );
    expect(told([ask([], [some('leaves', 20_000), some('hay', 30_000)])])[0]).toContain(
      'and about 60 L (30 kg) of some hay: it takes all of these together.',
    );
  });

  it('minds weedkiller and painted wood, once each and only where they are asked for', () => {
    const asks = [ask([some('hay', 1), some('chips', 2)]), ask([some('hay', 3)])];
    const words = told(asks, { hay: 'herbicide-risk', chips: 'wood-dust' });
    expect(words.slice(2)).toEqual([
      expect.stringContaining('weedkiller'),
      expect.stringContaining('unpainted'),
    ]);
    expect(told(asks)).toHaveLength(2);
  });

  it('claims that a yard has enough only where every batch is served', () => {
    expect(told([], {}, true)).toEqual(['Mallow Bank has what its batches need this week.']);
    expect(told([])).toEqual(['Mallow Bank asks for nothing this week.']);
  });
});
