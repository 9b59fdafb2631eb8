import { list } from './list.js';
import type { Sheet } from './sheet.js';
import { subheading } from './text.js';

const INDENT = 20;

/** Sources that many rows share: a row carries the number, and each text is printed once, at full width. */
export class Notes {
  private readonly texts: string[] = [];

  /** "[1] [3]" for two texts, and nothing for none; a text seen before keeps its number. */
  mark(texts: readonly string[]): string {
    const numbers = texts.map((text) => {
      const known = this.texts.indexOf(text);
      return known === -1 ? this.texts.push(text) : known + 1;
    });
    return [...new Set(numbers)].map((number) => `[${number}]`).join(' ');
  }

  /** The list of all texts marked so far; nothing where there are none. */
  print(sheet: Sheet, title: string): void {
    if (this.texts.length === 0) return;
    subheading(sheet, title);
    list(
      sheet,
      this.texts.map((text, index) => ({ label: `[${index + 1}]`, text })),
      INDENT,
    );
  }
}
