import type { Entered } from '#libs/documents';
import { celsiusOf } from '#libs/quantities';

export const iso = (at: Date): string => at.toISOString();

export const isoOf = (ms: number | null): string | null => (ms === null ? null : new Date(ms).toISOString());

/** The quantity that was typed, where there was one. */
export function typed(...quantities: ({ value: number; unit: string } | undefined)[]): Entered | null {
  const quantity = quantities.find((one) => one !== undefined);
  return quantity ? { value: quantity.value, unit: quantity.unit } : null;
}

/** "W. A." of "Wren Alder": a record that is handed on shows no full names but the signature's. */
export function initialsOf(displayName: string | undefined): string {
  const words = (displayName ?? '').split(/\s+/).filter((word) => word !== '');
  return words.length === 0
    ? '?'
    : words.map((word) => `${String.fromCodePoint(word.codePointAt(0) ?? 63).toUpperCase()}.`).join(' ');
}

/** A mean of probes has more decimals than a probe shows: rounded down, so that it never seems to reach a threshold. */
export const celsius = (deciC: number | null): number | null =>
  deciC === null ? null : celsiusOf(Math.floor(deciC));

/** Rounded down: a credit is never printed as more than it is. */
export const tenth = (figure: number): number => Math.floor(figure * 10 + 1e-9) / 10;
