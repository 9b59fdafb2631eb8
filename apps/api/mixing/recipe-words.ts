import { type Amount, type ComparedPart, missingOf } from '#libs/materials';
import {
  halvesWords,
  kgUp,
  kgWords,
  litresUp,
  litresWords,
  massIn,
  type Portion,
  volumeIn,
} from './portions.js';

/** Below this a difference is what a scale and a barrow cannot tell. */
const FOLLOWED_PERCENT = 2;

/** "Wood chips: 60 kg (132 lb) went in where the recipe has 75 kg (165 lb), 15 kg (33 lb; about 60 L, 20 %) less." */
export function differenceWords(name: string, { expected, present, difference }: ComparedPart): string {
  if (expected.massG === null) {
    const has =
      expected.volumeMl === null
        ? 'what the recipe has is unknown'
        : `the recipe has ${litresWords(expected.volumeMl)}`;
    const wentIn = wordsOf(inSteps(present.massG, present.massG));
    return `${name}: ${wentIn} went in; ${has}, and without its density the two cannot be compared.`;
  }
  const most = Math.max(expected.massG, present.massG);
  const [hasG, wentInG] = [inSteps(expected.massG, most), inSteps(present.massG, most)];
  const where = `${name}: ${wordsOf(wentInG)} went in where the recipe has ${wordsOf(hasG)}`;
  // What is told of the difference is what the two told differ by, or the three would contradict each other.
  const differs = wentInG - hasG;
  const { volumeMl, percent } = difference;
  if (differs === 0 || percent === null || Math.abs(percent) < FOLLOWED_PERCENT) return `${where}.`;
  const litres = volumeMl === null ? '' : `about ${volumeIn(Math.abs(volumeMl), 'nearest').metric}, `;
  const share = `${litres}${Math.round(Math.abs(percent))} %`;
  return `${where}, ${wordsOf(Math.abs(differs), share)} ${differs < 0 ? 'less' : 'more'}.`;
}

/**
 * "1 lies there, 3 are missing": of what a recipe asks to take from stock. Null where all of it lies there, or nobody ever
 * counted it.
 */
export function stockWords(
  { expected, inStock }: { expected: Amount; inStock: Amount | null },
  measured: Portion['measured'],
): string | null {
  if (inStock === null) return null;
  const { massG, volumeMl } = missingOf(expected, inStock);
  if (measured !== null && inStock.volumeMl !== null) {
    const thereHalves = Math.min(measured.halves, Math.floor((inStock.volumeMl * 2) / measured.volumeMl));
    if (thereHalves === measured.halves) return null;
    return thereAndMissing(countOf(thereHalves), countOf(measured.halves - thereHalves));
  }
  if (volumeMl !== null && inStock.volumeMl !== null)
    return volumeMl === 0 ? null : amounts(inStock.volumeMl, volumeMl, [litresWords, litresUp]);
  if (massG !== null && inStock.massG !== null)
    return massG === 0 ? null : amounts(inStock.massG, massG, [kgWords, kgUp]);
  return null;
}

interface Said {
  readonly text: string;
  readonly isMany: boolean;
}

const NONE: Said = { text: 'none', isMany: false };

function countOf(halves: number): Said {
  return halves === 0 ? NONE : { text: halvesWords(halves), isMany: halves > 2 };
}

function amounts(
  there: number,
  missing: number,
  [words, wordsUp]: readonly [(amount: number) => string, (amount: number) => string],
): string {
  const lies = there === 0 ? NONE : { text: words(there), isMany: true };
  return thereAndMissing(lies, { text: wordsUp(missing), isMany: true });
}

function thereAndMissing(there: Said, missing: Said): string {
  const lies = there.isMany ? 'lie' : 'lies';
  return `${there.text} ${lies} there, ${missing.text} ${missing.isMany ? 'are' : 'is'} missing`;
}

/** To whole kilograms where the most of what is told is 100 kg or more; else to a tenth. */
function inSteps(massG: number, mostG: number): number {
  const stepG = mostG >= 100_000 ? 1000 : 100;
  return Math.round(massG / stepG) * stepG;
}

const wordsOf = (massG: number, ...asides: string[]): string =>
  massG === 0 ? 'none' : `${massG / 1000} kg (${[massIn(massG, 'nearest').us, ...asides].join('; ')})`;
