import type { Entered } from '#libs/documents';
import { celsiusOf } from '#libs/quantities';

export const iso = (at: Date): string => at.toISOString();

export const isoOf = (ms: number | null): string | null => (ms === null ? null : new Date(ms).toISOString());

/** The quantity that was typed, where there was one. */
export function typed(...quantities: ({ value: number; unit: string } | undefined)[]): Entered | null {
  const quantity = quantities.find((one) => one !== undefined);
  return quantity ? { value: quantity.value, unit: quantity.unit } : null;
}

/** A mean of probes has more decimals than a probe shows: rounded down, so that it never seems to reach a threshold. */
export const celsius = (deciC: number | null): number | null =>
  deciC === null ? null : celsiusOf(Math.floor(deciC));

/** Rounded down: a credit is never printed as more than it is. */
export const tenth = (figure: number): number => Math.floor(figure * 10 + 1e-9) / 10;
