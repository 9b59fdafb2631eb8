import type { MaterialFigure, Unmet } from '#libs/materials';
import type { PermitFacts } from '../sites/site-facts.service.js';
import type { AdditionsState, LeftOutDto } from './additions.dto.js';
import { figureWord, rangeWords } from './additions-words.js';
import type { Standing } from './asked.js';
import { figureNames } from './figure-names.js';
import { inSentence, listed } from './portions.js';

/** The answer in one or two sentences. */
export function summaryOf(
  { built, parts }: Pick<Standing, 'built' | 'parts'>,
  state: AdditionsState,
  steps: readonly string[],
): string {
  const { code, stage } = built.batch;
  const texts: Readonly<Record<AdditionsState, string>> = {
    'in-range': `${code} is in range: nothing needs to be added.`,
    found: `Add to ${code}: ${listed(steps, 'and')}.`,
    impossible: `What lies at the yard cannot bring ${code} into range.`,
    contradictory: 'Nothing can meet what is asked: a target contradicts itself.',
    unknown:
      parts.length === 0
        ? `Nothing has gone into ${code} yet.`
        : `Too little is known of what is in ${code} to say what to add.`,
    closed: `${code} is ${stage}: ${TAKES_INPUTS.has(stage) ? STILL_OPEN : 'nothing goes in any more.'}`,
  };
  return texts[state];
}

/** Of a batch that nothing obtainable brings into range: what of the targets stands in the way of what. */
export function beyondHelpWords(code: string, unmet: readonly Unmet[], permit: PermitFacts | null): string {
  const asked = [...new Set(unmet.flatMap(({ target, kept }) => [target, ...kept]))].map(
    (target) => `${figureWord(target.figure)} of ${rangeWords(target)}`,
  );
  const together = asked.length === 1 ? '' : ' together';
  const look = permit === null ? '' : ` Look at permit ${permit.reference}.`;
  return `No listed material brings ${code} into range, alone or with others: ${listed(asked, 'and')} cannot be met${together}.${look}`;
}

/** Besides `building`, in which it is not closed. */
const TAKES_INPUTS = new Set(['active']);

const STILL_OPEN =
  'what goes in now is no part of its mix, and raw material starts the clock of its process rule again.';

/** Why some stock was not reckoned with. */
export function leftOutWords(
  name: string,
  why: LeftOutDto['why'],
  missing: readonly MaterialFigure[],
): string {
  const what = inSentence(name);
  if (why === 'none-left') return `By the last count, no ${what} is left.`;
  if (why === 'not-listed') return `The permit does not list ${what}.`;
  const figures = listed(
    missing.map((figure) => figureNames[figure]),
    'and',
  );
  return `Of ${what}, ${figures} is not known: state it, or have it measured.`;
}
