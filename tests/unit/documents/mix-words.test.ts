import { describe, expect, it } from 'vitest';
import { laterInWords, sourcesInWords } from '../../../libs/documents/batch-record/mix-words.js';
import { signedRecord } from './example.js';

describe('sources in a sentence', () => {
  it('name one publication once, with its places', () => {
    const sources = [
      'Permit 4',
      'Bulletin 9',
      'Bulletin 9: 8–12 lb',
      'Bulletin 9: below 11 lb',
      'Bulletin 9',
    ];
    expect(sourcesInWords(sources)).toBe('Permit 4; Bulletin 9 (8–12 lb; below 11 lb)');
    expect(sourcesInWords([])).toBe('');
  });
});

describe('what went in after the mix was made', () => {
  const record = signedRecord();
  const { mix, balance } = record;
  const of = (inputKg: number, figuresAsOf: string | null) =>
    laterInWords({
      mix: mix && { ...mix, massKg: 800, figuresAsOf },
      balance: balance && { ...balance, inputKg },
    });

  it('is told where more went in than the mix weighs', () => {
    expect(of(875.7, '2024-05-09T00:00:00Z')).toMatch(
      /^In the mass balance 875\.7 kg went in: .+ not of the mix\.$/,
    );
  });

  it('is not told of a batch that is built, nor where nothing came later', () => {
    expect(of(875.7, null)).toBeNull();
    expect(of(800, '2024-05-09T00:00:00Z')).toBeNull();
    expect(laterInWords({ mix: null, balance })).toBeNull();
    expect(laterInWords({ mix, balance: null })).toBeNull();
  });
});
