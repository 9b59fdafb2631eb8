import {
  type AdditionsAnswer,
  type MaterialFigures,
  mixOf,
  type MixPart,
  targetStanding,
} from '#libs/materials';
import { sumG } from '#libs/quantities';
import type { BayFacts } from '../sites/site-facts.service.js';
import { bayWords, figureList, LIFTING, MASK, SQUEEZE } from './additions-words.js';
import type { Asked, Named } from './asked.js';
import { inSentence, kgWords, listed } from './portions.js';

/** Above this somebody carries more than one load: the load constant of the NIOSH lifting equation. */
const ONE_LOAD_G = 23_000;

/** What else to know: of the figures first, then of the work. */
export function notesOn(
  { built, question, contradicted }: Asked,
  answer: AdditionsAnswer,
  added: readonly MixPart[],
  { bay, named }: { bay: BayFacts | null; named: Named },
): string[] {
  const { notJudged, missedMeasured, costUnknown, afterMeasured } = answer;
  const unsure = question.targets.filter(
    (target) => afterMeasured !== null && !targetStanding(target, afterMeasured).sure,
  );
  return [
    ...contradicted.map(
      ({ material, detail }) =>
        `Some figures of ${inSentence(named(material).name)} are not used: ${detail}.`,
    ),
    ...partlyKnown(question.parts),
    ...(notJudged.length === 0 || question.parts.length === 0
      ? []
      : [
          `Nothing is known of ${figureList(notJudged)} in ${built.batch.code}: what is asked of that was not reckoned with.`,
        ]),
    ...(missedMeasured.length === 0
      ? []
      : [`Half containers are too coarse for ${figureList(missedMeasured)}: weigh it out.`]),
    ...(question.leastBy === 'cost' && costUnknown.length > 0
      ? [`Counted as free, since no cost is stated: ${namesOf(costUnknown.map(named))}.`]
      : []),
    ...(unsure.length === 0
      ? []
      : [
          `Within the ranges of the materials, ${figureList(unsure.map(({ figure }) => figure))} may still lie outside.`,
        ]),
    ...bayWords(afterMeasured?.volumeMl ?? null, bay),
    ...workNotes(added),
  ];
}

/** What was reckoned without some of the mass says so. */
function partlyKnown(parts: readonly MixPart[]): string[] {
  const { missing, massG } = mixOf(parts);
  const codes = new Set(missing.map(({ materialCode }) => materialCode));
  if (codes.size === 0) return [];
  const unknown = parts.filter(({ material }) => codes.has(material.code));
  const names = namesOf(unknown.map(({ material }) => material));
  const unknownG = sumG(unknown.map((part) => part.massG));
  return [
    `Of ${names}, ${kgWords(unknownG)} of the ${kgWords(massG)}, some figure is unknown: the rest stands for it.`,
  ];
}

const namesOf = (materials: readonly MaterialFigures[]): string =>
  listed(
    materials.map(({ name }) => inSentence(name)),
    'and',
  );

function workNotes(added: readonly MixPart[]): string[] {
  const dusty = added.some(
    ({ material: { class: kind, traits } }) => kind === 'carbon' || traits.includes('wood-dust'),
  );
  const wet = added.some(({ material }) => material.kind === 'water');
  const heavy = added.some(({ material, massG }) => material.kind !== 'water' && massG > ONE_LOAD_G);
  return [...(dusty ? [MASK] : []), ...(heavy ? [LIFTING] : []), ...(wet ? [SQUEEZE] : [])];
}
