import { gToUnit, kgOf, litresOf, mlToUnit } from '#libs/quantities';
import { type Dose, type Measure, startingMaterials } from '#libs/materials';

/** So much of a material, as it is measured out by hand; what is not known of it is null. */
export interface Portion {
  /** Of the material. */
  readonly name: string;
  readonly massG: number | null;
  readonly volumeMl: number | null;
  readonly measured: { readonly code: string; readonly volumeMl: number; readonly halves: number } | null;
}

/**
 * "5½ × barrow (90 L or 24 gal each) of wood chips", "40 L (11 gal) of water", "12 kg (27 lb) of wood ash": in containers
 * before litres before kilograms.
 */
export function portionWords({ name, massG, volumeMl, measured }: Portion): string {
  const what = inSentence(name);
  if (measured !== null) {
    const { metric, us } = volumeIn(measured.volumeMl, 'nearest');
    return `${halvesWords(measured.halves)} × ${measured.code} (${metric} or ${us} each) of ${what}`;
  }
  if (volumeMl !== null) return `${litresUp(volumeMl)} of ${what}`;
  return massG === null ? `an unknown amount of ${what}` : `${kgUp(massG)} of ${what}`;
}

/**
 * A dose that is not counted in containers: "458 L (121 gal) of leaves (mixed)", "27 kg (60 lb; about 115 L) of leaves
 * (mixed)". As finely as it was rounded, since a coarser one might miss a target.
 */
export function doseWords(name: string, { by, massG, volumeMl }: Dose): string {
  const what = inSentence(name);
  if (by === 'all') return `${volumeMl === null ? kgWords(massG) : litresWords(volumeMl)} of ${what}`;
  if (by === 'volume' && volumeMl !== null)
    return `${withUs(volumeIn(volumeMl, 'up', finerThanUsual(litresOf(volumeMl))), [])} of ${what}`;
  const wholeG = Math.ceil(massG);
  const asides = volumeMl === null ? [] : [`about ${volumeIn(volumeMl, 'nearest').metric}`];
  return `${withUs(massIn(wholeG, 'up', finerThanUsual(kgOf(wholeG))), asides)} of ${what}`;
}

function finerThanUsual(value: number): number {
  const decimals = String(value).split('.')[1]?.length ?? 0;
  return Math.max(0, decimals - (value >= 10 ? 0 : 1));
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

type Round = 'nearest' | 'up';

/** "458 L (121 gal)": whole from 10 on, below to a tenth. Further asides go into the same brackets: "106 kg (234 lb; about 445 L)". */
export const litresWords = (volumeMl: number, ...asides: string[]): string =>
  withUs(volumeIn(volumeMl, 'nearest'), asides);
export const kgWords = (massG: number, ...asides: string[]): string =>
  withUs(massIn(massG, 'nearest'), asides);

/** The same of what somebody is to fetch or measure out: rounded up, so that it does what it is for. */
export const litresUp = (volumeMl: number, ...asides: string[]): string =>
  withUs(volumeIn(volumeMl, 'up'), asides);
export const kgUp = (massG: number, ...asides: string[]): string => withUs(massIn(massG, 'up'), asides);

interface InBoth {
  readonly metric: string;
  readonly us: string;
}

const withUs = ({ metric, us }: InBoth, asides: readonly string[]): string =>
  `${metric} (${[us, ...asides].join('; ')})`;

/** In US units a volume is in gallons, and from a cubic yard on in yards to a hundredth. */
export function volumeIn(volumeMl: number, round: Round, finer = 0): InBoth {
  const whole = Math.round(volumeMl);
  const yards = mlToUnit(whole, 'yd3');
  const us =
    yards >= 1
      ? `${rounded(yards, round, (yards >= 10 ? 1 : 2) + finer)} yd³`
      : `${measurable(mlToUnit(whole, 'gal'), round, finer)} gal`;
  return { metric: `${measurable(litresOf(whole), round, finer)} L`, us };
}

export function massIn(massG: number, round: Round, finer = 0): InBoth {
  const whole = Math.round(massG);
  return {
    metric: `${measurable(kgOf(whole), round, finer)} kg`,
    us: `${measurable(gToUnit(whole, 'lb'), round, finer)} lb`,
  };
}

/** What a person can measure, or so many digits finer. */
function measurable(value: number, round: Round, finer: number): number {
  return rounded(value, round, (value >= 10 ? 0 : 1) + finer);
}

/** What is left of a conversion in the seventh digit is no reason to round up. */
function rounded(value: number, round: Round, decimals: number): number {
  const scaled = Number((value * 10 ** decimals).toFixed(6));
  return (round === 'up' ? Math.ceil(scaled) : Math.round(scaled)) / 10 ** decimals;
}

/** Names of the starting list are common nouns; one that a programme gave may be somebody's. */
const commonNames = new Set(startingMaterials.map(({ name }) => name));

/** The name of a material within a sentence: "Grass clippings, fresh" there is "grass clippings (fresh)". */
export function inSentence(name: string): string {
  const small = commonNames.has(name) ? name.charAt(0).toLowerCase() + name.slice(1) : name;
  return small.replace(/, (.*)$/, ' ($1)');
}
