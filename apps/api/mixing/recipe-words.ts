import type { ComparedPart } from '#libs/materials';
import { kgWords, litresWords } from './portions.js';

/** Below this a difference is what a scale and a barrow cannot tell. */
const FOLLOWED_PERCENT = 2;

/** "Wood chips: 60 kg went in where the recipe has 75 kg, 15 kg (about 60 L, 20 %) less." */
export function differenceWords(name: string, { expected, present, difference }: ComparedPart): string {
  const wentIn = `${name}: ${kgWords(present.massG)} went in`;
  if (expected.massG === null || difference.massG === null) {
    const has =
      expected.volumeMl === null
        ? 'what the recipe has is unknown'
        : `the recipe has ${litresWords(expected.volumeMl)}`;
    return `${wentIn}; ${has}, and without its density the two cannot be compared.`;
  }
  const where = `${wentIn} where the recipe has ${kgWords(expected.massG)}`;
  const { massG, volumeMl, percent } = difference;
  if (Math.abs(percent ?? (massG === 0 ? 0 : Infinity)) < FOLLOWED_PERCENT) return `${where}.`;
  const aside = [
    ...(volumeMl === null ? [] : [`about ${litresWords(Math.abs(volumeMl))}`]),
    ...(percent === null ? [] : [`${Math.round(Math.abs(percent))} %`]),
  ];
  const also = aside.length === 0 ? '' : ` (${aside.join(', ')})`;
  return `${where}, ${kgWords(Math.abs(massG))}${also} ${massG < 0 ? 'less' : 'more'}.`;
}
