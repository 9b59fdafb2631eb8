import { formatMass, litresOf } from '#libs/quantities';
import type { Measure } from '#libs/materials';

/** So much of a material, as it is measured out by hand; what is not known of it is null. */
export interface Portion {
  /** Of the material. */
  readonly name: string;
  readonly massG: number | null;
  readonly volumeMl: number | null;
  readonly measured: { readonly code: string; readonly volumeMl: number; readonly halves: number } | null;
}

/** "5½ × barrow (90 L each) of wood chips", "40 L of water", "12.3 kg of wood ash": in containers before litres before kilograms. */
export function portionWords({ name, massG, volumeMl, measured }: Portion): string {
  const what = inSentence(name);
  if (measured !== null) {
    return `${halvesWords(measured.halves)} × ${measured.code} (${litresWords(measured.volumeMl)} each) of ${what}`;
  }
  if (volumeMl !== null) return `${litresWords(volumeMl)} of ${what}`;
  return massG === null ? `an unknown amount of ${what}` : `${kgWords(massG)} of ${what}`;
}

/** Half containers, to the nearest; null without a container or a volume, and of what would be none. */
export function measuredIn(measure: Measure | null, volumeMl: number | null): Portion['measured'] {
  if (measure === null || volumeMl === null) return null;
  const halves = Math.round((volumeMl * 2) / measure.volumeMl);
  return halves === 0 ? null : { ...measure, halves };
}

/** "a, b or c": words in a row, the last two joined by the word given. */
export function listed(words: readonly string[], joint: 'and' | 'or'): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} ${joint} ${words.at(-1) ?? ''}`;
}

export function halvesWords(halves: number): string {
  const whole = Math.floor(halves / 2);
  if (halves % 2 === 0) return String(whole);
  return whole === 0 ? '½' : `${whole}½`;
}

/** Whole litres from 10 L on; below, to a tenth. */
export function litresWords(volumeMl: number): string {
  const litres = litresOf(Math.round(volumeMl));
  return `${litres >= 10 ? Math.round(litres) : Math.round(litres * 10) / 10} L`;
}

/** Whole kilograms from 10 kg on; below, to a tenth. */
export function kgWords(massG: number): string {
  return `${formatMass(massG, 'kg', massG >= 10_000 ? 0 : 1)} kg`;
}

/** The name of a material within a sentence: "Grass clippings, fresh" there is "grass clippings (fresh)". */
export function inSentence(name: string): string {
  const [first = '', second = ''] = name;
  const small = second === second.toLowerCase() ? first.toLowerCase() + name.slice(first.length) : name;
  return small.replace(/, (.*)$/, ' ($1)');
}
