import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { breakLines, printable } from '../../../libs/documents/pdf/letters.js';

/** Every letter one wide. */
const widthOf = (text: string): number => text.length;

describe('breakLines', () => {
  it('breaks at spaces and keeps the space, so that read out the words stay apart', () => {
    expect(breakLines('one two three four', 9, widthOf)).toEqual(['one two ', 'three ', 'four']);
    expect(breakLines('a\nb', 9, widthOf)).toEqual(['a ', 'b']);
  });

  it('breaks a word that no line can hold', () => {
    expect(breakLines('ab 0123456789 cd', 4, widthOf)).toEqual(['ab ', '0123', '4567', '89 ', 'cd']);
  });

  it('does not part a number from its unit', () => {
    expect(breakLines('heat it to 55 °C now', 13, widthOf)).toEqual(['heat it to ', '55 °C now']);
    expect(breakLines('it was 23 kg there', 9, widthOf)).toEqual(['it was ', '23 kg ', 'there']);
  });

  it('loses and adds nothing', () => {
    const words = fc.array(fc.stringMatching(/^[a-z]{1,12}$/), { minLength: 1 });
    fc.assert(
      fc.property(words, fc.integer({ min: 2, max: 30 }), (list, width) => {
        const lines = breakLines(list.join(' '), width, widthOf);
        expect(lines.join('')).toBe(list.join(' '));
        expect(lines.every((line) => line.trimEnd().length <= width)).toBe(true);
      }),
      { numRuns: 200 },
    );
  });
});

describe('printable', () => {
  const latin = (codePoint: number): boolean => codePoint < 0x250;

  it('marks letters the typeface lacks, one mark a letter', () => {
    expect(printable('café 漢字 😀', latin)).toBe('café \ufffd\ufffd \ufffd');
  });

  it('makes control characters harmless and line ends one kind', () => {
    expect(printable('é\u0000\u001b[31m\t!', latin)).toBe('é  [31m !');
    expect(printable('a\r\nb\rc\u2028d', latin)).toBe('a\nb\nc\nd');
  });

  it('does not split a lone surrogate into trouble', () => {
    expect(printable('é\ud800x', latin)).toBe('é\ufffdx');
  });
});
