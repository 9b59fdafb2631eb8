import type { Ask, MaterialFigures, WantedMaterial } from '#libs/materials';
import { inSentence, kgUp, listed, litresUp, massIn } from './portions.js';
import type { BatchServedDto } from './wanted.dto.js';

type Named = (code: string) => Pick<MaterialFigures, 'name' | 'traits'>;
type Served = readonly Pick<BatchServedDto, 'code' | 'state'>[];

/** More alternatives than that nobody reads; of the rest the number is told. */
export const MOST_SHOWN = 6;

const SPRAYED =
  'Please bring grass, hay, straw or manure only where you know that no weedkiller was used on it: some survive composting and harm gardens.';
const WOOD = 'Please bring wood only if it is unpainted and untreated.';

/** What is asked for, of which batches, and those of them that nothing obtainable brings into range. */
export interface Told {
  readonly asks: readonly Ask<unknown>[];
  readonly batches: Served;
  readonly beyondHelp: readonly string[];
}

/** What to say to donors: what is asked for, what to mind with it, and which batches no gift would help. */
export function wantedWords(siteName: string, told: Told, named: Named): string[] {
  const { asks, batches, beyondHelp } = told;
  const wanted = asks.flatMap(({ anyOf, allOf }) => [...anyOf, ...allOf]);
  const traits = new Set(wanted.flatMap(({ materialCode }) => named(materialCode).traits));
  const unknown = inState(batches, 'unknown');
  const hopeless = [...beyondHelp, ...inState(batches, 'contradictory')];
  return [
    ...(asks.length === 0 ? [nothingWords(siteName, batches)] : []),
    ...asks.map((ask) => askWords(siteName, ask, named)),
    ...(hopeless.length === 0
      ? []
      : [`Nothing that donors could bring would put ${listed(hopeless, 'and')} into range.`]),
    ...(unknown.length === 0
      ? []
      : [`Too little is known of ${listed(unknown, 'and')} to say what to ask for.`]),
    ...(traits.has('herbicide-risk') || traits.has('raw-manure') ? [SPRAYED] : []),
    ...(traits.has('wood-dust') ? [WOOD] : []),
  ];
}

/** Why nothing is asked for. Where a batch is left wanting or unjudged, another sentence tells it. */
function nothingWords(siteName: string, batches: Served): string {
  const asksNothing = `${siteName} asks for nothing`;
  if (batches.length === 0) return `${asksNothing}: no batch is being built.`;
  const found = inState(batches, 'found');
  if (found.length + inState(batches, 'in-range').length < batches.length) return `${asksNothing} now.`;
  return found.length === 0
    ? `${asksNothing}: its batches are in range.`
    : `${asksNothing}: what its batches lack lies there.`;
}

/** What the crew has to know of the batches that donors cannot help: nobody is to think that they have what they need. */
export function crewWords(batches: Served, beyondHelp: readonly string[]): string[] {
  const said = (codes: readonly string[], what: string): string[] => codes.map((code) => `${code}: ${what}`);
  return [
    ...said(
      beyondHelp,
      'no listed material would bring it into range, alone or with others; see what to add to it, and look at the permit.',
    ),
    ...said(
      inState(batches, 'contradictory'),
      'nothing can meet what is asked of it, since a target contradicts itself.',
    ),
    ...said(inState(batches, 'unknown'), 'too little is known of what is in it to say what it lacks.'),
  ];
}

function inState(batches: Served, wanted: BatchServedDto['state']): string[] {
  return batches.filter(({ state }) => state === wanted).map(({ code }) => code);
}

function askWords(siteName: string, { anyOf, allOf }: Ask<unknown>, named: Named): string {
  const words = (wanted: WantedMaterial) => amountWords(wanted, named(wanted.materialCode).name);
  if (anyOf.length === 1) return `${siteName} asks for ${anyOf.map(words).join('')}.`;
  if (anyOf.length === 0)
    return `${siteName} asks for ${listed(allOf.map(words), 'and')}: it takes all of these together.`;
  const shown = anyOf.slice(0, MOST_SHOWN);
  const more = anyOf.length - shown.length;
  const others = more === 0 ? '' : `, and so would ${more} ${more === 1 ? 'other' : 'others'}`;
  return `${siteName} asks for ${listed(shown.map(words), 'or')}: any one of these would do${others}.`;
}

/** "about 150 L (40 gal; 30 kg, 67 lb) of leaves (mixed)". */
function amountWords({ massG, volumeMl }: WantedMaterial, name: string): string {
  const { metric, us } = massIn(massG, 'up');
  const amount = volumeMl === null ? kgUp(massG) : litresUp(volumeMl, `${metric}, ${us}`);
  return `about ${amount} of ${inSentence(name)}`;
}
