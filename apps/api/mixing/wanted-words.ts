import type { Ask, MaterialFigures, WantedMaterial } from '#libs/materials';
import { inSentence, kgWords, listed, litresWords } from './portions.js';

type Known = Pick<MaterialFigures, 'name' | 'traits'>;

const SPRAYED =
  'Please bring grass, hay, straw or manure only where you know that no weedkiller was used on it: some survive composting and harm gardens.';
const WOOD = 'Please bring wood only if it is unpainted and untreated.';

/** What to say to donors: what is asked for, and what to mind with it. `isServed`: no batch is left wanting or unjudged. */
export function wantedWords(
  siteName: string,
  { asks, isServed }: { asks: readonly Ask<unknown>[]; isServed: boolean },
  knownOf: (code: string) => Known,
): string[] {
  if (asks.length === 0)
    return [`${siteName} ${isServed ? 'has what its batches need' : 'asks for nothing'} this week.`];
  const named = asks.flatMap(({ anyOf, allOf }) => [...anyOf, ...allOf]);
  const traits = new Set(named.flatMap(({ materialCode }) => knownOf(materialCode).traits));
  return [
    ...asks.map((ask) => askWords(siteName, ask, knownOf)),
    ...(traits.has('herbicide-risk') || traits.has('raw-manure') ? [SPRAYED] : []),
    ...(traits.has('wood-dust') ? [WOOD] : []),
  ];
}

function askWords(
  siteName: string,
  { anyOf, allOf }: Ask<unknown>,
  knownOf: (code: string) => Known,
): string {
  const words = (wanted: WantedMaterial) => amountWords(wanted, knownOf(wanted.materialCode).name);
  if (anyOf.length === 1) return `${siteName} asks this week for ${anyOf.map(words).join('')}.`;
  return anyOf.length > 0
    ? `${siteName} asks this week for ${listed(anyOf.map(words), 'or')}: any one of these would do.`
    : `${siteName} asks this week for ${listed(allOf.map(words), 'and')}: it takes all of these together.`;
}

function amountWords({ massG, volumeMl }: WantedMaterial, name: string): string {
  const mass = kgWords(massG);
  const amount = volumeMl === null ? `about ${mass}` : `about ${litresWords(volumeMl)} (${mass})`;
  return `${amount} of ${inSentence(name)}`;
}
