const REPLACEMENT = '\ufffd';
/** Every Latin text face has these. */
const COMMON = /^[ -~]*$/;
const LINE_END = /\r\n|[\r\n\u2028\u2029]/g;
// eslint-disable-next-line no-control-regex -- control characters are exactly what is meant
const CONTROL = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/g;

/**
 * The text as a typeface can show it: line ends as \n, control characters as spaces, and a replacement mark for
 * every character it has no glyph for (PDF/A forbids showing the missing glyph).
 */
export function printable(text: string, hasGlyph: (codePoint: number) => boolean): string {
  if (COMMON.test(text)) return text;
  const clean = text.replaceAll(LINE_END, '\n').replaceAll(CONTROL, ' ');
  let shown = '';
  for (const letter of clean) {
    shown += letter === '\n' || hasGlyph(letter.codePointAt(0) ?? 0) ? letter : REPLACEMENT;
  }
  return shown;
}

/** A space to break a line at: any but the one between a number and its unit. */
const BREAK = /(?<!\d) | (?!°|%|(?:g|kg|lb|t|L|gal|cm|mm|in|hours?|days?)\b)/;

/**
 * Greedy line breaking at spaces; a word wider than the line is broken where it must be. A line that ended at a
 * space keeps it, so that the words of two lines do not run together when the text is read out or copied.
 */
export function breakLines(text: string, width: number, widthOf: (part: string) => number): string[] {
  const paragraphs = text.split('\n').map((paragraph) => breakParagraph(paragraph, width, widthOf));
  return paragraphs.flatMap((lines, index) => {
    const last = lines.pop() ?? '';
    return [...lines, index < paragraphs.length - 1 ? `${last} ` : last];
  });
}

function breakParagraph(text: string, width: number, widthOf: (part: string) => number): string[] {
  if (widthOf(text) <= width) return [text];
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(BREAK)) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (widthOf(longer) <= width) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(`${line} `);
    const pieces = breakWord(word, width, widthOf);
    line = pieces.pop() ?? '';
    lines.push(...pieces);
  }
  return [...lines, line];
}

function breakWord(word: string, width: number, widthOf: (part: string) => number): string[] {
  if (widthOf(word) <= width) return [word];
  const pieces: string[] = [];
  let piece = '';
  for (const letter of word) {
    if (piece !== '' && widthOf(piece + letter) > width) {
      pieces.push(piece);
      piece = '';
    }
    piece += letter;
  }
  return [...pieces, piece];
}
