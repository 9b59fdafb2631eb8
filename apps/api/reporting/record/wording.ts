import type { Entered } from '#libs/documents';

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
