import type { CsvCell } from '../csv.js';

export interface CsvLine {
  section: string;
  key: string;
  label: string;
  figure: string;
  value: CsvCell;
  unit: string;
}

export const line = (
  section: string,
  key: string,
  label: string,
  figure: string,
  value: CsvCell,
  unit = '',
): CsvLine => ({ section, key, label, figure, value, unit });

/** A line for each text, named as its member. */
export const textLines = (
  section: string,
  key: string,
  label: string,
  texts: Readonly<Record<string, string>>,
): CsvLine[] => Object.entries(texts).map(([figure, text]) => line(section, key, label, figure, text));

/** Members that end in a unit, and what the unit is called. */
const UNITS = { Kg: 'kg', L: 'L', TCo2e: 't CO2e' } as const;
const NAMED = /^(.+?)(Kg|L|TCo2e)$/;

/** A line for each number of an object: "weighedKg" becomes the figure "weighed" in kg, "lots" is a count. */
export function numberLines(section: string, key: string, label: string, numbers: object): CsvLine[] {
  return Object.entries(numbers)
    .filter((entry): entry is [string, number | null] => entry[1] === null || typeof entry[1] === 'number')
    .map(([member, value]) => {
      const [, figure = member, unit] = NAMED.exec(member) ?? [];
      return line(section, key, label, figure, value, unit ? UNITS[unit as keyof typeof UNITS] : '');
    });
}
