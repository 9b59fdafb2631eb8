import type { Ask, MaterialFigures, WantedMaterial } from '#libs/materials';
import { inSentence, kgWords, listed, litresWords } from './portions.js';
import type { BatchServedDto } from './wanted.dto.js';

type Named = (code: string) => Pick<MaterialFigures, 'name' | 'traits'>;
type Served = readonly Pick<BatchServedDto, 'code' | 'state'>[];

const SPRAYED =
  'Please bring grass, hay, straw or manure only where you know that no weedkiller was used on it: some survive composting and harm gardens.';
const WOOD = 'Please bring wood only if it is unpainted and untreated.';

/** What to say to donors: what is asked for, and what to mind with it. `isServed`: no batch is left wanting or unjudged. */
export function wantedWords(
  siteName: string,
  { asks, isServed }: { asks: readonly Ask<unknown>[]; isServed: boolean },
  named: Named,
): string[] {
  if (asks.length === 0)
    return [`${siteName} ${isServed ? 'has what its batches need' : 'asks for nothing'} this week.`];
  const wanted = asks.flatMap(({ anyOf, allOf }) => [...anyOf, ...allOf]);
  const traits = new Set(wanted.flatMap(({ materialCode }) => named(materialCode).traits));
  return [
    ...asks.map((ask) => askWords(siteName, ask, named)),
    ...(traits.has('herbicide-risk') || traits.has('raw-manure') ? [SPRAYED] : []),
    ...(traits.has('wood-dust') ? [WOOD] : []),
  ];
}

/** What the crew has to know of the batches that donors cannot help: nobody is to think that they have what they need. */
export function crewWords(batches: Served, beyondHelp: readonly string[]): string[] {
  const inState = (wanted: BatchServedDto['state']) =>
    batches.filter(({ state }) => state === wanted).map(({ code }) => code);
  const said = (codes: readonly string[], what: string): string[] => codes.map((code) => `${code}: ${what}`);
  return [
    ...said(beyondHelp, 'nothing that may be asked for would bring it into range; see what to add to it.'),
    ...said(
      inState('contradictory'),
      'nothing can meet what is asked of it, since a target contradicts itself.',
    ),
    ...said(inState('unknown'), 'too little is known of what is in it to say what it lacks.'),
  ];
}

function askWords(siteName: string, { anyOf, allOf }: Ask<unknown>, named: Named): string {
  const words = (wanted: WantedMaterial) => amountWords(wanted, named(wanted.materialCode).name);
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
